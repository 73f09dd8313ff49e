package beating

import (
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/source"
)

func codes(ws []Warning) string {
	var all []string
	for _, w := range ws {
		all = append(all, w.Code)
	}
	return strings.Join(all, " ")
}

// The account of denim: the steps, in order, are cut, cook, split and lower,
// after the machine was made safe.
func TestDenimThatStalls(t *testing.T) {
	t.Parallel()
	denim, _ := fibre.Get("denim rag")
	r, err := WhenItLabours(denim, 900, 680)
	if err != nil || r.Loads != 3 || r.Each != 300 { // half of 680 is 340
		t.Errorf("%+v, %v", r, err)
	}
	if got := codes(r.Steps); got != "labours-stop labours-cut labours-cook labours-split labours-lower" {
		t.Errorf("steps %s", got)
	}
}

func TestLaboursProperties(t *testing.T) {
	t.Parallel()
	all := fibre.All()
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.SampledFrom(all).Draw(t, "fibre")
		load, rated := measure.Mass(rapid.Float64Range(1, 5000).Draw(t, "load")), measure.Mass(rapid.Float64Range(1, 5000).Draw(t, "rated"))
		r, err := WhenItLabours(f, load, rated)
		if fault.KindOf(err) == fault.KindOutOfRange && load > 4000*rated {
			return // more loads than anybody makes
		}
		if err != nil || r.Each > min(load, rated)/2*(1+1e-8) || math.Abs(float64(r.Each)*float64(r.Loads)/float64(load)-1) > 1e-12 {
			t.Fatalf("%g g of %s at %g: %+v, %v", float64(load), f.Name, float64(rated), r, err)
		}
		if steps := codes(r.Steps); !strings.HasPrefix(steps, "labours-stop") || !strings.HasSuffix(steps, "labours-split labours-lower") {
			t.Fatalf("%s: %s", f.Name, steps)
		}
		for _, w := range r.Steps {
			source.Must(w.Source)
		}
	})
}

func TestWhenBrittle(t *testing.T) {
	t.Parallel()
	s, err := WhenBrittle(3)
	if err != nil || math.Abs(float64(s.Hours)-2) > 1e-12 || s.LongFibre != 0.20 {
		t.Errorf("%+v, %v", s, err)
	}
	for _, w := range append(s.Steps, append(BlenderCautions(), BlenderCuts)...) {
		if source.Must(w.Source); w.Text == "" || w.Code == "" {
			t.Errorf("%+v is empty", w)
		}
	}
	for _, x := range []float64{math.NaN(), math.Inf(1), -1, 25} {
		if s, err := WhenBrittle(measure.Hours(x)); s.Hours != 0 || fault.KindOf(err) != fault.KindOutOfRange {
			t.Errorf("%g h: %+v, %v", x, s, err)
		}
	}
}

// Three hours: 15 min up, a third of the 157.5 brushed, the rest worked, 7.5 up.
func TestRollSchedule(t *testing.T) {
	t.Parallel()
	rows, err := RollSchedule(180, Plain)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []measure.Minutes{15, 52.5, 105, 7.5} {
		if math.Abs(float64(rows[i].Minutes-want)) > 1e-9 {
			t.Errorf("row %d: %+v, want %g min", i, rows[i], float64(want))
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		whole := measure.Minutes(rapid.Float64Range(4, 1440).Draw(t, "minutes"))
		var brushed measure.Minutes
		for _, c := range []Character{Free, Plain, Slow} {
			rows, err := RollSchedule(whole, c)
			if err != nil {
				t.Fatal(err)
			}
			var sum measure.Minutes
			for _, r := range rows {
				if sum += r.Minutes; r.Minutes <= 0 || r.Does == "" || r.Roll == "" {
					t.Fatalf("%+v", r)
				}
				source.Must(r.Source)
			}
			if math.Abs(float64(sum/whole)-1) > 1e-12 || rows[1].Minutes <= brushed {
				t.Fatalf("%g min of %d add up to %g; brushed %g", float64(whole), c, float64(sum), float64(rows[1].Minutes))
			}
			brushed = rows[1].Minutes
		}
	})
	for _, x := range []float64{math.NaN(), math.Inf(1), -1, 0, 3.9, 1441} {
		if rows, err := RollSchedule(measure.Minutes(x), Plain); rows != nil || fault.KindOf(err) != fault.KindOutOfRange {
			t.Errorf("%g min: %v, %v", x, rows, err)
		}
	}
	if _, err := RollSchedule(60, Character(3)); fault.KindOf(err) != fault.KindInvalid {
		t.Error("an unknown character was taken")
	}
}

func TestStillSpeaks(t *testing.T) {
	t.Parallel()
	day := func(d int) time.Time { return time.Date(2030, 3, d, 0, 0, 0, 0, time.UTC) }
	ground := []time.Time{day(20), day(10)} // in any order
	for _, c := range []struct {
		seen, at int
		want     bool
	}{
		{5, 9, true},    // before either
		{5, 10, false},  // ground on the day
		{9, 15, false},  // ground between
		{10, 15, true},  // seen on the day of the grinding
		{15, 19, true},  // between the two
		{15, 25, false}, // ground again
		{25, 25, true},
		{25, 24, false}, // not yet seen
	} {
		if got := StillSpeaks(day(c.seen), day(c.at), ground); got != c.want {
			t.Errorf("seen on the %d., asked on the %d.: %v", c.seen, c.at, got)
		}
	}
	if !StillSpeaks(day(1), day(30), nil) {
		t.Error("a machine never ground is silent")
	}
}

// Corn husk: 4 lb, a pound a pot for 3 h in two pots and a pound a load for
// 3–6 h in one beater (husk-page): 12 pot-hours, 12–24 beater-hours, and the
// beater holds it up.
func TestBottleneck(t *testing.T) {
	t.Parallel()
	const lb = 453.59237
	loads, err := Loads(4*lb, lb)
	if err != nil || loads != 4 {
		t.Fatalf("%g loads, %v", float64(loads), err)
	}
	spans, slowest, err := Bottleneck([]Stage{{"cook", loads, 3, 3, 2}, {"beat", loads, 3, 6, 1}})
	if err != nil || slowest != 1 || spans[0] != (Span{"cook", 12, 12, 6, 6}) || spans[1] != (Span{"beat", 12, 24, 12, 24}) {
		t.Errorf("%+v, %d, %v", spans, slowest, err)
	}
	rapid.Check(t, func(t *rapid.T) {
		s := Stage{"", measure.Loads(rapid.IntRange(1, 40).Draw(t, "batches")), 1, 2, rapid.IntRange(1, 99).Draw(t, "machines")}
		more := s
		more.Machines++
		spans, slowest, err := Bottleneck([]Stage{more, s})
		if err != nil || spans[0].High > spans[1].High || spans[0].MachineHigh != spans[1].MachineHigh || slowest == 1 && spans[0].High == spans[1].High {
			t.Fatalf("%+v, %d, %v", spans, slowest, err)
		}
	})
	good := Stage{"cook", 4, 3, 3, 2}
	for name, change := range map[string]func(*Stage){
		"no batch":       func(s *Stage) { s.Batches = 0 },
		"half a batch":   func(s *Stage) { s.Batches = 1.5 },
		"endless":        func(s *Stage) { s.High = measure.Hours(math.Inf(1)) },
		"no number":      func(s *Stage) { s.Low = measure.Hours(math.NaN()) },
		"high under low": func(s *Stage) { s.High = 2 },
		"no machine":     func(s *Stage) { s.Machines = 0 },
	} {
		bad := good
		change(&bad)
		if spans, _, err := Bottleneck([]Stage{good, bad}); spans != nil || fault.KindOf(err) != fault.KindOutOfRange {
			t.Errorf("%s: %v, %v", name, spans, err)
		}
	}
	if _, _, err := Bottleneck(nil); fault.KindOf(err) != fault.KindInvalid {
		t.Error("no stage was taken")
	}
}

// Every fibre is soaked and charged, in that order; each habit has its words
// and its source; rag is cut and washed, long fibre cut and charged slowly.
func TestHabits(t *testing.T) {
	t.Parallel()
	all := append(StopTests(), Mixing())
	for _, f := range fibre.All() {
		p := Preparing(f)
		if p[0].Name != "soak" || p[len(p)-1].Name != "charge" {
			t.Errorf("%s: %+v", f.Name, p)
		}
		all = append(all, p...)
	}
	for _, h := range all {
		if source.Must(h.Source); h.Name == "" || h.Text == "" || h.Low < 0 || h.Low > h.High {
			t.Errorf("%+v", h)
		}
	}
	names := func(fibreName string) (out string) {
		f, _ := fibre.Get(fibreName)
		for _, h := range Preparing(f) {
			out += h.Name + " "
		}
		return out
	}
	for name, want := range map[string]string{"cotton linters": "soak charge ", "denim rag": "soak cut wash charge ", "flax": "soak cut charge "} {
		if got := names(name); got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
	flax, _ := fibre.Get("flax")
	if p := Preparing(flax); p[2].Low != 30 {
		t.Errorf("raw flax is charged in %g min", float64(p[2].Low))
	}
}
