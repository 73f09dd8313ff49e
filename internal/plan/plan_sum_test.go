package plan_test

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"vatside/internal/belief"
	"vatside/internal/figure"
	"vatside/internal/plan"
	"vatside/internal/source"
	"vatside/internal/testkit/arithmetic"
)

func ptr[T any](v T) *T { return &v }

// requests are plans of many kinds, each with every sum to be looked at.
func requests(t testing.TB) map[string]plan.Request {
	t.Helper()
	out := map[string]plan.Request{"fixed": worked(t)}
	add := func(name string, change func(r *plan.Request)) {
		r := worked(t)
		r.Known = nil
		change(&r)
		out[name] = r
	}
	add("unknown", func(*plan.Request) {})
	add("several dips", func(r *plan.Request) { r.Paper.Forming, r.Paper.Dips = "several dips", ptr(4) })
	add("poured", func(r *plan.Request) { r.Paper.Forming = "poured" })
	add("poured by weight", func(r *plan.Request) { r.Paper.Forming, r.Paper.PourG = "poured", ptr(22.5) })
	add("dips by weight, fixed depth", func(r *plan.Request) {
		r.Paper.Forming, r.Paper.PourG = "several dips", ptr(12.0)
		r.Known = map[string]plan.Pin{"effective_depth_mm": {Value: 31}}
	})
	add("moulds", func(r *plan.Request) {
		r.Studio.Moulds = []plan.Mould{{Name: "small", LongMM: 300, ShortMM: 215}, {Name: "broad", LongMM: 440, ShortMM: 310}, {LongMM: 330, ShortMM: 480}}
	})
	add("trimmed", func(r *plan.Request) { r.Sheet.Edges, r.Sheet.TrimMM = "trimmed", ptr(8.0) })
	add("trimmed, moulds", func(r *plan.Request) {
		r.Sheet.Edges, r.Studio.Moulds = "trimmed", []plan.Mould{{Name: "big", LongMM: 560, ShortMM: 400}}
	})
	add("free", func(r *plan.Request) { r.Paper.Drying = "free" })
	add("loft", func(r *plan.Request) { r.Paper.Drying = "loft" })
	add("exchange, humid room", func(r *plan.Request) {
		r.Paper.Drying, r.Studio.Air, r.Studio.AltitudeM = "exchange", &plan.Air{TempC: 15, RHPct: 80}, ptr(1200.0)
	})
	add("board", func(r *plan.Request) { r.Paper.Drying, r.Paper.Use = "board", "calligraphy" })
	add("no press, no fan", func(r *plan.Request) {
		r.Studio.Press, r.Studio.Dryer = &plan.Press{}, &plan.Dryer{Places: 12}
	})
	add("odd size", func(r *plan.Request) {
		r.Sheet = plan.Sheet{LongMM: 1013.7, ShortMM: 61.3}
		r.Paper.GrammageConditioned = 37.3
	})
	add("tiny", func(r *plan.Request) {
		r.Sheet, r.GoodSheets, r.Paper.GrammageConditioned = plan.Sheet{LongMM: 60, ShortMM: 40}, ptr(1), 18
		r.Studio.VatL, r.Studio.VatLeastL = ptr(5.0), ptr(3.0)
	})
	add("large edition", func(r *plan.Request) { r.GoodSheets, r.ConfidencePct = ptr(3000), ptr(80.0) })
	add("flax, free, no tests", func(r *plan.Request) {
		r.Paper.Furnish = []plan.Part{{Fibre: "flax", SharePct: 100, PriceKg: ptr(31.5)}}
		r.Paper.Drying, r.Paper.BeatingHours, r.Paper.Additives, r.TestSheets, r.Paper.Use = "free", ptr(9.0), nil, ptr(0), "sculpture"
	})
	add("sized, thick stock", func(r *plan.Request) { r.Paper.SurfaceSize, r.Studio.StockGL = "gelatin", ptr(150.0) })
	add("have", func(r *plan.Request) {
		r.GoodSheets, r.Have = nil, &plan.Have{WetG: 12247, SolidsPct: [2]float64{8, 15}}
	})
	add("have, dry too", func(r *plan.Request) {
		r.GoodSheets, r.Have = nil, &plan.Have{WetG: 5000, SolidsPct: [2]float64{12, 12}, DryG: ptr(400.0)}
	})
	add("have too little", func(r *plan.Request) {
		r.GoodSheets, r.Have = nil, &plan.Have{WetG: 500, SolidsPct: [2]float64{8, 15}}
	})
	add("thin sheet in a loft", func(r *plan.Request) { r.Paper.GrammageConditioned, r.Paper.Drying = 12, "loft" })
	add("nothing said", func(r *plan.Request) {
		*r = plan.Request{Paper: plan.Paper{Furnish: []plan.Part{{Fibre: "kozo", SharePct: 100}}, GrammageConditioned: 40}, Sheet: plan.Sheet{LongMM: 390, ShortMM: 290}, GoodSheets: ptr(20)}
	})
	return out
}

// Every working that a plan prints comes to the result printed beside it; the
// last line of a sum is the figure; every source is in the registry, every
// grade is one; all numbers are numbers.
func TestEveryWorkingReEvaluates(t *testing.T) {
	t.Parallel()
	lines := 0
	for name, r := range requests(t) {
		p, err := plan.Make(r, belief.Known{})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if len(p.Figures) < 5 {
			t.Errorf("%s has only %d figures", name, len(p.Figures))
		}
		for key, f := range p.Figures {
			at := name + ", " + key
			if f.Value < f.Low || f.Value > f.High {
				t.Errorf("%s is %g, outside its own band %g–%g", at, f.Value, f.Low, f.High)
			}
			checkFigure(t, at, f)
			lines += len(f.Sum)
		}
	}
	if lines < 5000 {
		t.Errorf("only %d lines were looked at", lines)
	}
}

func checkFigure(t *testing.T, at string, f figure.Figure) {
	t.Helper()
	if len(f.Sum) == 0 {
		t.Errorf("%s has no sum", at)
		return
	}
	for _, v := range []float64{f.Value, f.Low, f.High} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Errorf("%s is %v, %v–%v", at, f.Value, f.Low, f.High)
		}
	}
	if f.Low > f.High || f.Kind == figure.Decision && (f.Low != f.Value || f.High != f.Value) || f.Kind != figure.Decision && f.ExpectedLow != nil {
		t.Errorf("%s is a %s of %v, %v–%v", at, f.Kind, f.Value, f.Low, f.High)
	}
	if f.ExpectedLow != nil && *f.ExpectedLow > *f.ExpectedHigh {
		t.Errorf("%s will use %v–%v", at, *f.ExpectedLow, *f.ExpectedHigh)
	}
	for _, l := range f.Sum {
		if err := arithmetic.Agree(l.Working, l.Result); err != nil {
			t.Errorf("%s, line %q: %v", at, l.What, err)
		}
		if _, ok := source.Get(l.Source); !ok {
			t.Errorf("%s, line %q: source %q is not in the registry", at, l.What, l.Source)
		}
		if _, err := source.ParseGrade(l.Grade); l.Grade != "" && err != nil {
			t.Errorf("%s, line %q: %v", at, l.What, err)
		}
		if l.What == "" || l.Grade == "" && l.Source != "derived" {
			t.Errorf("%s: line %+v says too little", at, l)
		}
	}
	last := f.Sum[len(f.Sum)-1]
	got, unit, err := arithmetic.Result(last.Result)
	if err != nil || math.Abs(got-f.Value) > arithmetic.Half(f.Value, 5)*1.000001+1e-12 {
		t.Errorf("%s is %v, and its sum ends with %q", at, f.Value, last.Result)
	}
	if unit != f.Unit && unit != "money" && f.Unit != "jugs" {
		t.Errorf("%s is in %q, and its sum ends in %q", at, f.Unit, unit)
	}
}

var number = regexp.MustCompile(`\d+(?:\.\d+)?`)

// Lines stand in order: a number of many digits in a working is the result of
// a line before it, unless the working is a choice or a run over all draws,
// which bring numbers of their own.
func TestSumLinesStandInOrder(t *testing.T) {
	t.Parallel()
	own := []string{"for the run", "to pull", "enough", "weigh", "loads", "posts", "of the mould", "to a recharge", "starts above", "moisture here", "promise", "share of sheets", "to couch"}
	for name, r := range requests(t) {
		p, err := plan.Make(r, belief.Known{})
		if err != nil {
			continue // told by the test above
		}
		for key, f := range p.Figures {
			var before []float64
			for _, l := range f.Sum {
				v, _, err := arithmetic.Result(l.Result)
				if err != nil {
					t.Fatal(err)
				}
				leaf := l.Grade != "" && l.Source != "definition"
				if !leaf && !slices.ContainsFunc(own, func(w string) bool { return strings.Contains(l.What, w) }) {
					for _, s := range number.FindAllString(l.Working, -1) {
						n, _ := strconv.ParseFloat(s, 64)
						if len(s) < 5 || n == 1000000 || slices.ContainsFunc(before, func(b float64) bool { return math.Abs(math.Abs(b)-n) <= arithmetic.Half(n, 5)*1.01 }) {
							continue
						}
						t.Errorf("%s, %s: %q uses %s in %q, which no line before it gives", name, key, l.What, s, l.Working)
					}
				}
				before = append(before, v)
			}
		}
	}
}
