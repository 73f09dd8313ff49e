package journey_test

import (
	"cmp"
	"encoding/json"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"vatside/internal/studio"
	"vatside/internal/testkit/browser"
)

// row is what is typed, or for a choice what is chosen, in blanks by name.
type row = map[string]string

// aStudio is a studio as its maker tells of it, page by page.
type aStudio struct {
	units   string           // metric where it says nothing
	evening row              // the first questions
	kit     map[string][]row // the lists of the studio page
	singles row              // its other blanks
	lots    []row
	paper   row
	brief   row
	right   func(c card)
}

// Five studios that have little in common. Each is set up as its maker would,
// from the first questions to the printed card, in a browser; what the card
// says is held against sums done by hand.
func TestFiveStudiosToTheCard(t *testing.T) {
	t.Parallel()
	for name, a := range map[string]aStudio{
		"abaca and flax": abacaAndFlax, "office waste in a kitchen": kitchen, "kozo in several dips": kozo,
		"denim and a two-pound beater": denim, "a teaching lab": teachingLab,
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s, b := serve(t), browser.Start(t)
			a.right(a.toTheCard(t, s, b))
		})
	}
}

// toTheCard goes through the pages as the maker would, and reads what plan and
// card say.
func (a aStudio) toTheCard(t *testing.T, s *site, b *browser.Browser) card {
	t.Helper()
	open(b, s.url+"/welcome")
	if other := `.units [value="` + cmp.Or(a.units, "metric") + `"][aria-pressed=`; browser.Get(b, chromedp.Evaluate[bool](`!!document.querySelector('`+other+`"false"]')`)) {
		click(b, other+`"false"]`, other+`"true"]`)
		loaded(b)
	}
	set(t, b, a.evening)
	send(t, b, ".promise")

	open(b, s.url+"/studio")
	unfold(b)
	kit := row{}
	maps.Copy(kit, a.singles)
	for key, list := range a.kit {
		had := browser.Get(b, chromedp.Evaluate[int](`document.querySelectorAll('[data-list="`+key+`"] > li').length`))
		for i, r := range list {
			if i >= had {
				b.Do(chromedp.Click(chromedp.CSS(`[name="do"][value="` + key + `.add"]`)))
			}
			for blank, typed := range r {
				kit[key+"-"+strconv.Itoa(i+1)+"-"+blank] = typed
			}
		}
	}
	set(t, b, kit)
	send(t, b, ".flash")

	for _, lot := range a.lots {
		open(b, s.url+"/store/new")
		set(t, b, lot)
		send(t, b, ".flash")
	}
	open(b, s.url+"/papers/new")
	set(t, b, a.paper)
	send(t, b, ".flash")

	open(b, s.url+"/briefs/new")
	papers := browser.Get(b, chromedp.Evaluate[map[string]string](`Object.fromEntries([...document.querySelectorAll("[name=paper] option")].map(o => [o.textContent.split(",")[0], o.value]))`))
	brief := maps.Clone(a.brief)
	brief["paper"] = papers[a.paper["name"]]
	set(t, b, brief)
	send(t, b, ".promise")
	c := card{T: t, figures: browser.Get(b, chromedp.Evaluate[row](figuresShown)), page: text(b, "main")}

	for _, complaint := range b.Complaints() {
		t.Errorf("a page complains: %s", complaint)
	}
	b.Do(chromedp.Click(chromedp.CSS(".acts form .act")))
	list := waitForMaking(t, s)
	c.print = printed(t, s.url+"/makings/"+list[0].ID+"/card.pdf")
	return c
}

// send sends a form and waits for what comes of it; a refusal fails the test.
func send(t *testing.T, b *browser.Browser, then string) {
	t.Helper()
	click(b, ".finish .act", then+", .wrong-summary, .plan .lead")
	loaded(b)
	if wrong := browser.Get(b, chromedp.Evaluate[string](`document.querySelector(".wrong-summary")?.textContent || (document.querySelector("`+then+`") ? "" : document.querySelector("main").textContent)`)); wrong != "" {
		t.Fatalf("refused: %s", strings.Join(strings.Fields(wrong), " "))
	}
}

// figuresShown are the figures of a plan's page by key, as they are read.
const figuresShown = `Object.fromEntries([...document.querySelectorAll(".figure[id^=figure-]")].map(f => [f.id.slice(7), f.querySelector(".value").textContent.trim()]))`

func waitForMaking(t *testing.T, s *site) (list []studio.Making) {
	t.Helper()
	waitFor(t, func() int { // the card is a download, no page
		var err error
		if list, err = s.records.Makings(t.Context(), studio.MakingFilter{}); err != nil {
			t.Fatal(err)
		}
		return len(list)
	})
	return list
}

// printed is the text of a card, its spaces made one.
func printed(t *testing.T, url string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "card.pdf")
	if err := os.WriteFile(file, []byte(fetch(t, url)), 0o600); err != nil {
		t.Fatal(err)
	}
	program, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("pdftotext is not installed")
	}
	out, err := exec.CommandContext(t.Context(), program, file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(strings.Fields(string(out)), " ")
}

// set types and chooses what a form shall hold; a blank the form has not, or
// that does not take it, fails the test.
func set(t *testing.T, b *browser.Browser, in row) {
	t.Helper()
	typed, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	if not := browser.Get(b, chromedp.Evaluate[string](`(typed => Object.entries(typed).filter(([name, text]) => {
		const blanks = [...document.querySelectorAll("main form [name='" + CSS.escape(name) + "']")];
		const one = blanks[0]?.type === "radio" ? blanks.find(e => [e.value, e.closest("label").querySelector("b").textContent].includes(text)) : blanks[0];
		if (!one) return true;
		if (one.type === "radio") one.click(); else one.value = text;
		one.dispatchEvent(new Event("input", {bubbles: true}));
		one.dispatchEvent(new Event("change", {bubbles: true}));
		return one.type === "radio" ? !one.checked : one.value !== text;
	}).map(e => e.join(" = ")).join("; "))(`+string(typed)+`)`)); not != "" {
		t.Fatalf("%s: the form does not take %s", browser.Get(b, chromedp.Evaluate[string](`location.pathname`)), not)
	}
}
