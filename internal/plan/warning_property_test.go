package plan_test

import (
	"slices"
	"strings"
	"testing"

	"vatside/internal/belief"
	"vatside/internal/plan"
)

func warning(p plan.Plan, code string) string {
	for _, w := range p.Warnings {
		if w.Code == code {
			return w.Text
		}
	}
	return ""
}

// What a plan says against itself is said in numbers as people write them, and
// repeats the request as it was made.
func TestWarningsInPlainNumbers(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		change        func(*plan.Request)
		code          string
		says, notSays []string
	}{
		"thousands of litres": {func(r *plan.Request) { *r.GoodSheets = 20000 }, "level rises", []string{" L over the run"}, []string{"e+"}},
		"thousands of hours":  {func(r *plan.Request) { *r.GoodSheets = 20000 }, "many loads", []string{"hours at the beater"}, []string{"e+"}},
		"nearly certain":      {func(r *plan.Request) { r.Known, r.ConfidencePct, r.Paper.TolerancePct = nil, ptr(99.9), ptr(1.0) }, "promise", []string{"99.9 were asked"}, nil},
		"no mould": {func(r *plan.Request) {
			r.Known, r.Studio.Moulds = nil, []plan.Mould{{Name: "small", LongMM: 300, ShortMM: 200}}
		}, "promise", []string{"no mould gives"}, []string{"try one sheet"}},
		"trimmed from a larger mould": {func(r *plan.Request) {
			r.Sheet.Edges, r.Studio.Moulds = "trimmed", []plan.Mould{{Name: "A2", LongMM: 620, ShortMM: 450}}
		}, "mould larger", []string{"of each sheet."}, []string{"deckle edge"}},
		"deckle from a larger mould": {func(r *plan.Request) { r.Studio.Moulds = []plan.Mould{{Name: "A2", LongMM: 620, ShortMM: 450}} },
			"mould larger", []string{"deckle edge"}, nil},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := worked(t)
			c.change(&r)
			p, err := plan.Make(r, belief.Known{})
			if err != nil {
				t.Fatal(err)
			}
			text := warning(p, c.code)
			for _, s := range c.says {
				if !strings.Contains(text, s) {
					t.Errorf("%q does not say %q", text, s)
				}
			}
			for _, s := range c.notSays {
				if strings.Contains(text, s) {
					t.Errorf("%q says %q", text, s)
				}
			}
		})
	}
}

// A step that takes minutes of hands says that it occupies them.
func TestStepsOccupyHands(t *testing.T) {
	t.Parallel()
	p, err := plan.Make(worked(t), belief.Known{})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range p.Steps {
		if s.HandsOn.Value > 0 && !slices.Contains(s.Occupies, "hands") {
			t.Errorf("%s takes %.0f minutes and occupies %v", s.Key, s.HandsOn.Value, s.Occupies)
		}
	}
}

// The weight of a post, by hand: 23 sheets of 11.66 g solids at 10 % are
// 2.68 kg, 24 felts of 0.1354 m² at 1.5 kg to a square metre 4.87 kg. A post
// of many large sheets is more than one person lifts.
func TestPostWeight(t *testing.T) {
	t.Parallel()
	r := worked(t)
	p, err := plan.Make(r, belief.Known{})
	if err != nil {
		t.Fatal(err)
	}
	if f := p.Figures["post_weight_kg"]; f.Value < 7.5 || f.Value > 7.6 || f.Low >= f.Value || f.High <= f.Value || warning(p, "heavy post") != "" {
		t.Errorf("a post of 23 A3 sheets weighs %.2f (%.2f to %.2f) kg, want 7.55; %q", f.Value, f.Low, f.High, warning(p, "heavy post"))
	}
	r.Sheet.LongMM, r.Sheet.ShortMM, r.Studio.Felts, r.Studio.VatL, r.Studio.VatLeastL = 900, 600, ptr(60), ptr(400.0), ptr(300.0)
	if p, err = plan.Make(r, belief.Known{}); err != nil || warning(p, "heavy post") == "" {
		t.Errorf("nothing is said of a post of 59 sheets of 900 × 600 mm; %v", err)
	}
}

// What the beater is asked for is held against its rating.
func TestBeaterWarnings(t *testing.T) {
	t.Parallel()
	for code, change := range map[string]func(*plan.Request){
		"beater underfilled": func(r *plan.Request) { *r.GoodSheets, r.Studio.Beater.RatedDryG = 2, 5000 },
		"beater thick":       func(r *plan.Request) { r.Studio.Beater.WaterL = 5 },
		"beater thin":        func(r *plan.Request) { r.Studio.Beater.WaterL = 200 },
		"beater wrap": func(r *plan.Request) {
			r.Paper.Furnish = []plan.Part{{Fibre: "flax", SharePct: 100}}
			r.Studio.Beater.RatedDryG = 560
		},
	} {
		r := worked(t)
		change(&r)
		p, err := plan.Make(r, belief.Known{})
		if err != nil || warning(p, code) == "" {
			t.Errorf("%s is not said; %v", code, err)
		}
	}
}

// A formation aid is dosed by the litre of vat, and clashes all the same.
func TestAidClashes(t *testing.T) {
	t.Parallel()
	r := worked(t)
	r.Paper.Additives = []plan.Additive{{Kind: "PMP", DoseMLL: 20}, {Kind: "retention powder", DosePct: 0.1}}
	p, err := plan.Make(r, belief.Known{})
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(warning(p, "clash"), "PMP") {
		t.Errorf("PMP beside a retention aid: %+v", p.Warnings)
	}
}
