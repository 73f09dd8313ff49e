package web_test

import (
	"net/http"
	"net/url"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"

	"vatside/internal/plan"
	"vatside/internal/studio"
)

// aPaper keeps a paper: book text, changed as the test needs it.
func (a *aStudio) aPaper(change func(*studio.Paper)) studio.Paper {
	a.t.Helper()
	text := studio.StartingPapers()[0]
	p := studio.Paper{Name: text.Title, Design: text.Design, Sheet: text.Sheet}
	if change != nil {
		change(&p)
	}
	return a.saved(p)
}

func (a *aStudio) saved(p studio.Paper) studio.Paper {
	a.t.Helper()
	saved, err := a.records.SavePaper(a.t.Context(), p)
	if err != nil {
		a.t.Fatal(err)
	}
	return saved
}

func (a *aStudio) present(id string) studio.Paper {
	a.t.Helper()
	p, err := a.records.Paper(a.t.Context(), id)
	if err != nil {
		a.t.Fatal(err)
	}
	return p
}

// thought is the page of a paper's design with some answers changed.
func (a *aStudio) thought(address string, change row) sheet {
	a.t.Helper()
	form := filled(a.get(address))
	for name, typed := range change {
		form.Set(name, typed)
	}
	return a.get(strings.Split(address, "?")[0] + "?" + form.Encode())
}

// moved is what stands in the table of the two plans.
func (s sheet) moved(what string) (was, now float64) {
	s.t.Helper()
	rows := s.Find(".answers tr, .band-plain tr").FilterFunction(func(_ int, tr *goquery.Selection) bool { return strings.TrimSpace(tr.Find("th").Text()) == what })
	cells := rows.Last().Find("td")
	if cells.Length() < 2 {
		s.t.Fatalf("no row of %s: %s", what, s.text("main"))
	}
	was = number(s.t, cells.Eq(0).Text())
	if text := strings.TrimSpace(cells.Eq(1).Text()); text != "the same" {
		return was, number(s.t, text)
	}
	return was, was
}

// about allows for the rounding of what is read off a page.
func about(got, want float64) bool { return got > want*0.99 && got < want*1.01 }

var digits = regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?`)

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(digits.FindString(strings.ReplaceAll(text, "\u202f", "")), 64)
	if err != nil {
		t.Fatalf("no number in %q", text)
	}
	return v
}

// Each use has its values to begin from, and says why.
func TestDesignBeginsByUse(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	for _, s := range studio.StartingPapers() {
		page := a.get("/papers/design?from=" + url.QueryEscape(s.Use))
		if page.code != http.StatusOK {
			t.Errorf("%s: status %d: %s", s.Use, page.code, page.text("main"))
			continue
		}
		form := filled(page)
		if got := page.text(".lead"); got != s.Why {
			t.Errorf("%s: begins so because %q", s.Use, got)
		}
		if got := number(t, form.Get("grammage")); got != s.Design.GrammageConditioned || form.Get("fibre-1") != s.Design.Furnish[0].Fibre ||
			number(t, form.Get("beating")) != *s.Design.BeatingHours || form.Get("drying") != s.Design.Drying || form.Get("use") != s.Use {
			t.Errorf("%s: begins with %v", s.Use, form)
		}
		if n := page.Find(".others a").Length(); n != len(studio.StartingPapers())-1 {
			t.Errorf("%s: %d others to begin from", s.Use, n)
		}
		if got := page.text(".short"); got != "Nothing is changed yet." {
			t.Errorf("%s: untouched, and %q", s.Use, got)
		}
	}
	if page := a.get("/papers/design?from=nothing"); page.code != http.StatusOK || filled(page).Get("from") != "book text" {
		t.Errorf("no such use: status %d, from %q", page.code, filled(page).Get("from"))
	}
}

// Which way figures move is physics or arithmetic: twice the grammage takes
// twice the fibre for a sheet, a sheet that nothing holds shrinks more than a
// held one and more so the longer it is beaten, longer beating makes it denser,
// beaten abaca shrinks more than rag, more sheets take more of all.
func TestDesignMovesTheRightWay(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	at := "/papers/" + a.aPaper(nil).ID + "/design"
	unheld := "/papers/" + a.aPaper(func(p *studio.Paper) { p.Design.Drying = "free" }).ID + "/design"
	for _, c := range []struct {
		at         string
		change     row
		more, less []string
		same       []string
	}{
		{at, row{"grammage": "200"}, []string{"Weight of a sheet", "Fibre off the shelf", "Caliper", "Cost of the making"}, nil, []string{"Sheets to pull"}},
		{at, row{"grammage": "80"}, nil, []string{"Weight of a sheet", "Fibre off the shelf", "Caliper"}, nil},
		{at, row{"drying": "free"}, []string{"Shrinkage, long side", "Formed, long side"}, nil, nil},
		{at, row{"beating": "7"}, []string{"Density", "At the beater, all loads"}, []string{"Caliper"}, nil},
		{unheld, row{"beating": "7"}, []string{"Shrinkage, long side", "Formed, long side"}, nil, nil},
		{unheld, row{"share-1": "10", "share-2": "90"}, []string{"Shrinkage, long side"}, nil, nil},
		{at, row{"fibre-3": "cotton linters", "share-3": "0"}, nil, nil, []string{"Shrinkage, long side", "Density", "Cost of the making"}},
		{at, row{"size": "A4"}, nil, []string{"Weight of a sheet", "Fibre off the shelf"}, nil},
	} {
		page := a.thought(c.at, c.change)
		if page.code != http.StatusOK {
			t.Errorf("%v: status %d: %s", c.change, page.code, page.text(".wrong-summary"))
			continue
		}
		for _, what := range c.more {
			if was, now := page.moved(what); now <= was {
				t.Errorf("%v: %s goes from %g to %g, want more", c.change, what, was, now)
			}
		}
		for _, what := range c.less {
			if was, now := page.moved(what); now >= was {
				t.Errorf("%v: %s goes from %g to %g, want less", c.change, what, was, now)
			}
		}
		for _, what := range c.same {
			if was, now := page.moved(what); now != was {
				t.Errorf("%v: %s goes from %g to %g, want the same", c.change, what, was, now)
			}
		}
		if (len(c.more)+len(c.less) > 0) == (page.text(".short") == "Nothing is changed yet.") {
			t.Errorf("%v: in short it says %q", c.change, page.text(".short"))
		}
	}
	if was, now := a.thought(at, row{"grammage": "200"}).moved("Weight of a sheet"); !about(now, 2*was) {
		t.Errorf("twice the grammage, and a sheet weighs %g instead of %g g", now, was)
	}
	// Hours and cost are for the sheets that are asked for, on both sides.
	few, many := a.thought(at, row{"good": "20"}), a.thought(at, row{"good": "80"})
	for _, what := range []string{"Your hands", "Fibre off the shelf", "Cost of the making"} {
		fewWas, fewNow := few.moved(what)
		if manyWas, _ := many.moved(what); manyWas <= fewWas || fewWas != fewNow {
			t.Errorf("%s of 20 sheets %g and %g, of 80 %g", what, fewWas, fewNow, manyWas)
		}
	}
}

// aRichPaper has everything that this page does not ask for.
func aRichPaper(p *studio.Paper) {
	own, price, cooked, fills, trim, play, tolerance, within, bath, strength := 6.0, 14.5, true, 61.5, 7.0, 3.0, 6.5, 85.0, 3.25, 12.0
	p.Name, p.Design.Name = "Odd one", "Odd one"
	p.Design.Furnish = []plan.Part{{Fibre: "abaca", SharePct: 100.0 / 3, BeatingHours: &own, PriceKg: &price}, {Fibre: "kozo", SharePct: 100.0 / 3, Cooked: &cooked}, {Fibre: "abaca", SharePct: 100.0 / 3}}
	p.Design.TolerancePct, p.Design.ShareWithinPct, p.Design.Finish = &tolerance, &within, "laid"
	p.Design.SurfaceSize, p.Design.SurfaceBathPct, p.Design.SurfaceWay = "gelatin", &bath, "brushed"
	p.Design.Additives = []plan.Additive{{Kind: "AKD", DosePct: 0.5, StrengthPct: &strength, PriceKg: &price}, {Kind: "PEO", DoseMLL: 15}}
	p.Sheet = plan.Sheet{LongMM: 300.25, ShortMM: 200.5, Shape: "odd", FillsPct: &fills, Edges: "trimmed", TrimMM: &trim, ToleranceMM: &play}
}

// What the page does not ask for stays as it was, to the last digit, and so does
// what nobody touched; in both systems of units.
func TestDesignKeepsTheRest(t *testing.T) {
	t.Parallel()
	for _, units := range []string{"metric", "us"} {
		a := newStudio(t)
		a.cookies["units"] = units
		was := a.aPaper(aRichPaper)
		at := "/papers/" + was.ID + "/design"
		page := a.get(at)
		for _, says := range []string{"Beaten by itself, 6 h", "Comes cooked", "As bought it holds 12 %", "Odd: the box around it."} {
			if !strings.Contains(page.text("form[data-design]"), says) {
				t.Errorf("%s: what stays is not said: %q", units, says)
			}
		}
		keep := func(change row) studio.Paper {
			t.Helper()
			form := filled(a.get(at))
			for name, typed := range change {
				form.Set(name, typed)
			}
			if saved := a.post(at, form); saved.code != http.StatusSeeOther {
				t.Fatalf("%s, %v: status %d: %s", units, change, saved.code, saved.text(".wrong-summary"))
			}
			return a.present(was.ID)
		}
		now := keep(nil)
		if !reflect.DeepEqual(now.Design, was.Design) || !reflect.DeepEqual(now.Sheet, was.Sheet) {
			t.Errorf("%s: kept untouched it changed:\n%s\n%s", units, asJSON(t, was), asJSON(t, now))
		}
		now = keep(row{"grammage": "140"})
		want := was.Design
		want.GrammageConditioned = 140
		if !reflect.DeepEqual(now.Design, want) || !reflect.DeepEqual(now.Sheet, was.Sheet) {
			t.Errorf("%s: of another grammage it is\n%s, want\n%s", units, asJSON(t, now.Design), asJSON(t, want))
		}
		// The first abaca goes: the other is not taken for it.
		now = keep(row{"fibre-1": "", "share-1": ""})
		if f := now.Design.Furnish; len(f) != 2 || f[0].Fibre != "kozo" || f[0].Cooked == nil || f[1].BeatingHours != nil || f[1].PriceKg != nil || !near(f[1].SharePct, 50) {
			t.Errorf("%s: without the first: %s", units, asJSON(t, f))
		}
		now = keep(row{"surface": "", "edges": "deckle"})
		if d := now.Design; d.SurfaceSize != "" || d.SurfaceBathPct != nil || d.SurfaceWay != "" || now.Sheet.TrimMM != nil {
			t.Errorf("%s: waterleaf with deckle edges has %s, %s", units, asJSON(t, d), asJSON(t, now.Sheet))
		}
	}
}

// A dose is in its own measure, and keeps it.
func TestDesignDoses(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	p := a.aPaper(func(p *studio.Paper) {
		p.Design.Additives = []plan.Additive{{Kind: "PEO", DoseMLL: 15}, {Kind: "calcium carbonate", DosePct: 5}}
	})
	at := "/papers/" + p.ID + "/design"
	form := filled(a.get(at))
	if form.Get("dose-1") != "15 mL/L" || form.Get("dose-2") != "5 %" {
		t.Errorf("doses stand as %q and %q", form.Get("dose-1"), form.Get("dose-2"))
	}
	for typed, want := range map[string]plan.Additive{
		"20": {Kind: "PEO", DoseMLL: 20}, "20 ml/l": {Kind: "PEO", DoseMLL: 20}, "0.5 %": {Kind: "PEO", DosePct: 0.5},
	} {
		form := filled(a.get(at))
		form.Set("dose-1", typed)
		form.Set("additive-3", "tororo-aoi")
		form.Set("dose-3", "0")
		if saved := a.post(at, form); saved.code != http.StatusSeeOther {
			t.Fatalf("%q: status %d: %s", typed, saved.code, saved.text(".wrong-summary"))
		}
		got := a.present(p.ID)
		if !reflect.DeepEqual(got.Design.Additives, []plan.Additive{want, p.Design.Additives[1]}) {
			t.Errorf("%q is kept as %s", typed, asJSON(t, got.Design.Additives))
		}
		got.Design = p.Design
		a.saved(got)
	}
	// Of something new, a bare number is in the measure usual for it, and seen so.
	page := a.thought(at, row{"additive-1": "AKD", "dose-1": "0.5", "additive-3": "PEO", "dose-3": "10"})
	if form := filled(page); form.Get("dose-1") != "0.5 %" || form.Get("dose-3") != "10 mL/L" {
		t.Errorf("bare doses are shown as %q and %q", form.Get("dose-1"), form.Get("dose-3"))
	}
}
