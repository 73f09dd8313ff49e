package fibre

import (
	"math"
	"slices"
	"strings"
	"testing"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/source"
)

func TestFreeShrinkageProperties(t *testing.T) {
	t.Parallel()
	for _, f := range All() {
		last := measure.Shrinkage(-1)
		for h := measure.Hours(0); h <= MostHours; h += 0.25 {
			s, err := FreeShrinkage(f, h)
			if err != nil {
				t.Fatal(err)
			}
			if s <= last {
				t.Fatalf("%s: shrinkage does not rise at %g h", f.Name, float64(h))
			}
			if float64(s) < f.ShrinkStart.Mid-1e-12 || float64(s) > f.ShrinkMost.Mid {
				t.Fatalf("%s at %g h: %g is not between %g and %g", f.Name, float64(h), float64(s), f.ShrinkStart.Mid, f.ShrinkMost.Mid)
			}
			last = s
		}
		if s, _ := FreeShrinkage(f, 0); math.Abs(float64(s)-f.ShrinkStart.Mid) > 1e-15 {
			t.Errorf("%s unbeaten: %g, want S0 %g", f.Name, float64(s), f.ShrinkStart.Mid)
		}
		// At tau, 1 - 1/e of the way is gone.
		s, _ := FreeShrinkage(f, measure.Hours(f.ShrinkTau.Mid))
		if way := (float64(s) - f.ShrinkStart.Mid) / (f.ShrinkMost.Mid - f.ShrinkStart.Mid); math.Abs(way-0.632121) > 1e-6 {
			t.Errorf("%s at tau: %g of the way, want 0.632121", f.Name, way)
		}
	}
}

func TestDriedShrinkageBandProperties(t *testing.T) {
	t.Parallel()
	for _, f := range All() {
		for _, h := range []measure.Hours{0, 0.5, 2, 8, 24} {
			free, err := FreeShrinkageBand(f, h)
			if err != nil {
				t.Fatal(err)
			}
			for _, kind := range Dryings() {
				v, err := DriedShrinkageBand(f, h, kind)
				if err != nil {
					t.Fatal(err)
				}
				if v.Low < 0 || v.Low > v.Mid || v.Mid > v.High || v.High > free.High || v.High >= 0.5 {
					t.Errorf("%s, %g h, %s: %g %g %g under free %g", f.Name, float64(h), kind, v.Low, v.Mid, v.High, free.High)
				}
				if v.Grade != source.Memory {
					t.Errorf("%s, %s: graded %v, but the curve is from memory", f.Name, kind, v.Grade)
				}
				if kind == "free" && (v.Low != free.Low || v.Mid != free.Mid || v.High != free.High) {
					t.Errorf("%s: free drying changes the free band", f.Name)
				}
			}
		}
	}
}

func TestDryingHoldOrder(t *testing.T) {
	t.Parallel()
	last := source.Value{}
	for _, kind := range []string{"stack", "exchange", "loft", "free"} {
		v, err := DryingHold(kind)
		if err != nil {
			t.Fatal(err)
		}
		if v.Low > v.Mid || v.Mid > v.High || v.High > 1 || v.Mid <= last.Mid || v.Low < last.High {
			t.Errorf("%s: %v after %v", kind, v, last)
		}
		last = v
	}
	if _, err := DryingHold("oven"); fault.KindOf(err) != fault.KindInvalid {
		t.Errorf("an unknown way of drying: %v", err)
	}
}

func TestDriedShrinkageEdges(t *testing.T) {
	t.Parallel()
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct{ free, hold float64 }{
		{nan, 0.5}, {inf, 0.5}, {-0.01, 0.5}, {0.5, 0.5}, {0.1, nan}, {0.1, -0.01}, {0.1, 1.01}, {0.1, inf},
	} {
		if v, err := DriedShrinkage(measure.Shrinkage(c.free), measure.Share(c.hold)); fault.KindOf(err) != fault.KindOutOfRange || err == nil {
			t.Errorf("DriedShrinkage(%g, %g) = %g, %v", c.free, c.hold, float64(v), err)
		}
	}
	for _, hold := range []measure.Share{0, 1} {
		if v, err := DriedShrinkage(0.2, hold); err != nil || float64(v) != 0.2*float64(hold) {
			t.Errorf("hold %g: %g, %v", float64(hold), float64(v), err)
		}
	}
}

func TestFreeShrinkageEdges(t *testing.T) {
	t.Parallel()
	f, _ := Get("abaca")
	for _, h := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -0.001, 24.001} {
		for name, call := range map[string]func() error{
			"FreeShrinkage":      func() error { _, err := FreeShrinkage(f, measure.Hours(h)); return err },
			"FreeShrinkageBand":  func() error { _, err := FreeShrinkageBand(f, measure.Hours(h)); return err },
			"DriedShrinkageBand": func() error { _, err := DriedShrinkageBand(f, measure.Hours(h), "free"); return err },
		} {
			if err := call(); err == nil || fault.KindOf(err) != fault.KindOutOfRange || !strings.Contains(err.Error(), "24") {
				t.Errorf("%s at %g h: %v", name, h, err)
			}
		}
	}
	if _, err := FreeShrinkage(Fibre{Name: "string"}, 1); fault.KindOf(err) != fault.KindInvalid || err == nil {
		t.Errorf("a fibre without a curve: %v", err)
	}
	if _, err := DriedShrinkageBand(f, 1, "oven"); fault.KindOf(err) != fault.KindInvalid || err == nil {
		t.Errorf("an unknown way of drying: %v", err)
	}
}

// Nothing in the table is missing, out of the world, or unsourced.
func TestTableIsWhole(t *testing.T) {
	t.Parallel()
	all := All()
	if len(all) < 16 {
		t.Errorf("%d fibres, want at least 16", len(all))
	}
	drainages := []string{"fast", "moderate", "slow", "very slow"}
	for _, f := range all {
		for name, c := range map[string]struct {
			v         source.Value
			low, high float64
		}{
			"S0": {f.ShrinkStart, 0, 0.1}, "Smax": {f.ShrinkMost, 0.01, 0.45}, "tau": {f.ShrinkTau, 1, 10},
			"bought": {f.Bought, 0.03, 0.16}, "room": {f.RoomMoisture, 0.03, 0.1}, "density": {f.Density, 0.2, 1.2},
			"length": {f.Length, 0.4, 15}, "price": {f.Price, 0, 200},
		} {
			if !c.v.Known() || c.v.Low < c.low || c.v.Low > c.v.Mid || c.v.Mid > c.v.High || c.v.High > c.high {
				t.Errorf("%s, %s: %+v is missing or outside %g-%g", f.Name, name, c.v, c.low, c.high)
			}
			if s, ok := source.Get(c.v.Source); !ok || s.Grade != c.v.Grade {
				t.Errorf("%s, %s: source %q, grade %v", f.Name, name, c.v.Source, c.v.Grade)
			}
		}
		if len(f.Forms) == 0 || f.Preparation == "" || f.Forming == "" || !slices.Contains(drainages, f.Drainage) || f.ShrinkNote == "" {
			t.Errorf("%s: words are missing", f.Name)
		}
		if _, ok := f.HoursFor(""); !ok || f.Uses()[0].Use != Usual {
			t.Errorf("%s has no usual beat", f.Name)
		}
		if f.ShrinkMost.Mid >= 0.2 && !f.HoldFlat {
			t.Errorf("%s shrinks by a fifth and carries no caution to dry it held", f.Name)
		}
	}
}

func TestGetAndNear(t *testing.T) {
	t.Parallel()
	for asked, want := range map[string]string{
		"Abaca": "abaca", "  cotton-RAG ": "cotton rag", "linters": "cotton linters", "paper mulberry": "kozo", "recycled_paper": "recycled office paper",
	} {
		if f, ok := Get(asked); !ok || f.Name != want {
			t.Errorf("Get(%q) = %q, %v", asked, f.Name, ok)
		}
	}
	for asked, want := range map[string]string{
		"abacca": "abaca", "coton rag": "cotton rag", "kozu": "kozo", "gampy": "gampi", "mitsumatta": "mitsumata", "flaks": "flax", "hamp": "hemp",
	} {
		if near := Near(asked, 3); len(near) == 0 || near[0] != want {
			t.Errorf("Near(%q) = %v, want %s first", asked, near, want)
		}
	}
	if near := Near("cotton", 3); !slices.Contains(near, "cotton rag") || !slices.Contains(near, "cotton linters") {
		t.Errorf("Near(cotton) = %v", near)
	}
	for _, asked := range []string{"", "  ", "polyester", "x"} {
		if near := Near(asked, 3); len(near) != 0 {
			t.Errorf("Near(%q) = %v, want none", asked, near)
		}
	}
	if near := Near("abaca", 0); near != nil {
		t.Errorf("none asked for, %v offered", near)
	}
	if near := Near("linen", 1); len(near) > 1 {
		t.Errorf("one asked for, %v offered", near)
	}
}

func TestFindNamesTheField(t *testing.T) {
	t.Parallel()
	for asked, part := range map[string]string{"abacca": "did you mean abaca", "polyester": "which has abaca", "": "a fibre is needed"} {
		_, err := Find("paper.furnish[0].fibre", asked)
		if err == nil || fault.KindOf(err) != fault.KindInvalid || !strings.HasPrefix(err.Error(), "paper.furnish[0].fibre: ") || !strings.Contains(err.Error(), part) {
			t.Errorf("Find(%q): %v", asked, err)
		}
	}
	if f, err := Find("fibre", "hemp"); err != nil || f.Name != "hemp" {
		t.Errorf("Find(hemp) = %q, %v", f.Name, err)
	}
}

func TestAllIsACopy(t *testing.T) {
	t.Parallel()
	a, _ := Get("hemp")
	a.Forms[0], a.Cautions[0], a.Uses()[0].Use = "changed", "changed", "changed"
	b, _ := Get("hemp")
	if b.Forms[0] == "changed" || b.Cautions[0] == "changed" || b.Uses()[0].Use == "changed" {
		t.Error("a caller can change the table")
	}
}
