package trouble

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// spans are the numbers a fact is drawn from where 0 to 1 would not reach both
// sides of its rules.
var spans = map[string][2]float64{
	"FibreLength": {0, 30}, "BeatingHours": {0, 12}, "CuredDays": {0, 60}, "WetHours": {0, 400}, "WetTemperature": {0, 30}, "MeshPerCm": {4, 40},
	"MouldDiagonals": {0, 5}, "Diagonals": {0, 8}, "Consistency": {0, 15}, "Crowding": {0, 150}, "VatTemperature": {2, 30}, "RechargeEvery": {0, 12},
	"Thinning": {0, 0.3}, "LateWeight": {-0.4, 0.4}, "WeightError": {-0.3, 0.3}, "MinutesASheet": {0.5, 30}, "Drain": {0, 3}, "Held": {0, 3}, "Shook": {0, 3},
	"Across": {-0.2, 0.2}, "Along": {-0.2, 0.2}, "Pulled": {20, 100}, "KissedOff": {0, 20}, "FirstBad": {0, 3}, "Wanted": {0, 60}, "SheetsInPost": {1, 40},
	"Pressure": {20, 1500}, "Solids": {0.1, 0.6}, "Grammage": {10, 400}, "DryHours": {1, 100},
}

// someFacts draws facts, each known or not; reflection, so that a fact added to
// the struct is drawn too.
func someFacts(t *rapid.T) Facts {
	var f Facts
	v := reflect.ValueOf(&f).Elem()
	for i := range v.NumField() {
		name, field := v.Type().Field(i).Name, v.Field(i)
		if !rapid.Bool().Draw(t, name+" known") {
			continue
		}
		switch {
		case name == "Fibres":
			f.Fibres = rapid.SliceOfN(rapid.SampledFrom([]string{"abaca", "kozo", "cotton rag", "linters"}), 1, 3).Draw(t, name)
		case name == "Drying":
			f.Drying = rapid.SampledFrom(Dryings()).Draw(t, name)
		default:
			span, ok := spans[name]
			if !ok {
				span = [2]float64{0, 1}
			}
			p := reflect.New(field.Type().Elem())
			switch p.Elem().Kind() {
			case reflect.Bool:
				p.Elem().SetBool(rapid.Bool().Draw(t, name))
			case reflect.Int:
				p.Elem().SetInt(int64(rapid.IntRange(int(span[0]), int(span[1])).Draw(t, name)))
			default:
				p.Elem().SetFloat(rapid.Float64Range(span[0], span[1]).Draw(t, name))
			}
			field.Set(p)
		}
	}
	return f
}

// Whatever is known, every cause is named once, with a fact where one speaks,
// those spoken for first; and the same facts bring the same answer.
func TestAnswers(t *testing.T) {
	t.Parallel()
	none := map[string]int{}
	for _, s := range Symptoms() {
		a, err := Ask(s.Key, Facts{})
		if err != nil || len(a.Causes) < 2 || len(a.Count) != 0 {
			t.Fatalf("%s: %d causes, %v", s.Key, len(a.Causes), err)
		}
		for _, c := range a.Causes {
			if c.Speaks != Open || c.Why != "" {
				t.Errorf("%s: nothing is known, and yet %s is %s: %s", s.Key, c.Rule, c.Speaks, c.Why)
			}
		}
		none[s.Key] = len(a.Causes)
	}
	rapid.Check(t, func(t *rapid.T) {
		f := someFacts(t)
		s := rapid.SampledFrom(Symptoms()).Draw(t, "symptom")
		a, err := Ask(s.Key, f)
		again, err2 := Ask(s.Key, f)
		if err != nil || err2 != nil || !cmp.Equal(a, again) {
			t.Fatalf("%s: %v, %v: %s", s.Key, err, err2, cmp.Diff(a, again))
		}
		if len(a.Causes) != none[s.Key] {
			t.Fatalf("%s: %d causes, %d without facts", s.Key, len(a.Causes), none[s.Key])
		}
		if !slices.IsSortedFunc(a.Causes, func(a, b Cause) int { return int(a.Speaks - b.Speaks) }) {
			t.Fatalf("%s: not in order", s.Key)
		}
		for _, c := range a.Causes {
			if (c.Why == "") != (c.Speaks == Open) || strings.Contains(c.Why, "%!") || strings.Contains(c.Why, "NaN") {
				t.Fatalf("%s, %s: %s, %q", s.Key, c.Rule, c.Speaks, c.Why)
			}
		}
	})
}

// Every rule is named by a cause, and every rule but look can speak both ways.
func TestEveryRuleIsReachable(t *testing.T) {
	t.Parallel()
	used := map[string]bool{}
	for _, causes := range load().causes {
		for _, c := range causes {
			used[c.Rule] = true
		}
	}
	heard := map[string]map[Speaks]bool{}
	for key := range rules {
		heard[key] = map[Speaks]bool{}
		if !used[key] {
			t.Errorf("no cause names the rule %s", key)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		for range 20 {
			f := someFacts(t)
			for key, r := range rules {
				heard[key][r(&f).speaks] = true
			}
		}
	})
	for key, voices := range heard {
		if key != "look" && (!voices[For] || !voices[Against]) || !voices[Open] || key == "look" && len(voices) != 1 {
			t.Errorf("the rule %s was heard to say %v only", key, voices)
		}
	}
}

// Each fact of the struct is heard by some rule, or by what is counted with.
func TestEveryFactIsHeard(t *testing.T) {
	t.Parallel()
	typ := reflect.TypeFor[Facts]()
	heard := map[string]bool{}
	rapid.Check(t, func(t *rapid.T) {
		f := someFacts(t)
		for i := range typ.NumField() {
			less := f
			reflect.ValueOf(&less).Elem().Field(i).SetZero()
			if !slices.Equal(count(&f), count(&less)) {
				heard[typ.Field(i).Name] = true
			}
			for _, r := range rules {
				if r(&f) != r(&less) {
					heard[typ.Field(i).Name] = true
				}
			}
		}
	})
	for i := range typ.NumField() {
		if name := typ.Field(i).Name; !heard[name] {
			t.Errorf("no rule hears %s", name)
		}
	}
}

// The table: a cause names a rule once to a symptom, and speaks in whole, short
// sentences.
func TestTable(t *testing.T) {
	t.Parallel()
	if n := len(Symptoms()); n < 22 {
		t.Errorf("only %d symptoms", n)
	}
	for _, s := range Symptoms() {
		seen := map[string]bool{}
		for _, c := range load().causes[s.Key] {
			if c.Rule != "look" && seen[c.Rule] {
				t.Errorf("%s names the rule %s twice", s.Key, c.Rule)
			}
			seen[c.Rule] = true
			for _, text := range []string{c.Test, c.Change} {
				if !strings.HasSuffix(text, ".") || text[:1] != strings.ToUpper(text[:1]) {
					t.Errorf("%s, %s: %q is no sentence", s.Key, c.Rule, text)
				}
			}
			if strings.HasSuffix(c.Text, ".") || c.Text == "" {
				t.Errorf("%s, %s: %q", s.Key, c.Rule, c.Text)
			}
		}
		if len(s.Aliases) < 3 || s.Where == "" {
			t.Errorf("%s has few names: %v", s.Key, s.Aliases)
		}
	}
}

// Every name finds its own symptom, whatever its case and joints.
func TestFindsEveryName(t *testing.T) {
	t.Parallel()
	for _, s := range Symptoms() {
		for _, name := range s.names() {
			for _, said := range []string{name, strings.ToUpper(name), "the " + strings.ReplaceAll(name, " ", "-") + "!"} {
				if got, err := Find("symptom", said); err != nil || got.Key != s.Key {
					t.Errorf("%q finds %q, want %s: %v", said, got.Key, s.Key, err)
				}
			}
		}
	}
}

func TestFindsWhatMakersSay(t *testing.T) {
	t.Parallel()
	for said, want := range map[string]string{
		"my sheet is stuck to the mold":            "sticks-to-mould",
		"Feathring ink":                            "feathering",
		"the color is washing out, water coloured": "colour-washes-out",
		"the sheets curl":                          "curls",
		"blisters on the felt":                     "bubbles",
		"mold on my paper, it smells":              "smell",
		"why do the later sheets get thinner":      "thinner-later",
		"cockling":                                 "cockles",
		"the paper is cracking: it is brittle":     "brittle",
		"sheets torn in couching":                  "tears-couching",
		"only twelve, because they drain slowly":   "slow-drainage",
		"pulp sticks to deckle":                    "sticks-to-mould",
		"edges are thicker than the middle":        "thick-corner",
		"the sheet is thick on the left":           "thick-corner",
		"ink bleeding":                             "feathering",
		"won't come off the felt":                  "sticks-to-felts",
		"my sheets are lumpy":                      "clouds",
		"mould grows on wet pulp":                  "smell",
		"paper shrinks a lot":                      "shrank-too-much",
		"a fuzzy sheet that fell apart":            "weak",
		"all sheets are thin":                      "too-light",
		"thin":                                     "too-light",
		"the sheet is too thick in one corner":     "thick-corner",
		"wibble":                                   "",
		"":                                         "",
		"the of":                                   "",
	} {
		got, err := Find("symptom", said)
		if want == "" {
			if fault.KindOf(err) != fault.KindInvalid || got.Key != "" {
				t.Errorf("%q: %v", said, err)
			}
			continue
		}
		if err != nil || got.Key != want {
			t.Errorf("%q finds %q, want %s: %v", said, got.Key, want, err)
		}
	}
	if _, err := Find("symptom", "what a colour"); err == nil || !strings.Contains(err.Error(), "near it are: colour washes out") {
		t.Errorf("a shared word does not lead: %v", err)
	}
	if _, err := Find("symptom", strings.Repeat("thin ", 200)); fault.KindOf(err) != fault.KindInvalid {
		t.Errorf("a whole letter: %v", err)
	}
	if _, err := Find("symptom", "cokels"); err == nil || !strings.Contains(err.Error(), "the sheet cockles") {
		t.Errorf("near matches are not named: %v", err)
	}
	if _, err := Ask("wibble", Facts{}); fault.KindOf(err) != fault.KindInvalid || !strings.HasPrefix(err.Error(), "symptom: ") {
		t.Errorf("an unknown symptom: %v", err)
	}
}

// No number outside its range is taken, whichever fact it is.
func TestFactsOutsideTheirRange(t *testing.T) {
	t.Parallel()
	typ := reflect.TypeFor[Facts]()
	for i := range typ.NumField() {
		ft := typ.Field(i).Type
		if ft.Kind() != reflect.Pointer || ft.Elem().Kind() == reflect.Bool {
			continue
		}
		tag, _, _ := strings.Cut(typ.Field(i).Tag.Get("json"), ",")
		for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -99, 1e9} {
			var f Facts
			p := reflect.New(ft.Elem())
			if p.Elem().Kind() == reflect.Int {
				if math.IsNaN(x) || math.IsInf(x, 0) {
					continue
				}
				p.Elem().SetInt(int64(x))
			} else {
				p.Elem().SetFloat(x)
			}
			reflect.ValueOf(&f).Elem().Field(i).Set(p)
			_, err := Ask("cockles", f)
			if fault.KindOf(err) != fault.KindOutOfRange || !strings.HasPrefix(err.Error(), tag+": ") || !strings.Contains(err.Error(), "between") {
				t.Errorf("%s of %g: %v", tag, x, err)
			}
		}
	}
	if _, err := Ask("cockles", Facts{Drying: "oven"}); fault.KindOf(err) != fault.KindInvalid {
		t.Errorf("an unknown way of drying: %v", err)
	}
	if _, err := Ask("cockles", Facts{Pulled: new(3), KissedOff: new(4)}); fault.KindOf(err) != fault.KindOutOfRange {
		t.Errorf("more kissed off than pulled: %v", err)
	}
}

// What is handed out is a copy.
func TestTheTableIsSafe(t *testing.T) {
	t.Parallel()
	s := Symptoms()
	s[0].Aliases[0], s[1].Name = "changed", "changed"
	a, err := Ask("smell", Facts{WetHours: new(measure.Hours(200))})
	if err != nil {
		t.Fatal(err)
	}
	a.Causes[0].Cautions[0] = "changed"
	b, err := Ask("smell", Facts{WetHours: new(measure.Hours(200))})
	if err != nil || b.Causes[0].Cautions[0] == "changed" || Symptoms()[0].Aliases[0] == "changed" || Symptoms()[1].Name == "changed" {
		t.Error("a caller can change the table")
	}
}

func TestMeshPerCm(t *testing.T) {
	t.Parallel()
	if got, err := MeshPerCm(40); err != nil || math.Abs(float64(got)-15.748) > 5e-4 {
		t.Errorf("40 to the inch: %g, %v", float64(got), err)
	}
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, -1, 251} {
		if got, err := MeshPerCm(measure.Number(x)); got != 0 || fault.KindOf(err) != fault.KindOutOfRange {
			t.Errorf("%g to the inch: %g, %v", x, float64(got), err)
		}
	}
}

// Symptoms stand in the order of the work.
func TestOrderOfTheWork(t *testing.T) {
	t.Parallel()
	work := []string{"vat", "forming", "couching", "pressing", "drying", "finished"}
	at := func(s Symptom) int { return slices.Index(work, s.Where) }
	if all := Symptoms(); !slices.IsSortedFunc(all, func(a, b Symptom) int { return at(a) - at(b) }) || at(all[0]) != 0 {
		t.Error("symptoms are out of order")
	}
}
