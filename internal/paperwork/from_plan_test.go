package paperwork

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"vatside/internal/belief"
	"vatside/internal/measure"
	"vatside/internal/plan"
)

// workedRequest is the making that docs/models/plan.md works out by hand.
func workedRequest(t testing.TB) plan.Request {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("..", "plan", "testdata", "worked_request.json"))
	if err != nil {
		t.Fatal(err)
	}
	var r plan.Request
	if err := json.Unmarshal(raw, &r); err != nil {
		t.Fatal(err)
	}
	return r
}

func cardOf(t testing.TB, r plan.Request, in measure.System) Card {
	t.Helper()
	pl, err := plan.Make(r, belief.Known{})
	if err != nil {
		t.Fatal(err)
	}
	return FromPlan(Making{Tag: "K7-3F", By: "Ansel Quill", Date: sampleCard(1, 1).Date}, r, pl, in)
}

// The numbers are those worked out by hand in docs/models/plan.md: 63 sheets, 1102 g of fibre, two loads, a first fill of 366.6 g,
// 1166 mL every three sheets, 443 kPa, formed 437.5 × 309.4 mm.
func TestTheWorkedMaking(t *testing.T) {
	t.Parallel()
	c := cardOf(t, workedRequest(t), measure.Metric)
	figures := []string{}
	for _, d := range c.Decisions {
		figures = append(figures, d.Figure+" "+d.Unit)
	}
	if diff := cmp.Diff([]string{"63 sheets", "1102 g", "2 loads", "367 g of solids"}, figures); diff != "" {
		t.Errorf("the big numbers differ (-want +got):\n%s", diff)
	}
	wantRule := []RulePart{{Number: true, Whole: 3}, {Word: "sheets, then"}, {Number: true, Whole: 1}, {Word: "jug +"}, {Number: true, Whole: 166}, {Word: "mL"}}
	if diff := cmp.Diff(wantRule, c.Rule); diff != "" {
		t.Errorf("the rule differs (-want +got):\n%s", diff)
	}
	if !strings.HasPrefix(c.RuleNote[0], "exactly 1166 mL of stock at 30 g/L: mark it on the jug") {
		t.Errorf("the exact amount is given as %q", c.RuleNote[0])
	}
	for label, want := range map[string]string{"formed size": "438 × 309 mm", "press": "443 kPa", "one sheet weighs": "12.5 g"} {
		i := slices.IndexFunc(c.Sizes, func(e Entry) bool { return e.Label == label })
		if i < 0 || c.Sizes[i].Value != want {
			t.Errorf("%s is not given as %s: %v", label, want, c.Sizes)
		}
	}
	if g := c.Recharges[0]; g.Act != "1 jug + 166 mL in" || g.Exact != "1166 mL" || g.Before[0] != 4 || g.Before[1] != 7 {
		t.Errorf("the first recharge is %+v", g)
	}
	if last := c.Posts[len(c.Posts)-1]; len(c.Posts) != 3 || last.Last != 63 {
		t.Errorf("63 sheets on 24 felts (23 to a post) make %d posts, the last to sheet %d", len(c.Posts), last.Last)
	}
}

// Every recharge of the plan is on the card once, in the table and, where the
// table is short, in the tally.
func TestEveryRechargeIsOnTheCard(t *testing.T) {
	t.Parallel()
	r := workedRequest(t)
	pl, err := plan.Make(r, belief.Known{})
	if err != nil {
		t.Fatal(err)
	}
	c := FromPlan(Making{Tag: "K7-3F"}, r, pl, measure.Metric)
	var want, inTable, inTally []int
	for _, act := range pl.Vat.Recharges {
		want = append(want, act.BeforeSheet)
	}
	for _, g := range c.Recharges {
		inTable = append(inTable, g.Before...)
	}
	for _, q := range c.Posts {
		inTally = append(append(inTally, q.Recharge...), q.RunDown...)
	}
	slices.Sort(inTable)
	slices.Sort(inTally)
	if diff := cmp.Diff(want, inTable); diff != "" {
		t.Errorf("the table differs from the plan (-plan +card):\n%s", diff)
	}
	if diff := cmp.Diff(want, inTally); diff != "" {
		t.Errorf("the tally differs from the plan (-plan +card):\n%s", diff)
	}
}

// The system of units changes what is read, never what is done.
func TestUnitsChangeNoDecision(t *testing.T) {
	t.Parallel()
	a, b := cardOf(t, workedRequest(t), measure.Metric), cardOf(t, workedRequest(t), measure.US)
	if diff := cmp.Diff(a.Rule[:len(a.Rule)-2], b.Rule[:len(b.Rule)-2]); diff != "" {
		t.Errorf("the rule differs (-metric +US):\n%s", diff)
	}
	ml, oz := float64(a.Rule[len(a.Rule)-2].Whole), float64(b.Rule[len(b.Rule)-2].Whole)+float64(b.Rule[len(b.Rule)-2].Quarters)/4
	if math.Abs(ml-oz*mlPerFluidOunce) > mlPerFluidOunce/8+0.5 {
		t.Errorf("on top of the jug %g mL and %g fl oz are not the same", ml, oz)
	}
	if diff := cmp.Diff(a.Posts, b.Posts); diff != "" {
		t.Errorf("the posts differ (-metric +US):\n%s", diff)
	}
	for i := range a.Recharges {
		if diff := cmp.Diff(a.Recharges[i].Before, b.Recharges[i].Before); diff != "" {
			t.Errorf("the recharges differ (-metric +US):\n%s", diff)
		}
	}
	// 1102 g is 38.87 oz (28.349523125 g to the ounce, by definition): 2 lb 6.9 oz.
	if d := b.Decisions[1]; d.Figure+" "+d.Unit != "2 lb 6.9 oz" {
		t.Errorf("1102 g reads %s %s", d.Figure, d.Unit)
	}
}

// Whatever is asked, the card is whole: two pages for a usual run, three where
// much is asked, nothing over the edge, nothing in anything else.
func TestRealPlansFit(t *testing.T) {
	t.Parallel()
	base := workedRequest(t)
	change := map[string]func(*plan.Request){
		"pinned":       func(*plan.Request) {},
		"handbook":     func(r *plan.Request) { r.Known = nil },
		"two in a row": func(r *plan.Request) { r.Known, r.GoodSheets = nil, ptr(66) },
		"one sheet":    func(r *plan.Request) { r.GoodSheets, r.TestSheets = ptr(1), ptr(0) },
		"poured":       func(r *plan.Request) { r.Paper.Forming, r.Known = "poured", nil },
		"several dips": func(r *plan.Request) { r.Paper.Forming, r.Known = "several dips", nil },
		"small posts":  func(r *plan.Request) { r.Studio.Felts = ptr(10) },
		"sized":        func(r *plan.Request) { r.Paper.SurfaceSize = "gelatin" },
		"nothing said": func(r *plan.Request) {
			*r = plan.Request{Paper: plan.Paper{Furnish: r.Paper.Furnish, GrammageConditioned: 100}, Sheet: r.Sheet, GoodSheets: ptr(40)}
		},
		"six fibres": func(r *plan.Request) {
			r.Paper.Furnish = nil
			for _, f := range []string{"cotton rag", "abaca", "flax", "hemp", "kozo", "cotton linters"} {
				r.Paper.Furnish = append(r.Paper.Furnish, plan.Part{Fibre: f, SharePct: 100.0 / 6})
			}
		},
		"hundreds": func(r *plan.Request) { r.GoodSheets = ptr(400) },
	}
	for name, how := range change {
		for _, paper := range bothSizes {
			for _, in := range []measure.System{measure.Metric, measure.US} {
				r := base
				how(&r)
				c := cardOf(t, r, in)
				p, err := c.draw(paper)
				if err != nil {
					t.Fatal(err)
				}
				most := 2
				switch {
				case name == "hundreds":
					most = 4
				case name == "sized", name == "six fibres", name == "two in a row" && paper == Letter: // more than is usual
					most = 3
				}
				if n := p.pdf.PageCount(); n > most {
					t.Errorf("%s, %s, %s: %d pages", name, paper.Name, in, n)
				}
				if len(p.overflow) > 0 || len(clashes(p.words)) > 0 {
					t.Errorf("%s, %s, %s: over the edge %v, one over another %v", name, paper.Name, in, p.overflow, clashes(p.words))
				}
			}
		}
	}
}

func ptr(n int) *int { return &n }

func TestQuartersOfAJug(t *testing.T) {
	t.Parallel()
	for n, want := range map[float64]string{
		0.1: "less than ¼ jug", 0.13: "¼ jug", 0.5: "½ jug", 0.74: "¾ jug", 0.9: "1 jug", 1.166: "1 ¼ jugs", 1.12: "1 jug", 2: "2 jugs", 12.22: "12 ¼ jugs", 3.9: "4 jugs",
	} {
		if got := jugs(n); got != want {
			t.Errorf("%g jugs read %q, want %q", n, got, want)
		}
	}
}

func TestLongRunsAreSaidAsARule(t *testing.T) {
	t.Parallel()
	run := func(from, to, by int) (list []int) {
		for n := from; n <= to; n += by {
			list = append(list, n)
		}
		return list
	}
	for want, list := range map[string][]int{
		"every 3 sheets: before sheet 4, 7, 10 … to 298":                 run(4, 298, 3),
		"before every sheet from 2 to 90":                                run(2, 90, 1),
		"every 3 sheets: before sheet 4, 7, 10 … to 151; not before 31":  slices.DeleteFunc(run(4, 151, 3), func(n int) bool { return n == 31 }),
		"every 3 sheets: before sheet 4, 7, 10 … to 151; also before 15": slices.Insert(run(4, 151, 3), 4, 15),
	} {
		if got := sayRule(list); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

func TestWaits(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		least, most float64
		want        string
	}{{0, 0, ""}, {0, 24, "up to 24 h"}, {6, 6, "6 h"}, {8, 72, "8–72 h"}, {0.5, 24, "0.5–24 h"}, {72, 336, "3–14 days"}, {12, 120, "12 h – 5 days"}} {
		if got := wait(c.least, c.most); got != c.want {
			t.Errorf("%g to %g h reads %q, want %q", c.least, c.most, got, c.want)
		}
	}
}

// The pin: the text of a card, as a reader of the file sees it. It shows that nothing moved
// by accident and is no evidence that it is right. Run with UPDATE=1 to renew.
func TestCardTextPin(t *testing.T) {
	t.Parallel()
	_, file := setOpen(t, sampleCard(63, 23), A4)
	got := strings.ReplaceAll(strings.Join(textOf(file), "\n"), "\u00a0", " ") + "\n"
	path := filepath.Join("testdata", "card.txt")
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("the card's text moved (-pinned +now):\n%s", diff)
	}
}
