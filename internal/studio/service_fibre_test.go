package studio_test

import (
	"strings"
	"testing"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/plan"
	"vatside/internal/studio"
)

// An own fibre stays, under its name, while a paper is made with it or a promised
// brief asks for a revision that is; whoever saves the profile is told the papers.
func TestOwnFibresStayWhilePapersHaveThem(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	ctx := t.Context()
	named := func(names ...string) (list []fibre.Own) {
		for _, n := range names {
			list = append(list, fibre.Own{Name: n, Like: "abaca"})
		}
		return list
	}
	save := func(names ...string) error {
		t.Helper()
		p := must[studio.Profile](t)(b.Profile(ctx))
		p.Kit.Fibres = named(names...)
		_, err := b.SaveProfile(ctx, p)
		return err
	}
	if err := save("hill denim", "old sails"); err != nil {
		t.Fatal(err)
	}
	p := aPaper()
	p.Design.Furnish = []plan.Part{{Fibre: "Hill-Denim", SharePct: 100}}
	p = must[studio.Paper](t)(b.SavePaper(ctx, p))
	told := func(err error) {
		t.Helper()
		wantKind(t, err, fault.KindConflict)
		if one := fault.All(err)[0]; one.Field != "kit.fibres" || !strings.Contains(one.Text, "hill denim") || !strings.Contains(one.Text, p.Name) {
			t.Errorf("told %q of the field %q", one.Text, one.Field)
		}
		if got := must[studio.Profile](t)(b.Profile(ctx)).Kit.Fibres; len(got) == 0 || got[0].Name != "hill denim" {
			t.Errorf("what was refused is kept: %+v", got)
		}
	}
	told(save())
	told(save("brook denim", "old sails"))
	// What no paper has goes; another way of writing the same name is the same name.
	for _, names := range [][]string{{"hill denim"}, {"Hill  Denim"}, {"hill denim"}} {
		if err := save(names...); err != nil {
			t.Errorf("%q: %v", names, err)
		}
	}
	brief := must[studio.Brief](t)(b.SaveBrief(ctx, studio.Brief{PaperID: p.ID, GoodSheets: 5, Sheet: p.Sheet, ConfidencePct: 90}))
	p.Design.Furnish[0].Fibre = "abaca"
	p = must[studio.Paper](t)(b.SavePaper(ctx, p))
	if got := must[[]studio.Paper](t)(b.MadeWith(ctx, "hill denim")); len(got) != 1 || got[0].Revision != 1 {
		t.Errorf("promised of %+v", got)
	}
	told(save())
	brief.Settled = true
	must[studio.Brief](t)(b.SaveBrief(ctx, brief))
	if err := save(); err != nil {
		t.Errorf("no paper has it: %v", err)
	}
}
