package journey_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"vatside/internal/studio"
	"vatside/internal/testkit/browser"
)

// keys types on the keyboard and counts every key pressed.
type keys struct {
	b       *browser.Browser
	pressed int
	touched int // blanks something was typed into or chosen in
}

func (k *keys) press(text string) {
	k.b.Do(chromedp.KeyEvent(text, enter))
	k.pressed += len([]rune(text))
}

// enter makes the key of that name one stroke, as it is on a keyboard: what a
// page prevents going down sends no letter afterwards.
func enter(p *input.DispatchKeyEventParams) {
	switch {
	case p.Key != "Enter":
	case p.Type == kb.KeyDown:
		p.Text = "\r"
	case p.Type == kb.KeyChar:
		p.Modifiers = int64(kb.ModifierCtrl) // a letter with it is not sent
	}
}

// blank types into the blank that has the focus and goes on to the next.
func (k *keys) blank(text string) {
	if text != "" {
		k.touched++
	}
	k.press(text + kb.Enter)
}

// at is the name of the field that has the focus.
func (k *keys) at() string {
	return browser.Get(k.b, chromedp.Evaluate[string](`document.activeElement.name || document.activeElement.textContent.trim()`))
}

// to goes on with the tabulator until the field has the focus.
func (k *keys) to(field string) {
	for range 60 {
		if k.at() == field {
			return
		}
		k.press(kb.Tab)
	}
}

// aCard is a finished card of sixty good sheets, as it is typed in: from the
// first blank on, Enter after each.
func (k *keys) aCard() {
	k.b.Do(chromedp.Focus(chromedp.CSS(`[name="fibre"]`)))
	k.blank("")     // as much as the card says
	k.blank("40.5") // three test sheets
	k.blank("52")   // humidity
	k.blank("")     // as many as the card says
	k.press(kb.ArrowUp + kb.ArrowUp)
	k.touched++
	k.blank("") // recharges as the card says
	k.press(" ")
	k.touched++
	k.blank("") // posts as the card says
	for _, post := range [][2]string{{"2", "371"}, {"", "368"}, {"1", "375"}, {"", "370"}} {
		k.blank("")
		k.blank(post[0])
		k.blank(post[1])
	}
	k.blank("") // ten at parting
	k.blank("") // the day stands there
	k.blank("3")
	k.blank("418")
	k.blank("295")
	k.blank("127.5")
	k.blank("54")
	k.blank("") // ten dry sheets
	k.blank("66")
	k.blank("12")
	k.blank("4")
	k.blank("1")
}

// What a card of sixty sheets may take at most.
const (
	mostKeys    = 100
	mostTouched = 40
)

// A card is typed in with the keyboard alone, its keys are counted, and what
// was learned makes the next plan's bands narrower, on the page.
func TestTheCardTypedBack(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	m := s.making()
	open(b, s.url+"/briefs/"+m.BriefID)
	before := map[string]float64{}
	for _, key := range narrowed {
		before[key] = width(t, b, key)
	}
	open(b, s.url+"/makings/"+m.ID+"/record")
	k := &keys{b: b}
	k.aCard()
	k.press(kb.Tab)
	k.press(kb.Tab)
	if got := k.at(); got != "Write it down" {
		t.Fatalf("at the end the focus is on %q", got)
	}
	k.press(kb.Enter)
	b.Do(chromedp.WaitVisible(chromedp.CSS(".making .lesson")))
	t.Logf("a card of sixty good sheets: %d keys pressed, %d blanks touched", k.pressed, k.touched)
	if k.pressed > mostKeys || k.touched > mostTouched {
		t.Errorf("%d keys, %d blanks touched; at most %d and %d", k.pressed, k.touched, mostKeys, mostTouched)
	}
	state, err := s.records.State(t.Context(), m.ID)
	if err != nil {
		t.Fatal(err)
	}
	// 86 sheets stand on the card, and three were kissed off on top of them.
	if state.KissedOff != 3 || state.Couched != int(m.Plan.Figures["sheets_couched"].Value) || state.Grades.Good != 66 || len(state.Parting) != 4 {
		t.Errorf("recorded %d kissed off, %d couched, %d good, %d weights at parting", state.KissedOff, state.Couched, state.Grades.Good, len(state.Parting))
	}
	if d := state.Dry; len(d) != 1 || d[0].Grams != 127.5 || d[0].RHPct != 54 || d[0].Sheets != 10 {
		t.Errorf("dry weights %v, want ten sheets of 127.5 g at 54 %%", d)
	}
	for _, want := range []string{"this making says", "is now reckoned with"} {
		if got := text(b, ".making"); !strings.Contains(got, want) {
			t.Errorf("the making does not say what it taught: no %q", want)
		}
	}
	open(b, s.url+"/briefs/"+m.BriefID)
	for _, key := range narrowed {
		if now := width(t, b, key); !(now < 0.9*before[key]) {
			t.Errorf("the band of %s was %g wide and is %g wide", key, before[key], now)
		}
	}
	if got := b.Complaints(); len(got) > 0 {
		t.Errorf("the pages complain: %q", got)
	}
}

// narrowed are figures a card tells of.
var narrowed = []string{"fibre_air_dry_g", "grammage_g_m2"}

var ends = regexp.MustCompile(`([\d.]+)(?:–| to )([\d.]+)`)

// width is how wide the band of a figure is said to be on the page.
func width(t *testing.T, b *browser.Browser, key string) float64 {
	t.Helper()
	said := text(b, "#figure-"+key+" .sure")
	e := ends.FindStringSubmatch(strings.ReplaceAll(said, "\u202f", ""))
	if e == nil {
		t.Fatalf("%s has no band: %q", key, said)
	}
	low, _ := strconv.ParseFloat(e[1], 64)
	high, _ := strconv.ParseFloat(e[2], 64)
	return high - low
}

// The first evening and the record are gone through without a pointer.
func TestKeyboardOnly(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	open(b, s.url)
	b.Do(chromedp.WaitVisible(chromedp.CSS(".questions")))
	k := &keys{b: b}
	k.to("good")
	k.press("60")
	k.to("Make the first card")
	k.press(kb.Enter)
	b.Do(chromedp.WaitVisible(chromedp.CSS(".promise")))
	k.to("Print the card")
	k.press(kb.Enter)
	makings := waitFor(t, func() int {
		list, err := s.records.Makings(t.Context(), studio.MakingFilter{})
		if err != nil {
			t.Fatal(err)
		}
		return len(list)
	})
	if makings != 1 {
		t.Fatalf("%d makings were begun", makings)
	}
	openAfterDownload(b, s.url+"/makings")
	k.to("picture") // past the words and what else a sheet may be like
	k.press(kb.Tab + kb.Tab + kb.Enter)
	b.Do(chromedp.WaitVisible(chromedp.CSS(".making")))
	k.to("Type the card in")
	k.press(kb.Enter)
	b.Do(chromedp.WaitVisible(chromedp.CSS(".record")))
	k.to("test-1-grams")
	k.press("38")
	k.to("good")
	k.press("58")
	k.to("Write it down")
	k.press(kb.Enter)
	b.Do(chromedp.WaitVisible(chromedp.CSS(".making")))
	if got := text(b, ".making"); !strings.Contains(got, "58 good") {
		t.Errorf("the grades are not on the making: %.300q", got)
	}
}

// waitFor asks until the answer is not nought, for ten seconds.
func waitFor(t *testing.T, ask func() int) int {
	t.Helper()
	for range 100 {
		if n := ask(); n != 0 {
			return n
		}
		time.Sleep(100 * time.Millisecond)
	}
	return 0
}
