package web_test

import (
	"math"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"vatside/internal/fibre"
	"vatside/internal/plan"
	"vatside/internal/studio"
)

const denim = "/studio/fibres/hill%20denim"

// addFibre adds an own fibre through its page, as somebody types it.
func (a *aStudio) addFibre(like string, typed url.Values) sheet {
	a.t.Helper()
	form := filled(a.get("/studio/fibres/new?like=" + url.QueryEscape(like)))
	for name := range typed {
		form.Set(name, typed.Get(name))
	}
	return a.post("/studio/fibres", form)
}

// fibres are the studio's own, as its records have them.
func (a *aStudio) fibres() []fibre.Own { a.t.Helper(); return a.kit().Fibres }

// withDenim is a studio with one own fibre.
func withDenim(t *testing.T) *aStudio {
	t.Helper()
	a := newStudio(t)
	s := a.addFibre("denim rag", url.Values{"name": {"hill denim"}, "shrink_most": {"9 (6–12)"}, "hours-usual": {"5–7"}, "note": {"worn in the vineyard"}})
	if s.code != http.StatusSeeOther || s.to() != denim {
		t.Fatalf("status %d to %q: %s", s.code, s.to(), s.text(".wrong-summary"))
	}
	return a
}

// madeOf saves a paper of a furnish.
func (a *aStudio) madeOf(name, furnish string) studio.Paper {
	a.t.Helper()
	form := filled(a.get("/papers/new"))
	form.Set("name", name)
	form.Set("furnish", furnish)
	form.Set("grammage", "100")
	s := a.post("/papers", form)
	if s.code != http.StatusSeeOther {
		a.t.Fatalf("a paper of %s: status %d: %s", furnish, s.code, s.text(".wrong-summary"))
	}
	p, err := a.records.Paper(a.t.Context(), strings.TrimPrefix(s.to(), "/papers/"))
	if err != nil {
		a.t.Fatal(err)
	}
	return p
}

// The first question is which fibre it is near; then that one's values stand
// beside the blanks.
func TestAskedWhichFibreItIsNear(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	ask := a.get("/studio/fibres/new")
	if ask.code != http.StatusOK || ask.Find(`[name="like"]`).Length() != 1 || ask.Find(`[name="name"]`).Length() != 0 {
		t.Errorf("the first question: %d, %s", ask.code, ask.text("main"))
	}
	for typed, says := range map[string]string{"": "such as abaca", "abaka": "did you mean abaca", "granite": "no fibre called"} {
		s := a.get("/studio/fibres/new?like=" + typed)
		if got := s.text("#f-like-error"); s.code != http.StatusUnprocessableEntity || !strings.Contains(strings.ToLower(got), says) || s.Find("#f-like").AttrOr("value", "") != typed {
			t.Errorf("%q: status %d, %q", typed, s.code, got)
		}
	}
	form := a.get("/studio/fibres/new?like=manila+hemp")
	if got := form.Find("#f-like").AttrOr("value", ""); got != "abaca" {
		t.Errorf("another name of abaca is taken as %q", got)
	}
	abaca, _ := fibre.Get("abaca")
	if abaca.Length.Mid != 5 {
		t.Fatalf("the handbook's abaca is %g mm long", abaca.Length.Mid)
	}
	spaced := strings.NewReplacer("\u00a0", " ").Replace(form.text("#f-length-hint"))
	if spaced != "Abaca: 5 (4–6) mm" || form.Find("#f-length").AttrOr("value", "") != "" || form.Find("#f-length ~ .unit").Text() != "mm" {
		t.Errorf("beside the length stands %q", spaced)
	}
	look := filled(form)
	look.Set("like", "kozo")
	look.Set("note", "typed already")
	look.Set("do", "look")
	if s := a.post("/studio/fibres", look); s.code != http.StatusOK || !strings.HasPrefix(s.text("#f-length-hint"), "Kozo: ") || filled(s).Get("note") != "typed already" {
		t.Errorf("another near one: %d, %q", s.code, s.text("#f-length-hint"))
	}
	if len(a.fibres()) != 0 {
		t.Error("looking kept a fibre")
	}
	if s := a.get("/studio/fibres/none"); s.code != http.StatusNotFound {
		t.Errorf("a fibre that is not there: %d", s.code)
	}
}

// What is typed goes before the near fibre's, what stays empty follows it.
func TestOwnFibreFromANearOne(t *testing.T) {
	t.Parallel()
	a := withDenim(t)
	own := a.fibres()
	want := fibre.Own{Name: "hill denim", Like: "denim rag", Note: "worn in the vineyard"}
	if len(own) != 1 || own[0].Name != want.Name || own[0].Like != want.Like || own[0].Note != want.Note || len(own[0].Values) != 1 ||
		own[0].Values["shrink_most"] != (fibre.Band{Low: 6, Mid: 9, High: 12}) || len(own[0].Hours) != 1 || own[0].Hours["usual"] != (fibre.Band{Low: 5, Mid: 6, High: 7}) {
		t.Fatalf("kept: %+v", own)
	}
	for path, at := range map[string]string{"/studio": "#kit-fibres", "/studio/fibres/hill%20denim": "h1"} {
		if got := a.get(path).text(at); !strings.Contains(strings.ToLower(got), "hill denim") {
			t.Errorf("%s says %q", path, got)
		}
	}
	if got := a.get("/studio").Find(`#kit-fibres a[href="` + denim + `"]`).Length(); got != 1 {
		t.Errorf("%d links to it on the page of the studio", got)
	}
	page := a.get(denim)
	if got := page.Find("details.kit[open]").Length(); got != 2 {
		t.Errorf("%d groups stand open, want the two with numbers of its own", got)
	}
	before := asJSON(t, own)
	form := filled(page)
	if s := a.post(denim, form); s.code != http.StatusSeeOther || asJSON(t, a.fibres()) != before {
		t.Errorf("saved untouched: %d, %s", s.code, asJSON(t, a.fibres()))
	}
	form = filled(a.get(denim))
	form.Set("name", "brook denim")
	form.Set("shrink_most", "")
	form.Set("density", "0.5")
	s := a.post(denim, form)
	if s.code != http.StatusSeeOther || s.to() != "/studio/fibres/brook%20denim" {
		t.Fatalf("changed: %d to %q: %s", s.code, s.to(), s.text(".wrong-summary"))
	}
	rag, _ := fibre.Get("denim rag")
	got := a.fibres()[0]
	if d := got.Values["density"]; len(got.Values) != 1 || d.Mid != 0.5 || math.Abs(d.Low-0.5*rag.Density.Low/rag.Density.Mid) > 5e-4 || math.Abs(d.High-0.5*rag.Density.High/rag.Density.Mid) > 5e-4 {
		t.Errorf("one number is as sure as the near one's, %+v: %+v", rag.Density, got)
	}
}

// In US units lengths are typed in inches, and what nobody touches stays exactly
// as it is. The inch is 25.4 mm.
func TestOwnFibreInInches(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	a.addFibre("kozo", url.Values{"name": {"river kozo"}, "length": {"9 (7–11)"}})
	was := asJSON(t, a.fibres())
	a.post("/units", url.Values{"units": {"us"}, "back": {"/"}})
	path := "/studio/fibres/river%20kozo"
	page := a.get(path)
	if got := page.Find("#f-length").AttrOr("value", ""); got != "0.354 (0.276–0.433)" {
		t.Errorf("in inches it is %q", got)
	}
	if s := a.post(path, filled(page)); s.code != http.StatusSeeOther || asJSON(t, a.fibres()) != was {
		t.Errorf("saved untouched in inches: %d, %s", s.code, asJSON(t, a.fibres()))
	}
	form := filled(a.get(path))
	form.Set("length", "0.5 (0.25–0.75)")
	a.follow(a.post(path, form))
	if got := a.fibres()[0].Values["length"]; !near(got.Mid, 12.7) || !near(got.Low, 6.35) || !near(got.High, 19.05) {
		t.Errorf("half an inch is kept as %+v mm", got)
	}
}

// What cannot be meant is refused with one sentence at its field, and nothing
// that was typed is lost.
func TestOwnFibreRefuses(t *testing.T) {
	t.Parallel()
	a := withDenim(t)
	was := asJSON(t, a.fibres())
	for _, c := range []struct{ field, typed, says string }{
		{"name", "", "needs a name"},
		{"name", "abaca", "name of the handbook"},
		{"name", "Manila-Hemp", "abaca already"},
		{"name", "Hill denim", "twice"},
		{"name", "denim, blue", "divide a furnish"},
		{"name", "new", "say what it is"},
		{"like", "kzo", "did you mean kozo"},
		{"like", "hill denim", "did you mean denim rag"},
		{"density", "dense", "write one number"},
		{"density", "5", "0.05 and 1.5 g/cm³"},
		{"density", "0.6–0.4", "in this order"},
		{"shrink_most", "60", "0 and 45"},
		{"shrink_most", "0.5 (0.4–0.6)", "“shrinkage dried free, beaten without end” must lie above"},
		{"length", "3 kg", "length"},
		{"hours-lamp", "30", "24"},
		{"hours-book-text", "a day", "write one number"},
		{"price", "-3", "write one number"},
	} {
		form := filled(a.get("/studio/fibres/new?like=cotton+rag"))
		for name, text := range map[string]string{"name": "canvas", "note": "old sails", "yield": "80–95", "hours-cover": "3"} {
			form.Set(name, text)
		}
		form.Set(c.field, c.typed)
		s := a.post("/studio/fibres", form)
		if got := s.text("#f-" + c.field + "-error"); s.code != http.StatusUnprocessableEntity || !strings.Contains(strings.ToLower(got), strings.ToLower(c.says)) {
			t.Errorf("%s %q: status %d, at the field stands %q: %s", c.field, c.typed, s.code, got, s.text(".wrong-summary"))
		}
		if n := s.Find(".wrong-summary li").Length(); n != 1 {
			t.Errorf("%s %q: %d sentences: %s", c.field, c.typed, n, s.text(".wrong-summary"))
		}
		if s.Find("details:not([open]) #f-"+c.field).Length() > 0 {
			t.Errorf("%s %q: its group is folded", c.field, c.typed)
		}
		back := filled(s)
		for name := range form {
			if back.Get(name) != form.Get(name) {
				t.Errorf("%s %q: of %s is left %q, was %q", c.field, c.typed, name, back.Get(name), form.Get(name))
			}
		}
	}
	if got := asJSON(t, a.fibres()); got != was {
		t.Errorf("what was refused is kept: %s", got)
	}
}

// A fibre that papers are made with stays, under its name; the papers are named.
func TestOwnFibreStaysWhileUsed(t *testing.T) {
	t.Parallel()
	a := withDenim(t)
	remove := func() sheet {
		return a.post(denim+"/remove", url.Values{"revision": {filled(a.get(denim)).Get("revision")}})
	}
	const forms, asks = `form[action$="/remove"]`, `a[href$="?remove"]`
	if page, sure := a.get(denim), a.get(denim+"?remove"); page.Find(forms).Length() != 0 || page.Find(asks).Length() != 1 || sure.Find(forms).Length() != 1 ||
		sure.Find(forms+" input[name=revision]").AttrOr("value", "") != filled(page).Get("revision") || len(a.fibres()) != 1 {
		t.Errorf("it is not asked first whether to take it away: %s", sure.text("main"))
	}
	text, wrap := a.madeOf("Field text", "hill denim 70, abaca 30"), a.madeOf("Wrapper", "Hill Denim")
	page := a.get(denim)
	if got := page.Find(`a[href="/papers/` + text.ID + `"], a[href="/papers/` + wrap.ID + `"]`).Length(); got != 2 || page.Find(forms+", "+asks).Length() != 0 || a.get(denim+"?remove").Find(forms).Length() != 0 {
		t.Errorf("the page names %d papers, and may be asked to remove it: %s", got, page.text(".band"))
	}
	s := remove()
	if got := s.text(".wrong-summary"); s.code != http.StatusConflict || !strings.Contains(got, "Field text, Wrapper") || len(a.fibres()) != 1 {
		t.Errorf("removed while used: %d, %q", s.code, got)
	}
	form := filled(a.get(denim))
	form.Set("name", "brook denim")
	if s := a.post(denim, form); s.code != http.StatusUnprocessableEntity || !strings.Contains(s.text("#f-name-error"), "Field text, Wrapper") {
		t.Errorf("renamed while used: %d, %q", s.code, s.text("#f-name-error"))
	}
	// A promised brief asks for a revision that has it, though the paper has it no longer.
	if _, err := a.records.SaveBrief(t.Context(), studio.Brief{PaperID: text.ID, GoodSheets: 5, Sheet: text.Sheet, ConfidencePct: 90}); err != nil {
		t.Fatal(err)
	}
	for _, p := range []studio.Paper{text, wrap} {
		p.Design.Furnish = []plan.Part{{Fibre: "abaca", SharePct: 100}}
		if _, err := a.records.SavePaper(t.Context(), p); err != nil {
			t.Fatal(err)
		}
	}
	if s := remove(); s.code != http.StatusConflict || !strings.HasSuffix(s.text(".wrong-summary"), ": Field text.") {
		t.Errorf("removed while promised: %d, %q", s.code, s.text(".wrong-summary"))
	}
	briefs, err := a.records.Briefs(t.Context(), studio.BriefFilter{})
	if err != nil {
		t.Fatal(err)
	}
	a.post("/briefs/"+briefs[0].ID+"/settle", url.Values{"settled": {"yes"}})
	if s := remove(); s.code != http.StatusSeeOther || len(a.fibres()) != 0 {
		t.Errorf("no paper uses it: %d, %s", s.code, s.text("main"))
	}
}

// Two who change the same fibre do not overwrite one another.
func TestOwnFibreConflict(t *testing.T) {
	t.Parallel()
	a := withDenim(t)
	mine, theirs := filled(a.get(denim)), filled(a.get(denim))
	theirs.Set("shrink_most", "11 (8–14)")
	a.follow(a.post(denim, theirs))
	mine.Set("density", "0.5–0.7")
	s := a.post(denim, mine)
	said := s.text(".conflict")
	if s.code != http.StatusConflict || !strings.Contains(said, "9 (6–12)") || !strings.Contains(said, "11 (8–14)") || filled(s).Get("density") != "0.5–0.7" {
		t.Fatalf("status %d: %s", s.code, said)
	}
	if got := a.fibres()[0].Values["shrink_most"].Mid; got != 11 {
		t.Errorf("the other's %g was overwritten", got)
	}
	a.follow(a.post(denim, filled(s)))
	if got := a.fibres()[0].Values; got["density"].Mid != 0.6 || got["shrink_most"].Mid != 9 {
		t.Errorf("sent again knowingly: %+v", got)
	}
	if s := a.post(denim+"/remove", url.Values{"revision": {mine.Get("revision")}}); s.code != http.StatusConflict || len(a.fibres()) != 1 {
		t.Errorf("removed from an old page: %d", s.code)
	}
	mine = filled(a.get(denim))
	if s := a.post(denim+"/remove", url.Values{"revision": {mine.Get("revision")}}); s.code != http.StatusSeeOther {
		t.Fatalf("status %d", s.code)
	}
	s = a.post(denim, mine)
	if s.code != http.StatusConflict || !strings.Contains(s.text(".conflict"), "taken away") || s.Find("main form").AttrOr("action", "") != "/studio/fibres" {
		t.Fatalf("taken away meanwhile: %d, %s", s.code, s.text(".conflict"))
	}
	a.follow(a.post("/studio/fibres", filled(s)))
	if !slices.ContainsFunc(a.fibres(), func(o fibre.Own) bool { return o.Name == "hill denim" && o.Values["shrink_most"].Mid == 9 }) {
		t.Errorf("added anew: %+v", a.fibres())
	}
}

// The studio's own page keeps own fibres as they are.
func TestStudioPageKeepsOwnFibres(t *testing.T) {
	t.Parallel()
	a := withDenim(t)
	was := asJSON(t, a.fibres())
	if s := a.typedIn(nil, row{"felts": "30"}); s.code != http.StatusSeeOther || asJSON(t, a.fibres()) != was {
		t.Errorf("status %d: %s", s.code, asJSON(t, a.fibres()))
	}
	if got := newStudio(t).get("/studio").Find(`#kit-fibres a[href="/studio/fibres/new"]`).Length(); got != 1 {
		t.Errorf("a studio without own fibres has %d ways to add one", got)
	}
	if got := a.get("/handbook/fibres/abaca").Find(`form[action="/studio/fibres/new"] [name="like"]`).AttrOr("value", ""); got != "abaca" {
		t.Errorf("the handbook's abaca begins an own fibre from %q", got)
	}
}
