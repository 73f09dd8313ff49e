package paperwork

import (
	"fmt"
	"strings"
	"testing"

	"vatside/internal/belief"
	"vatside/internal/measure"
	"vatside/internal/plan"
)

// Whatever is weighed out stands on the card: at its step, or, where the making
// has no such step, among what is weighed out and under Mind, with what it does
// not go with. 20 mL to a litre in a vat of 80 L are 1600 mL.
func TestNoAdditiveLeavesTheCard(t *testing.T) {
	t.Parallel()
	type want struct{ step, weighed, mind []string }
	for name, c := range map[string]struct {
		change func(*plan.Request)
		want   want
	}{
		"into the vat": {func(r *plan.Request) {
			r.Paper.Additives = []plan.Additive{{Kind: "PMP", DosePct: 0.1}, {Kind: "retention powder", DosePct: 0.1}}
		}, want{step: []string{"PMP, 0.1 % on fibre", "retention powder, 0.1 % on fibre", "PMP with retention powder"}}},
		"poured, without a vat": {func(r *plan.Request) {
			r.Paper.Forming = "poured"
			r.Paper.Additives = []plan.Additive{{Kind: "PEO", DoseMLL: 20}, {Kind: "PMP", DosePct: 0.1}, {Kind: "retention powder", DosePct: 0.1}}
		}, want{
			step:    []string{"retention powder, 0.1 % on fibre"},
			weighed: []string{"1600 mL PEO made up", "PMP, 0.1 % on fibre"},
			mind:    []string{"PEO goes into the vat, for which this making has no step. 1.5 g/L", "PMP goes into the vat", "PMP with retention powder"},
		}},
		"on the sheet, not sized": {func(r *plan.Request) {
			r.Paper.SurfaceSize, r.Paper.Additives = "", []plan.Additive{{Kind: "gelatin", DosePct: 3}, {Kind: "alum", DosePct: 1}}
		}, want{
			step: []string{"alum, 1 % on fibre"}, weighed: []string{"gelatin, 3 % on fibre"},
			mind: []string{"gelatin goes on the dry sheet, for which this making has no step. Soak an hour"},
		}},
		"on the sheet, sized": {func(r *plan.Request) {
			r.Paper.SurfaceSize, r.Paper.Additives = "starch", []plan.Additive{{Kind: "gelatin", DosePct: 3}}
		}, want{step: []string{"gelatin, 3 % on fibre"}}},
		"one additive twice": {func(r *plan.Request) {
			r.Paper.Additives = []plan.Additive{{Kind: "chalk", DosePct: 2}, {Kind: "whiting", DosePct: 5}}
		}, want{step: []string{"calcium carbonate, 2 % on fibre", "calcium carbonate, 5 % on fibre"}}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := everything()
			c.change(&r)
			pl, err := plan.Make(r, belief.Known{})
			if err != nil {
				t.Fatal(err)
			}
			card := FromPlan(Making{Tag: "K7-3F"}, r, pl, measure.Metric)
			var steps, weighed []string
			for _, s := range card.Steps {
				for _, l := range s.Lines {
					steps = append(steps, l.What)
					steps = append(steps, l.Against...)
				}
			}
			for _, l := range card.Weigh {
				weighed = append(weighed, l.Amount+" "+l.What)
			}
			for place, pair := range map[string][2][]string{"the steps": {steps, c.want.step}, "what is weighed out": {weighed, c.want.weighed}, "Mind": {card.Notes, c.want.mind}} {
				all := strings.Join(pair[0], "\n")
				for _, w := range pair[1] {
					if !strings.Contains(all, w) {
						t.Errorf("%s does not say %q: %s", place, w, all)
					}
				}
			}
			checkOnPaper(t, card, append(append(c.want.step, c.want.weighed...), c.want.mind...))
		})
	}
}

// checkOnPaper: each word is set, on A4 and on Letter, and nothing over another.
func checkOnPaper(t *testing.T, c Card, wants []string) {
	t.Helper()
	for _, paper := range bothSizes {
		p, file := setOpen(t, c, paper)
		text := plainText(textOf(file))
		for _, want := range wants {
			for _, word := range strings.Fields(want) {
				if !strings.Contains(text, word) {
					t.Errorf("%s: %q of %q is not set", paper.Name, word, want)
				}
			}
		}
		if bad := fmt.Sprint(p.overflow, clashes(p.words)); bad != "[] []" {
			t.Errorf("%s: over the edge, or one over another: %s", paper.Name, bad)
		}
	}
}
