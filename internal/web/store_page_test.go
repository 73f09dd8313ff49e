package web_test

import (
	"math"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"vatside/internal/studio"
)

// put puts a lot on the shelf through its page, as somebody types it, and
// returns its address.
func (a *aStudio) put(typed url.Values) string {
	a.t.Helper()
	form := filled(a.get("/store/new"))
	for name := range typed {
		form.Set(name, typed.Get(name))
	}
	s := a.post("/store", form)
	if s.code != http.StatusSeeOther {
		a.t.Fatalf("%v: status %d: %s", typed, s.code, s.text(".wrong-summary"))
	}
	return s.to()
}

// amountForm is the lot page's first form with what is typed into it.
func (a *aStudio) amountForm(lot, act, amount string) url.Values {
	form := filled(a.get(lot))
	form.Set("act", act)
	form.Set("amount", amount)
	return form
}

// saying is the lot page's second form, which says what it is.
func saying(s sheet) url.Values {
	s.Find("main form").First().Remove()
	return filled(s)
}

func (a *aStudio) lot(path string) studio.Lot {
	a.t.Helper()
	l, _, err := a.records.Lot(a.t.Context(), strings.TrimPrefix(path, "/store/"))
	if err != nil {
		a.t.Fatal(err)
	}
	return l
}

func TestEmptyShelf(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	page := a.get("/store")
	if page.code != http.StatusOK || !strings.Contains(page.text(".empty"), "Nothing is on the shelf yet") {
		t.Errorf("status %d: %s", page.code, page.text("main"))
	}
	if href := page.Find("main a.act").AttrOr("href", ""); href != "/store/new" {
		t.Errorf("the way on leads to %q", href)
	}
	for _, path := range []string{"/store/none"} {
		if s := a.get(path); s.code != http.StatusNotFound {
			t.Errorf("%s: status %d", path, s.code)
		}
	}
}

// Amounts are put down as people have them.
func TestPutOnTheShelfAsTyped(t *testing.T) {
	t.Parallel()
	const lb = 453.59237 // g, exact
	for _, c := range []struct {
		typed         url.Values
		grams, water  float64 // water below 0: not said
		shows, inList string
	}{
		{url.Values{"what": {"abaca"}, "amount": {"3 kg"}}, 3000, -1, "3000 g", "3000 g"},
		{url.Values{"what": {"abaca"}, "amount": {"1200"}}, 1200, -1, "1200 g", "1200 g"},
		{url.Values{"what": {"cotton rag"}, "form": {"scraps"}, "amount": {"27 lb wet at 10 %"}}, 27 * lb, 90, "dry", "dry"},
		{url.Values{"what": {"abaca"}, "form": {"stock"}, "amount": {"20 L"}, "thick": {"30"}}, 20000, 97, "20 L, 600 g of it dry fibre", "Stock of 30 g/L"},
		{url.Values{"what": {"flax"}, "amount": {"2 kg"}, "moisture": {"8.5"}, "price": {"14.20"}, "name": {"Tall bale"}}, 2000, 8.5, "Tall bale", "14.20 EUR a kilogram"},
	} {
		a := newStudio(t)
		path := a.put(c.typed)
		l := a.lot(path)
		if math.Abs(l.AmountG-c.grams) > 1e-3 {
			t.Errorf("%v: %g g, want %g", c.typed, l.AmountG, c.grams)
		}
		if c.water < 0 != (l.MoisturePct == nil) || c.water >= 0 && math.Abs(*l.MoisturePct-c.water) > 1e-6 {
			t.Errorf("%v: water %v, want %g %%", c.typed, l.MoisturePct, c.water)
		}
		spaced := strings.NewReplacer("\u00a0", " ", "\u202f", " ")
		if got := spaced.Replace(a.get(path).text("article")); !strings.Contains(got, c.shows) {
			t.Errorf("%v: the lot's page lacks %q: %.200s", c.typed, c.shows, got)
		}
		if got := spaced.Replace(a.get("/store").text(".lots")); !strings.Contains(got, c.inList) {
			t.Errorf("%v: the list lacks %q: %.200s", c.typed, c.inList, got)
		}
	}
}

// What cannot be meant is refused with one sentence at its field, and nothing
// that was typed is lost.
func TestShelfRefuses(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	for _, c := range []struct{ field, typed, says string }{
		{"amount", "", "how much"},
		{"amount", "a sackful", "write it like"},
		{"amount", "-3 kg", ""},
		{"what", "", "which fibre or additive"},
		{"moisture", "140", "between 0 and 99"},
		{"price", "dear", "number"},
		{"keep-by", "next week", "year-month-day"},
		{"since", "1 May", "year-month-day"},
	} {
		form := filled(a.get("/store/new"))
		for name, text := range map[string]string{"what": "abaca", "amount": "3 kg", "note": "top shelf", "name": "Blue bale"} {
			form.Set(name, text)
		}
		form.Set(c.field, c.typed)
		s := a.post("/store", form)
		at := "#f-" + c.field + "-error"
		if got := s.text(at); s.code != http.StatusUnprocessableEntity || got == "" || !strings.Contains(strings.ToLower(got), c.says) {
			t.Errorf("%s %q: status %d, at the field stands %q: %s", c.field, c.typed, s.code, got, s.text(".wrong-summary"))
		}
		back := filled(s)
		for name := range form {
			if back.Get(name) != form.Get(name) {
				t.Errorf("%s %q: of %s is left %q, was %q", c.field, c.typed, name, back.Get(name), form.Get(name))
			}
		}
	}
	form := filled(a.get("/store/new"))
	form.Set("what", "abaca")
	form.Set("form", "stock")
	form.Set("amount", "20 L")
	if s := a.post("/store", form); s.code != http.StatusUnprocessableEntity || !strings.Contains(s.text("#f-moisture-error"), "how thick") {
		t.Errorf("stock without its consistency: %d, %s", s.code, s.text(".wrong-summary"))
	}
	if n := a.get("/store").Find(".lots a").Length(); n != 0 {
		t.Errorf("%d lots were put there by what was refused", n)
	}
}

// What comes, is weighed and is thrown away changes the amount, once for each
// form however often it is sent, and stays readable.
func TestAmountThroughThePage(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	path := a.put(url.Values{"what": {"abaca"}, "amount": {"3 kg"}, "moisture": {"10"}})
	for _, c := range []struct {
		act, amount, says string
		left              float64
	}{
		{"received", "500 g", "500 g came", 3500},
		{"thrown", "1 kg", "1000 g thrown away", 2500},
		{"count", "2 kg", "Counted: 500 g less than thought", 2000},
		{"received", "1 kg wet at 90 %", "1000 g came", 3000},
	} {
		form := a.amountForm(path, c.act, c.amount)
		for range 2 {
			a.follow(a.post(path+"/amount", form))
		}
		if got := a.lot(path).AmountG; got != c.left {
			t.Errorf("%s %s: %g g are left, want %g", c.act, c.amount, got, c.left)
		}
		if got := strings.NewReplacer("\u00a0", " ").Replace(a.get(path).text(".history li:first-child")); !strings.Contains(got, c.says) {
			t.Errorf("the history begins with %q, want %q", got, c.says)
		}
	}
	for _, c := range []struct{ act, amount, says string }{
		{"received", "a sack", "write it like"},
		{"received", "", "how much"},
		{"received", "2 kg wet at 20 %", "holds 10 % of water"},
	} {
		s := a.post(path+"/amount", a.amountForm(path, c.act, c.amount))
		if got := s.text("#f-amount-error"); s.code != http.StatusUnprocessableEntity || !strings.Contains(strings.ToLower(got), c.says) || filled(s).Get("amount") != c.amount {
			t.Errorf("%s %q: status %d, %q", c.act, c.amount, s.code, got)
		}
	}
	if got := a.lot(path).AmountG; got != 3000 {
		t.Errorf("%g g after what was refused", got)
	}
	dry := a.put(url.Values{"what": {"abaca"}, "amount": {"3 kg"}, "name": {"not said how wet"}})
	if s := a.post(dry+"/amount", a.amountForm(dry, "received", "2 kg wet at 20 %")); !strings.Contains(s.text("#f-amount-error"), "was not said") {
		t.Errorf("water in a lot of unknown water: %d, %s", s.code, s.text(".wrong-summary"))
	}
}

// A form that was sent, changed after going back and sent again is told, not
// dropped; sent once more, knowingly, it counts.
func TestAmountSentAgainWithAnotherNumber(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	path := a.put(url.Values{"what": {"abaca"}, "amount": {"3 kg"}})
	form := a.amountForm(path, "received", "500 g")
	a.follow(a.post(path+"/amount", form))
	form.Set("amount", "700 g")
	s := a.post(path+"/amount", form)
	if s.code != http.StatusConflict || a.lot(path).AmountG != 3500 || filled(s).Get("amount") != "700 g" {
		t.Fatalf("status %d, %g g, typed %q", s.code, a.lot(path).AmountG, filled(s).Get("amount"))
	}
	a.follow(a.post(path+"/amount", filled(s)))
	if got := a.lot(path).AmountG; got != 4200 {
		t.Errorf("%g g, want 4200", got)
	}
	fresh := filled(a.get("/store/new"))
	fresh.Set("what", "flax")
	fresh.Set("amount", "1 kg")
	first := a.post("/store", fresh)
	if again := a.post("/store", fresh); again.to() != first.to() {
		t.Errorf("the same form made %q and %q", first.to(), again.to())
	}
	fresh.Set("amount", "2 kg")
	if s := a.post("/store", fresh); s.code != http.StatusConflict || filled(s).Get("entry") == fresh.Get("entry") {
		t.Errorf("changed and sent again: status %d", s.code)
	}
}

// Two who say at once what a lot is are set side by side; what was typed stays
// and can be put on top.
func TestLotSavedByTwo(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	path := a.put(url.Values{"what": {"abaca"}, "amount": {"3 kg"}, "note": {"dusty"}})
	mine, theirs := saying(a.get(path)), saying(a.get(path))
	theirs.Set("note", "damp")
	a.follow(a.post(path, theirs))
	mine.Set("note", "moth-eaten")
	s := a.post(path, mine)
	if got := s.text(".conflict"); s.code != http.StatusConflict || !strings.Contains(got, "moth-eaten") || !strings.Contains(got, "damp") {
		t.Fatalf("status %d: %s", s.code, got)
	}
	if s.Find("details.more[open]").Length() == 0 {
		t.Error("the form is folded away")
	}
	a.follow(a.post(path, saying(s)))
	if got := a.lot(path).Note; got != "moth-eaten" {
		t.Errorf("the note is %q", got)
	}
	again := saying(a.get(path))
	again.Set("moisture", "140")
	if s := a.post(path, again); s.code != http.StatusUnprocessableEntity || !strings.Contains(s.text("#f-moisture-error"), "etween 0 and 99") {
		t.Errorf("status %d: %s", s.code, s.text(".wrong-summary"))
	}
}

// What must be used first stands first; what is past its day says so; what is
// used up is folded away, and less than nothing asks to be counted.
func TestShelfSaysWhatIsUrgent(t *testing.T) {
	t.Parallel()
	a := newStudio(t) // on 2030-05-03
	stock := url.Values{"what": {"abaca"}, "form": {"stock"}, "amount": {"10 L"}, "thick": {"30"}}
	for name, day := range map[string]string{"past": "2030-05-02", "today": "2030-05-03", "in a week": "2030-05-10", "later": "2030-05-11"} {
		stock.Set("name", name)
		stock.Set("keep-by", day)
		a.put(stock)
	}
	list := a.get("/store")
	var names []string
	for _, n := range list.Find("section:has(#soon) .lots b").EachIter() {
		names = append(names, n.Text())
	}
	if got := strings.Join(names, ", "); got != "past, today, in a week" {
		t.Errorf("to be used soon: %s", got)
	}
	if got := list.text("section:has(#soon) .late"); got != "past its day, 2 May" && !strings.HasPrefix(got, "past its day") || list.Find("section:has(#soon) .late").Length() != 1 {
		t.Errorf("late: %q", got)
	}
	path := a.put(url.Values{"what": {"flax"}, "amount": {"1 kg"}, "name": {"all of it"}})
	a.follow(a.post(path+"/amount", a.amountForm(path, "thrown", "1 kg")))
	if got := a.get("/store").text("details .lots"); !strings.Contains(got, "all of it") {
		t.Errorf("used up: %q", got)
	}
	a.follow(a.post(path+"/amount", a.amountForm(path, "thrown", "200 g")))
	if got := a.get(path).text(".warning"); !strings.Contains(got, "More was taken than there was") {
		t.Errorf("less than nothing: %q", got)
	}
}

// A making takes from the shelf through its record, gives back when the record
// is put right, and what it left is kept from its page.
func TestLeftoverFromAMaking(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	form := filled(a.get("/makings/" + m.ID + "/record"))
	form.Set("stock-left", "4 L")
	page := a.follow(a.post("/makings/"+m.ID+"/record", form))
	if got := page.text(".left"); !strings.Contains(got, "of stock") {
		t.Fatalf("nothing is left: %q", got)
	}
	keep := a.post("/makings/"+m.ID+"/keep", url.Values{"form": {"stock"}})
	lot := a.lot(keep.to())
	if lot.AmountG != 4000 || lot.FromMaking != m.ID || lot.KeepBy != "2030-05-08" {
		t.Errorf("kept %+v", lot)
	}
	if got := a.get(keep.to()).Find(`a[href="/makings/` + m.ID + `"]`).Length(); got == 0 {
		t.Error("the lot does not lead back to its making")
	}
	if again := a.post("/makings/"+m.ID+"/keep", url.Values{"form": {"stock"}}); again.to() != keep.to() {
		t.Errorf("kept twice: %s", again.to())
	}
}

// The sheets of a graded making go on the shelf, counted, and from there lead
// to making them again and to their tag; fewer are there when some are sold.
func TestFinishedSheetsOnTheShelf(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	a.write(m.ID, "sorted", studio.Post{Post: 1, Pulled: 30}, studio.WeighedDry{Sheets: 10, Grams: 63, RHPct: 50}, studio.Graded{Good: 24, Retree: 3, Broke: 1})
	page := a.get("/makings/" + m.ID)
	if got := page.text("#left ~ .main"); !strings.Contains(got, "24 good sheets") || !strings.Contains(got, "3 retree sheets") {
		t.Fatalf("for the shelf: %q", got)
	}
	keep := a.post("/makings/"+m.ID+"/keep", url.Values{"form": {"sheets"}})
	a.follow(a.post("/makings/"+m.ID+"/keep", url.Values{"form": {"retree"}}))
	path := keep.to()
	lot := a.get(path)
	if lot.text("h1") != "24 sheets" || !strings.Contains(lot.text(".lead"), "g/m²") || lot.Find(`a[href="/makings/`+m.ID+`/again"]`).Length() != 1 ||
		lot.Find(`a[href="/makings/`+m.ID+`/labels"]`).Length() != 1 || lot.Find("[name=moisture], [name=what], [name=form]").Length() != 0 {
		t.Errorf("the lot: %q %q", lot.text("h1"), lot.text(".opening"))
	}
	if got := a.get("/store").text(".card"); !strings.Contains(got, "Finished sheets") || !strings.Contains(got, "27 sheets together") || !strings.Contains(got, m.PaperName) {
		t.Errorf("the shelf: %q", got)
	}
	sold := a.follow(a.post(path+"/amount", a.amountForm(path, "gone", "9")))
	if sold.text("h1") != "15 sheets" || !strings.Contains(sold.text(".history"), "9 sheets sold, given or used") {
		t.Errorf("after a sale: %q, %q", sold.text("h1"), sold.text(".history"))
	}
	for _, bad := range []string{"", "0", "1.5", "9 g", "-3"} {
		if s := a.post(path+"/amount", a.amountForm(path, "gone", bad)); s.code != http.StatusUnprocessableEntity || s.text("#f-amount-error") == "" {
			t.Errorf("%q sheets sold: %d %q", bad, s.code, s.text(".wrong-summary"))
		}
	}
	if got := a.follow(a.post(path+"/amount", a.amountForm(path, "gone", "17"))).text(".warning"); !strings.Contains(got, "by 2 sheets") {
		t.Errorf("more sold than there were: %q", got)
	}
	if got := a.follow(a.post(path+"/amount", a.amountForm(path, "count", "0"))).text("h1"); got != "0 sheets" {
		t.Errorf("counted none: %q", got)
	}
	form := saying(a.get(path))
	form.Set("name", "Spring sheets")
	if got := a.follow(a.post(path, form)).text(".strip-name"); got != "Spring sheets" {
		t.Errorf("called %q", got)
	}
	if s := a.get("/makings/" + m.ID); s.Find(`a[href="`+path+`"]`).Length() != 1 {
		t.Error("the making does not lead to its sheets")
	}
}
