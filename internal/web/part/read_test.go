package part

import (
	"strings"
	"testing"

	"vatside/internal/fibre"
	"vatside/internal/figure"
	"vatside/internal/measure"
	"vatside/internal/source"
)

// Sizes of ISO 216:2007 and the inch sizes, typed from the standard and by the
// exact inch of 25.4 mm.
func TestReadSize(t *testing.T) {
	t.Parallel()
	metric, us := Speech{System: measure.Metric}, Speech{System: measure.US}
	for _, c := range []struct {
		s           Speech
		typed       string
		long, short float64
	}{
		{metric, "A4", 297, 210}, {metric, " a3 ", 420, 297}, {us, "letter", 279.4, 215.9}, {metric, "half letter", 215.9, 139.7},
		{metric, "420 x 297", 420, 297}, {metric, "297×420 mm", 420, 297}, {metric, "30 x 20 cm", 300, 200}, {us, "14 x 11", 355.6, 279.4},
		{metric, "14 x 11 in", 355.6, 279.4}, {us, "8 1/2 x 11", 279.4, 215.9}, {metric, "30 cm x 200 mm", 300, 200},
	} {
		long, short, err := c.s.ReadSize("size", c.typed)
		if err != nil || long-c.long > 0.01 || c.long-long > 0.01 || short-c.short > 0.01 || c.short-short > 0.01 {
			t.Errorf("%q in %s: %g × %g, %v; want %g × %g", c.typed, c.s.System, long, short, err, c.long, c.short)
		}
	}
	for _, typed := range []string{"", "A", "x", "10 x", "x 10", "0 x 10", "-3 x 4", "a x b", "1 x 2 x 3", strings.Repeat("9", 400) + " x 1"} {
		if long, short, err := metric.ReadSize("size", typed); err == nil {
			t.Errorf("%q is read as %g × %g, want it refused", typed, long, short)
		}
	}
}

// What is shown can be typed back: a size comes back the same in both systems,
// to the rounding of what was shown.
func TestSizeRoundTrip(t *testing.T) {
	t.Parallel()
	for _, sys := range []measure.System{measure.Metric, measure.US} {
		s := Speech{System: sys}
		for _, n := range append([]NamedSize{{"", 300, 200}, {"", 101.6, 76.2}}, Sizes...) {
			long, short, err := s.ReadSize("size", s.SizeName(n.LongMM, n.ShortMM))
			if err != nil || long-n.LongMM > 0.8 || n.LongMM-long > 0.8 || short-n.ShortMM > 0.8 || n.ShortMM-short > 0.8 {
				t.Errorf("%s: %g × %g is shown as %q and read as %g × %g, %v", sys, n.LongMM, n.ShortMM, s.SizeName(n.LongMM, n.ShortMM), long, short, err)
			}
		}
	}
}

func TestReadFurnish(t *testing.T) {
	t.Parallel()
	for typed, want := range map[string]string{
		"abaca":                            "abaca",
		"Cotton Rag 70, abaca 30":          "cotton rag 70, abaca 30",
		"70 % cotton rag + 30% abaca":      "cotton rag 70, abaca 30",
		"linters 50; rag 50":               "cotton linters 50, cotton rag 50",
		"abaca 33.3, flax 33.3, hemp 33.3": "abaca 33.3, flax 33.3, hemp 33.3",
	} {
		parts, err := ReadFurnish(fibre.Shelf{}, "fibre", typed)
		if err != nil || WriteFurnish(parts) != want {
			t.Errorf("%q is read as %q, %v; want %q", typed, WriteFurnish(parts), err, want)
		}
		var total float64
		for _, p := range parts {
			total += p.SharePct
		}
		if total < 99.999 || total > 100.001 {
			t.Errorf("%q: the shares come to %g %%", typed, total)
		}
	}
	for typed, says := range map[string]string{
		"": "at least one fibre", "abaca 70, kozo 20": "70 + 20 make 90 %", "abaka": "did you mean abaca", "abaca, kozo": "must add to 100 %",
		"abaca 0": "more than 0", "abaca -5": "more than 0", "abaca NaN": "", "abaca 101": "at most 100",
	} {
		if _, err := ReadFurnish(fibre.Shelf{}, "fibre", typed); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, want %q in it", typed, err, says)
		}
	}
}

func FuzzReadSize(f *testing.F) {
	f.Add("A4")
	f.Add("8 1/2 x 11 in")
	f.Add("30×20cm")
	f.Fuzz(func(t *testing.T, typed string) {
		long, short, err := Speech{System: measure.Metric}.ReadSize("size", typed)
		if err == nil && !(long >= short && short > 0 && measure.Finite(long)) {
			t.Errorf("%q is read as %g × %g", typed, long, short)
		}
	})
}

func FuzzReadFurnish(f *testing.F) {
	f.Add("cotton rag 70, abaca 30")
	f.Add("70% abaca; 30 % kozo")
	f.Fuzz(func(t *testing.T, typed string) {
		parts, err := ReadFurnish(fibre.Shelf{}, "fibre", typed)
		if err != nil {
			return
		}
		for _, p := range parts {
			if !(p.SharePct > 0 && p.SharePct <= 100.001) {
				t.Errorf("%q gives a share of %g %%", typed, p.SharePct)
			}
		}
	})
}

func TestSumLines(t *testing.T) {
	t.Parallel()
	got := SumOf(figure.Figure{Sum: []figure.Line{
		{What: "sheets for the run", Working: "20 + 9", Result: "29 sheets", Source: "derived"},
		{What: "test sheets", Working: "3", Result: "3 sheets", Source: "memory", Grade: source.Memory.String()},
		{What: "a number in figures", Working: "4.9e-05", Result: "0.000049", Source: "no such key", Grade: "practice"},
	}}).Lines
	if got[0].Working != "20 + 9" || got[0].Source != "" {
		t.Errorf("a line that is worked out: %+v", got[0])
	}
	if got[1].Working != "" || strings.Count(strings.ToLower(got[1].Source), "memory") != 1 {
		t.Errorf("a number put in: %+v", got[1])
	}
	if got[2].Working != "" || got[2].Source != "No such key (practice)" {
		t.Errorf("a number put in: %+v", got[2])
	}
}

func TestFigureInWords(t *testing.T) {
	t.Parallel()
	low, high := 370.0, 460.0
	s := Speech{System: measure.Metric, Currency: "EUR"}
	decision := NewFigure("fibre_air_dry_g", figure.Figure{Kind: figure.Decision, Value: 460, Low: 460, High: 460, Unit: "g", Basis: source.Handbook, ExpectedLow: &low, ExpectedHigh: &high}, s, "/x")
	if decision.Band != "you will probably use 370–460\u00a0g" || decision.Bar != nil || decision.SumHref != "" {
		t.Errorf("a decision: %+v", decision)
	}
	outcome := NewFigure("dry_long_mm", figure.Figure{Kind: figure.Outcome, Value: 420, Low: 412, High: 428, Unit: "mm", Basis: source.Measured, Sum: []figure.Line{{}}}, s, "/x")
	if outcome.Band != "nine times in ten 412–428\u00a0mm" || outcome.Bar == nil || outcome.Bar.Text != outcome.Band || outcome.SumHref != "/x" {
		t.Errorf("an outcome: %+v", outcome)
	}
	if b := outcome.Bar; b.Low >= b.Mark || b.Low+b.Width <= b.Mark || b.Low < 0 || b.Low+b.Width > 200 {
		t.Errorf("the band is drawn at %+v", b)
	}
	if exact := NewFigure("posts", figure.Figure{Kind: figure.Outcome, Value: 2, Low: 2, High: 2, Unit: "posts"}, s, ""); exact.Band != "" || exact.Bar != nil {
		t.Errorf("a certain figure has a band: %+v", exact)
	}
}

func TestChance(t *testing.T) {
	t.Parallel()
	for pct, want := range map[float64]string{50: "an even chance", 90: "nine times in ten", 95: "nineteen times in twenty", 92.98: "93 times in 100"} {
		if got := Chance(pct); got != want {
			t.Errorf("%g %%: %q, want %q", pct, got, want)
		}
	}
}

// A bare number means what the form says it means, and with that unit written
// out it means the same to a reader of the other system.
func TestBareNumbers(t *testing.T) {
	t.Parallel()
	for kind := range bare {
		for _, s := range []Speech{{System: measure.Metric}, {System: measure.US}} {
			other := Speech{System: measure.US}
			if s.US() {
				other.System = measure.Metric
			}
			a, errA := s.Read("", "7.5", kind)
			b, errB := other.Read("", "7.5 "+s.Bare(kind), kind)
			if errA != nil || errB != nil || a != b {
				t.Errorf("%s in %s: bare %g (%v), with %s %g (%v)", kind, s.System, a, errA, s.Bare(kind), b, errB)
			}
		}
	}
}
