package handbook

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/source"
)

func all() []Formula {
	var out []Formula
	for _, s := range Steps() {
		out = append(out, s.Formulas...)
	}
	return out
}

// Every formula says all that the page shows, and has the function it speaks of.
func TestEveryFormulaIsWhole(t *testing.T) {
	t.Parallel()
	if len(all()) < 60 {
		t.Fatalf("only %d formulas", len(all()))
	}
	for _, f := range all() {
		c := reflect.ValueOf(f.Contract)
		for i := range c.NumField() {
			if c.Field(i).String() == "" {
				t.Errorf("%s has no %s", f.Name, c.Type().Field(i).Name)
			}
		}
		if f.Means() == "" || f.Title() == "" || len(f.Sources()) == 0 {
			t.Errorf("%s: means %q, title %q, sources %v", f.Name, f.Means(), f.Title(), f.Sources())
		}
		if got, ok := Get(f.Name); !ok || got.Name != f.Name {
			t.Errorf("%s is not found by its name", f.Name)
		}
	}
}

// typical is a middle number by the unit of a type, as typed.
func typical(in Input) string {
	switch {
	case in.Options != nil:
		return in.Options[0]
	case in.Text:
		return "stack"
	case in.Range != nil:
		low, high := in.Range.Low, in.Range.High
		middle := (low + high) / 2
		if low > 0 {
			middle = math.Sqrt(low * high)
		}
		if in.Kind() == measure.OfPercent {
			middle *= 100
		}
		if in.Kind() == measure.OfCount || in.Unit(measure.Metric) == "loads" {
			middle = math.Round(middle)
		}
		return strconv.FormatFloat(middle, 'f', 6, 64) + " " + in.Unit(measure.Metric)
	}
	switch in.Kind() {
	case measure.OfPercent:
		return "30"
	case measure.OfPressure:
		return "100"
	case measure.OfNumber, measure.OfCount, measure.OfLength, measure.OfTemperature, measure.OfHours:
		return "20"
	case measure.OfArea, measure.OfAirflow:
		return "0.1"
	}
	return "100"
}

func typically(list []Input) map[string]string {
	out := map[string]string{}
	for _, in := range list {
		out[in.Key] = typical(in)
	}
	return out
}

// Whatever can be tried answers a middle number, a silly one and none with a
// number or a sentence, never with a defect; the working has the numbers.
func TestEveryFormulaCanBeTried(t *testing.T) {
	t.Parallel()
	tried, answered, worked := 0, 0, 0
	for _, f := range all() {
		list, ok := f.Inputs()
		if !ok {
			t.Logf("described only: %s", f.Name)
			continue
		}
		tried++
		keys := map[string]bool{}
		for _, in := range list {
			if in.Key == "" || keys[in.Key] || in.Label == "" {
				t.Errorf("%s: an input %+v", f.Name, in)
			}
			keys[in.Key] = true
		}
		a, err := f.Try(typically(list), measure.Metric)
		if fault.KindOf(err) == fault.KindInternal && err != nil {
			t.Errorf("%s: %v", f.Name, err)
		}
		if err == nil {
			answered++
			if a.Working != "" {
				worked++
			}
			for _, r := range a.Results {
				if r.Text == "" && !measure.Finite(measure.Number(r.Value)) {
					t.Errorf("%s returned %+v", f.Name, r)
				}
			}
		} else {
			t.Logf("%s: %v", f.Name, err)
		}
		for _, silly := range []string{"", "999999999999", "-1", "0", "many"} {
			typed := map[string]string{}
			for _, in := range list {
				typed[in.Key] = silly
			}
			if _, err := f.Try(typed, measure.US); err != nil && fault.KindOf(err) == fault.KindInternal {
				t.Errorf("%s of %q: %v", f.Name, silly, err)
			}
		}
	}
	t.Logf("%d of %d formulas can be tried; %d answer a middle number, %d with the working", tried, len(all()), answered, worked)
	if tried < len(all())*2/3 || answered < tried*2/3 {
		t.Errorf("%d of %d formulas can be tried, %d answer", tried, len(all()), answered)
	}
}

// One number out of range is told at its own field.
func TestFaultsStandAtTheirField(t *testing.T) {
	t.Parallel()
	right, wrong, nowhere := 0, 0, 0
	for _, f := range all() {
		list, ok := f.Inputs()
		if !ok {
			continue
		}
		typed := typically(list)
		if _, err := f.Try(typed, measure.Metric); err != nil {
			continue
		}
		for _, in := range list {
			if in.Text {
				continue
			}
			was := typed[in.Key]
			typed[in.Key] = "98765432109"
			_, err := f.Try(typed, measure.Metric)
			typed[in.Key] = was
			if err == nil {
				continue
			}
			switch got := fault.All(err)[0].Field; got {
			case in.Key:
				right++
			case "":
				nowhere++
				t.Logf("%s, %s: no field for %v", f.Name, in.Key, err)
			default:
				wrong++
				t.Logf("%s, %s: told at %s: %v", f.Name, in.Key, got, err)
			}
		}
	}
	t.Logf("%d at their field, %d at another, %d at none", right, wrong, nowhere)
	if total := right + wrong + nowhere; wrong*20 > total || right*10 < total*9 {
		t.Errorf("of %d faults %d stand at another field and %d at none", total, wrong, nowhere)
	}
}

func TestTryInEitherUnits(t *testing.T) {
	t.Parallel()
	f, _ := Get("vat.Consistency")
	metric, err := f.Try(map[string]string{"g": "100", "h": "25.4"}, measure.Metric)
	if err != nil {
		t.Fatal(err)
	}
	us, err := f.Try(map[string]string{"g": "100", "h": "1"}, measure.US)
	if err != nil || us.Results[0] != metric.Results[0] {
		t.Errorf("one inch gives %+v, 25.4 mm %+v; %v", us, metric, err)
	}
	if metric.Working != "c = 100 / 25.4 = 3.93701 g/L" {
		t.Errorf("the working is %q", metric.Working)
	}
	_, err = f.Try(map[string]string{"g": "thick", "h": ""}, measure.Metric)
	var list fault.List
	if !errors.As(err, &list) || len(list) != 2 || list[0].Field != "g" || list[1].Field != "h" {
		t.Errorf("two wrong fields are told as %v", err)
	}
}

func TestGlossary(t *testing.T) {
	t.Parallel()
	ids, ours := map[string]bool{}, 0
	for _, term := range Glossary() {
		if term.Word == "" || term.Meaning == "" || ids[term.ID()] || strings.Contains(term.ID(), " ") {
			t.Errorf("a term %+v, %s", term, term.ID())
		}
		ids[term.ID()] = true
		if term.Ours {
			ours++
		}
	}
	if len(ids) < 40 || ours < 5 || !ids["couching"] {
		t.Errorf("%d terms, %d ours", len(ids), ours)
	}
}

func TestCiting(t *testing.T) {
	t.Parallel()
	if len(Citing("ashrae-psychrometrics")) == 0 || len(Citing("hearsay")) != 0 {
		t.Error("who cites what is not known")
	}
	f, _ := Get("drying.HumidityRatio")
	if got := f.Sources(); len(got) != 1 || got[0].Grade != f.Grade() || f.Grade() == source.Memory {
		t.Errorf("sources %v, grade %v", got, f.Grade())
	}
}

// A number of the tables comes as one result with its band, in the unit the
// contract gives it; what is typed in per cent is refused in per cent.
func TestBandsAndPercent(t *testing.T) {
	t.Parallel()
	f, _ := Get("fibre.FreeShrinkageBand")
	a, err := f.Try(map[string]string{"f": "abaca", "hours": "4"}, measure.Metric)
	if err != nil || len(a.Results) != 1 {
		t.Fatalf("%+v, %v", a, err)
	}
	if r := a.Results[0]; r.Unit != "%" || !(r.Low > 1 && r.Low < r.Value && r.Value < r.High) || strings.Join(a.With, ", ") != "a fibre of the table abaca, hours = 4 h" {
		t.Errorf("%+v with %q", r, a.With)
	}
	f, _ = Get("drying.WetBulb")
	_, err = f.Try(map[string]string{"t": "20", "rh": "150", "p": "100"}, measure.Metric)
	if err == nil || !strings.Contains(err.Error(), "between 1 and 100 %; this says 150 %") {
		t.Errorf("150 %% is refused so: %v", err)
	}
}

func ExampleFormula_Try() {
	f, _ := Get("vat.Consistency")
	a, _ := f.Try(map[string]string{"g": "100", "h": "20"}, measure.Metric)
	fmt.Println(a.Working)
	// Output: c = 100 / 20 = 5 g/L
}
