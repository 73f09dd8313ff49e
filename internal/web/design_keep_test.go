package web_test

import (
	"net/http"
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"vatside/internal/plan"
	"vatside/internal/studio"
)

// Of two papers that both cannot be made it is said why.
func TestCompareWhatCannotBeMade(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	profile, err := a.records.Profile(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	vat := 10.0
	profile.Kit = plan.Studio{VatL: &vat}
	if _, err := a.records.SaveProfile(t.Context(), profile); err != nil {
		t.Fatal(err)
	}
	large := func(p *studio.Paper) { p.Sheet = plan.Sheet{LongMM: 2000, ShortMM: 1500, Edges: "deckle"} }
	one, two := a.aPaper(large), a.aPaper(large)
	page := a.get("/papers/compare?a=" + one.ID + "&b=" + two.ID)
	if n := page.Find("p.warning").Length(); page.code != http.StatusOK || n != 2 || !strings.Contains(page.text("main"), "The two designs say the same") {
		t.Errorf("status %d, %d reasons: %s", page.code, n, page.text("main"))
	}
}

// What cannot be made is answered with its sentence at the field, and nothing
// that was typed is lost, asked or kept.
func TestDesignImpossible(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	profile, err := a.records.Profile(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	vat := 10.0
	profile.Kit = plan.Studio{VatL: &vat}
	if _, err := a.records.SaveProfile(t.Context(), profile); err != nil {
		t.Fatal(err)
	}
	p := a.aPaper(func(p *studio.Paper) { p.Sheet = plan.Sheet{LongMM: 210, ShortMM: 148, Edges: "deckle"} })
	at := "/papers/" + p.ID + "/design"
	for _, c := range []struct {
		change      row
		field, says string
	}{
		{row{"grammage": "5000"}, "grammage", "3000 g/m²"},
		{row{"grammage": "ten"}, "grammage", "is not a grammage"},
		{row{"grammage": ""}, "grammage", "how heavy the paper is"},
		{row{"size": "2 m x 1.5 m"}, "size", "larger vat or a smaller sheet"},
		{row{"size": "A44"}, "size", "Write a size by name"},
		{row{"beating": "30"}, "beating", "24 h"},
		{row{"fibre-3": "abaka", "share-3": "20"}, "fibre-3", "abaca"},
		{row{"fibre-3": "kozo", "share-3": ""}, "share-3", "how much of it"},
		{row{"fibre-2": ""}, "fibre-2", "what this is"},
		{row{"additive-1": "calcium carbonate", "dose-1": "70 %"}, "dose-1", "60"},
		{row{"additive-1": "PEO", "dose-1": "900 mL/L"}, "dose-1", "500"},
		{row{"bath": "3"}, "bath", "gelatin"},
		{row{"good": "some"}, "good", "whole number"},
	} {
		c.change["change"] = "tried"
		asked := a.thought(at, c.change)
		form := filled(a.get(at))
		for name, typed := range c.change {
			form.Set(name, typed)
		}
		for how, page := range map[string]sheet{"asked": asked, "kept": a.post(at, form), "piece": a.get(at + "?only=answer&" + form.Encode())} {
			if page.code != http.StatusUnprocessableEntity || !strings.Contains(page.text(".short"), c.says) {
				t.Errorf("%v %s: status %d, in short %q", c.change, how, page.code, page.text(".short"))
			}
			if how == "piece" {
				continue
			}
			if got := page.text("#f-" + c.field + "-error"); !strings.Contains(got, c.says) {
				t.Errorf("%v %s: at %s stands %q, want %q", c.change, how, c.field, got, c.says)
			}
			for name, typed := range c.change {
				if got := filled(page).Get(name); got != typed {
					t.Errorf("%v %s: %s held %q and holds %q", c.change, how, name, typed, got)
				}
			}
		}
	}
	if got := a.present(p.ID); got.Revision != 1 {
		t.Errorf("a design that cannot be made was kept as revision %d", got.Revision)
	}
	// Switching the units after a refusal loses nothing either.
	form := filled(a.get(at))
	form.Set("grammage", "ten")
	form.Set("change", "tried")
	refused := a.post(at, form)
	back := a.post("/units", url.Values{"units": {"us"}, "back": {refused.Find("form.units [name=back]").AttrOr("value", "")}})
	if again := filled(a.get(back.to())); again.Get("grammage") != "ten" || again.Get("change") != "tried" {
		t.Errorf("after switching the units it holds %v", again)
	}
}

// Keeping makes a revision with the reason, and nothing before that is saved.
func TestDesignIsKept(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	p := a.aPaper(nil)
	at := "/papers/" + p.ID + "/design"
	form := filled(a.thought(at, row{"grammage": "140", "drying": "board"}))
	if a.present(p.ID).Revision != 1 {
		t.Error("asking alone saved something")
	}
	form.Set("change", "for heavier books")
	page := a.follow(a.post(at, form))
	now := a.present(p.ID)
	if now.Revision != 2 || now.Design.GrammageConditioned != 140 || now.Design.Drying != "board" || now.Change != "for heavier books" {
		t.Errorf("kept: %s", asJSON(t, now))
	}
	if got := page.text(".flash"); !strings.Contains(got, "revision 2") {
		t.Errorf("it says %q", got)
	}
	if got := page.text(".history"); !strings.Contains(got, "for heavier books") || !strings.Contains(got, "140 g/m², was 100 g/m²") {
		t.Errorf("its history: %q", got)
	}
}

// Two who think about the same paper do not overwrite one another: the second
// is told, sees the figures against the paper as it is by now, and may put
// theirs on top.
func TestDesignConflict(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	p := a.aPaper(nil)
	at := "/papers/" + p.ID + "/design"
	mine, theirs := filled(a.get(at)), filled(a.get(at))
	theirs.Set("grammage", "120")
	a.follow(a.post(at, theirs))
	// Reloaded, the page still stands against the revision it was begun from.
	again := a.get(at + "?" + mine.Encode())
	if was, _ := again.moved("Weight of a sheet"); again.text(".strip-end") != "against revision 1" || !about(was, 100*p.Sheet.LongMM*p.Sheet.ShortMM/1e6) { // of the first revision's 100 g/m²
		t.Errorf("reloaded it stands %s, a sheet of %g g", again.text(".strip-end"), was)
	}
	mine.Set("grammage", "90")
	mine.Set("change", "lighter")
	page := a.post(at, mine)
	if page.code != http.StatusConflict || !strings.Contains(page.text("[role=alert]"), "What you typed is kept") {
		t.Fatalf("status %d: %s", page.code, page.text("main"))
	}
	form := filled(page)
	if form.Get("grammage") != "90" || form.Get("change") != "lighter" || form.Get("revision") != "2" || page.text(".strip-end") != "against revision 2" {
		t.Errorf("it holds %v, %s", form, page.text(".strip-end"))
	}
	if was, now := page.moved("Weight of a sheet"); !about(was/now, 120.0/90) {
		t.Errorf("a sheet weighs %g and %g g, want as 120 to 90", was, now)
	}
	a.follow(a.post(at, form))
	if now := a.present(p.ID); now.Revision != 3 || now.Design.GrammageConditioned != 90 {
		t.Errorf("on top: %s", asJSON(t, now))
	}
}

func TestDesignOfANewPaper(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	form := filled(a.get("/papers/design?from=cover"))
	form.Set("name", "")
	refused := a.post("/papers/design", form)
	if refused.code != http.StatusUnprocessableEntity || !strings.Contains(refused.text("#f-name-error"), "Give the paper a name") {
		t.Errorf("without a name: status %d: %s", refused.code, refused.text("main"))
	}
	form = filled(refused)
	form.Set("name", "Slate cover")
	form.Set("grammage", "260")
	form.Set("fibre-3", "flax")
	form.Set("share-3", "100")
	page := a.follow(a.post("/papers/design", form))
	list, err := a.records.Papers(t.Context(), studio.PaperFilter{})
	if err != nil || len(list) != 1 {
		t.Fatalf("%d papers are kept, %v", len(list), err)
	}
	p := list[0]
	if p.Name != "Slate cover" || p.Revision != 1 || p.Design.Use != "cover" || p.Design.GrammageConditioned != 260 || page.text("h1") != "Slate cover" {
		t.Errorf("kept: %s", asJSON(t, p))
	}
	// Shares are parts of the whole: 50, 50 and 100 are a quarter, a quarter and a half.
	if f := p.Design.Furnish; len(f) != 3 || !near(f[0].SharePct, 25) || !near(f[2].SharePct, 50) {
		t.Errorf("of %s", asJSON(t, f))
	}
	if !strings.Contains(p.Note, "Stiff and tough") {
		t.Errorf("why it was begun so is not kept: %q", p.Note)
	}
}

// The piece that a script puts in place is the answer alone.
func TestDesignAnswerAlone(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	at := "/papers/" + a.aPaper(nil).ID + "/design"
	form := filled(a.get(at))
	form.Set("grammage", "140")
	piece := a.get(at + "?only=answer&" + form.Encode())
	if piece.code != http.StatusOK || strings.Contains(piece.raw, "<html") || piece.Find("form, h1").Length() != 0 {
		t.Fatalf("status %d: %.300s", piece.code, piece.raw)
	}
	if got := piece.text(`[data-answer="short"]`); !strings.Contains(got, "At the beater") || !strings.Contains(got, "longer") {
		t.Errorf("in short it says %q", got)
	}
	if was, now := piece.moved("Weight of a sheet"); !about(now/was, 1.4) {
		t.Errorf("a sheet weighs %g g, then %g g", was, now)
	}
	whole := a.get(at + "?" + form.Encode())
	for _, part := range []string{"short", "table"} {
		if s := `[data-answer="` + part + `"]`; whole.text(s) != piece.text(s) || piece.text(s) == "" {
			t.Errorf("the whole page says %q, the piece %q", whole.text(s), piece.text(s))
		}
	}
}

// In US units the page reads and is read in inches and ounces, and what was
// typed in one system means the same in the other.
func TestDesignInUSUnits(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	p := a.aPaper(func(p *studio.Paper) { p.Sheet.LongMM, p.Sheet.ShortMM = 254, 203.2 })
	at := "/papers/" + p.ID + "/design"
	asked := a.thought(at, row{"size": "300 x 240"})
	address := at + "?" + filled(asked).Encode()
	a.cookies["units"] = "us"
	us := a.get(address)
	form := filled(us)
	if form.Get("system") != "us" || !strings.Contains(form.Get("size"), "in") {
		t.Errorf("the size is shown as %q in %q", form.Get("size"), form.Get("system"))
	}
	if got := us.text(".answers"); !strings.Contains(got, "oz") || !regexp.MustCompile(`[0-9] in\b`).MatchString(got) || strings.Contains(got, " mm") {
		t.Errorf("it answers %.200q", got)
	}
	plain := a.get(at)
	if got := filled(plain).Get("size"); got != "10 × 8 in" && got != "10 x 8 in" {
		t.Errorf("the paper's own size is shown as %q", got)
	}
	form = filled(plain)
	form.Set("size", "12 x 9")
	a.follow(a.post(at, form))
	if now := a.present(p.ID); !near(now.Sheet.LongMM, 304.8) || !near(now.Sheet.ShortMM, 228.6) {
		t.Errorf("12 x 9 in is kept as %s", asJSON(t, now.Sheet))
	}
}

func TestCompare(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	if page := a.get("/papers/compare"); page.code != http.StatusOK || page.Find(`a[href="/papers/design"]`).Length() != 1 {
		t.Errorf("without papers: status %d: %s", page.code, page.text("main"))
	}
	light := a.aPaper(nil)
	heavy := a.aPaper(func(p *studio.Paper) { p.Name, p.Design.GrammageConditioned = "Heavy text", 200 })
	page := a.get("/papers/compare?a=" + light.ID + "&b=" + heavy.ID)
	if was, now := page.moved("Weight of a sheet"); page.code != http.StatusOK || !about(now/was, 2) {
		t.Errorf("status %d, sheets of %g and %g g", page.code, was, now)
	}
	if was, now := page.moved("Grammage, conditioned"); was != 100 || now != 200 {
		t.Errorf("the designs differ by %g and %g g/m²", was, now)
	}
	// Two revisions of one paper; the later beside the one before it unless asked.
	changed := heavy
	changed.Design.SurfaceSize, changed.Design.SurfaceWay, changed.Change = "gelatin", "brushed", "for the pen"
	a.saved(changed)
	page = a.get("/papers/compare?a=" + heavy.ID)
	if form := filled(page); form.Get("a") != heavy.ID || form.Get("b") != heavy.ID+".1" {
		t.Errorf("compared are %v", form)
	}
	if got := page.text(".band-plain"); !strings.Contains(got, "Gelatin, brushed") || strings.Contains(got, "Grammage") {
		t.Errorf("they differ: %.300q", got)
	}
	if form := filled(a.get("/papers/compare?a=" + heavy.ID + ".2&b=" + light.ID)); form.Get("a") != heavy.ID {
		t.Errorf("the present revision by its number: %v", form)
	}
	if got := a.get("/papers/compare?a=" + light.ID + "&b=" + light.ID).text(".band-plain"); !strings.Contains(got, "say the same") {
		t.Errorf("beside itself: %.200q", got)
	}
	for address, want := range map[string]int{"?a=nothing": 404, "?a=" + light.ID + ".7": 404, "?a=" + light.ID + "&good=few": 422} {
		if page := a.get("/papers/compare" + address); page.code != want {
			t.Errorf("%s: status %d, want %d", address, page.code, want)
		}
	}
}

// What hand and ear say of a making stands beside the design it was made by.
func TestHandBesideTheDesign(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	p := a.aPaper(nil)
	for i, says := range []studio.HandSays{{Handle: "limp", Rattle: "2"}, {Handle: "firm", Tooth: "5", Remark: "Rings when it is shaken."}, {Remark: "Like cloth."}} {
		b, err := a.records.SaveBrief(t.Context(), studio.Brief{PaperID: p.ID, GoodSheets: 20, Sheet: p.Sheet, ConfidencePct: 90})
		if err != nil {
			t.Fatal(err)
		}
		m, err := a.records.StartMaking(t.Context(), b.ID, plan.Request{Paper: p.Design, Sheet: p.Sheet}, plan.Plan{})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := a.records.Record(t.Context(), m.ID, studio.NewEvent("hand-"+strconv.Itoa(i), morning.Add(-time.Hour), says)); err != nil {
			t.Fatal(err)
		}
		if page := a.get("/makings/" + m.ID); page.code != http.StatusOK || !strings.Contains(page.text(".making"), says.All()) {
			t.Errorf("%+v: the making's page: status %d", says, page.code)
		}
	}
	a.saved(p)
	for _, at := range []string{"/papers/" + p.ID, "/papers/" + p.ID + "/design"} {
		page := a.get(at)
		if n := page.Find(`[aria-labelledby="hands"] .line`).Length(); n != 3 {
			t.Errorf("%s: %d makings are told of, want 3", at, n)
		}
		if got := page.text(`[aria-labelledby="hands"]`); !strings.Contains(got, "Handle: firm, tooth 5 of 5. Rings when it is shaken. of revision 1") || !strings.Contains(got, "Like cloth. of revision 1") {
			t.Errorf("%s: the hand says %q", at, got)
		}
	}
	// Beside one another, each revision has its own.
	page := a.get("/papers/compare?a=" + p.ID + "&b=" + p.ID + ".1")
	if got := page.text(`[aria-labelledby="hands"]`); !strings.Contains(got, "revision 2Nothing is written down of it.") || page.Find(`[aria-labelledby="hands"] .line`).Length() != 3 {
		t.Errorf("side by side the hand says %q", got)
	}
}
