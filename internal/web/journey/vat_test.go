package journey_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"vatside/internal/studio"
	"vatside/internal/testkit/browser"
)

// vatPage is the live page of a making on one device.
type vatPage struct {
	t testing.TB
	b *browser.Browser
	m studio.Making
}

// atVat opens the page; guard is what its own setting for repeats is set to, s,
// "" leaves it.
func (s *site) atVat(b *browser.Browser, m studio.Making, guard string) *vatPage {
	s.t.Helper()
	v := &vatPage{s.t, b, m}
	b.View(390, 844, browser.Light)
	open(b, s.url+"/makings/"+m.ID+"/vat")
	v.saved()
	if guard != "" {
		click(b, `[data-open="more"]`, `[name="guard"]`)
		v.types(`[name="guard"]`, guard+kb.Tab)
		b.Do(chromedp.Click(chromedp.CSS(`dialog[open] [data-close]`)), chromedp.WaitNotVisible(chromedp.CSS(`[name="guard"]`)))
	}
	return v
}

// press presses keys or pedals, one after the other.
func (v *vatPage) press(keys ...string) {
	v.t.Helper()
	for _, k := range keys {
		v.b.Do(chromedp.KeyEvent(k))
	}
}

// said is what the page shows at one moment.
type said struct {
	N               int
	Big, More, Line string
	Of, Notes, Word string
}

func (v *vatPage) said() said {
	v.t.Helper()
	return browser.Get(v.b, chromedp.Evaluate[said](`(() => { const of = (n) => document.querySelector("[data-" + n + "]").textContent;
		return {N: Number(of("n")), Big: of("big"), More: of("more"), Line: of("line"), Of: of("of"), Notes: of("notes"), Word: of("word")} })()`))
}

// counts fails unless the page shows so many sheets, at once.
func (v *vatPage) counts(n int) {
	v.t.Helper()
	if got := v.said(); got.N != n {
		v.t.Fatalf("the page counts %d sheets, and %d are couched (%+v)", got.N, n, got)
	}
}

// until waits until the page says so by its script.
func (v *vatPage) until(what string) {
	v.t.Helper()
	for end := time.Now().Add(mostWait); !browser.Get(v.b, chromedp.Evaluate[bool](what)); time.Sleep(50 * time.Millisecond) {
		if time.Now().After(end) {
			v.t.Fatalf("after %v the page still shows %+v", mostWait, v.said())
		}
	}
}

// mostWait is far above what anything takes on a loaded machine.
const mostWait = 45 * time.Second

// saved waits until all is with the program.
func (v *vatPage) saved() {
	v.t.Helper()
	v.until(`document.querySelector("[data-vat]")?.dataset.waiting === "0" && document.querySelector("[data-line]").textContent === "all saved"`)
}

// types types over what a blank holds.
func (v *vatPage) types(blank, text string) {
	v.t.Helper()
	v.b.Do(chromedp.Evaluate[chromedp.Void](`document.querySelector(`+"`"+blank+"`"+`).select()`), chromedp.KeyEvent(text))
}

// weigh types a weighing; blanks by name.
func (v *vatPage) weigh(way string, blanks map[string]string, more ...string) {
	v.t.Helper()
	form := `[data-weigh] `
	click(v.b, `[data-open="weigh"]`, form+`[name="grams"]`)
	v.b.Do(chromedp.Click(chromedp.CSS(form + `[value="` + way + `"]`)))
	for name, text := range blanks {
		v.types(form+`[name="`+name+`"]`, text)
	}
	for _, name := range more {
		v.b.Do(chromedp.Click(chromedp.CSS(form + `[name="` + name + `"]`)))
	}
	v.b.Do(chromedp.Click(chromedp.CSS(form+`.act`)), chromedp.WaitNotVisible(chromedp.CSS(form+`[name="grams"]`)))
}

// tub is a vat whose truth the page does not know: it gives what it holds, and
// is changed by what the page says to pour.
type tub struct {
	litres, fibre           float64 // L, g
	area, depth, hand, left float64 // m², mm, fraction, solids of a couched sheet
	strong                  float64 // of the stock, g/L
	rng                     *rand.Rand
	sheets                  []float64 // bone-dry, g
}

// Off by this much is what the trade's own numbers are; the same as the
// simulated vats of the program are held to.
const (
	depthOff   = 1.15
	handOfTest = 0.04
)

func tubOf(t *testing.T, m studio.Making) (*tub, studio.Vat) {
	t.Helper()
	v, err := studio.Follow(m, nil)
	if err != nil {
		t.Fatal(err)
	}
	p := v.Prior
	return &tub{litres: float64(p.Vat), fibre: float64(p.FillStock) * float64(p.Stock), area: float64(p.Area), depth: float64(p.Depth) * depthOff,
		hand: handOfTest, left: float64(p.Couched), strong: float64(p.Stock), rng: rand.New(rand.NewPCG(4, 15))}, v
}

func (w *tub) pull() {
	g := w.fibre / w.litres * w.depth * w.area * (1 + w.hand*w.rng.NormFloat64())
	w.fibre -= g
	w.litres -= g * (1/w.left - 1) / 1000
	w.sheets = append(w.sheets, g)
}

// kiss lets the last sheet go back.
func (w *tub) kiss() {
	g := w.sheets[len(w.sheets)-1]
	w.sheets = w.sheets[:len(w.sheets)-1]
	w.fibre += g
	w.litres += g * (1/w.left - 1) / 1000
}

func (w *tub) weigh(from, to int) float64 {
	sum := 0.0
	for _, g := range w.sheets[from-1 : to] {
		sum += g
	}
	return sum
}

var (
	stockSaid = regexp.MustCompile(`([\d,.]+) (m?L) of stock`)
	jugsSaid  = regexp.MustCompile(`(?:^|\s)(\d*)([¼½¾]?) jugs?`)
	waterSaid = regexp.MustCompile(`([\d,.]+) (m?L) of water (in|off)`)
	scoopSaid = regexp.MustCompile(`(?i)take ([\d,.]+) (m?L) off with its fibre`)
)

// pour does what is said, and tells how much stock and water that was, mL and L.
func (w *tub) pour(text string) (stock, water, scooped float64) {
	amount := func(m []string, milli float64) float64 {
		v, _ := strconv.ParseFloat(strings.ReplaceAll(m[1], ",", ""), 64)
		if m[2] == "mL" {
			return v / 1000 * milli
		}
		return v * milli
	}
	text = strings.NewReplacer("\u202f", "", "\u00a0", " ").Replace(text)
	if m := stockSaid.FindStringSubmatch(text); m != nil {
		stock = amount(m, 1000)
	} else if m := jugsSaid.FindStringSubmatch(text); m != nil && m[1]+m[2] != "" {
		whole, _ := strconv.ParseFloat("0"+m[1], 64)
		stock = 1000 * (whole + map[string]float64{"": 0, "¼": 0.25, "½": 0.5, "¾": 0.75}[m[2]])
	}
	if m := waterSaid.FindStringSubmatch(text); m != nil {
		water = amount(m, 1)
		if m[3] == "off" {
			water = -water
		}
	}
	if m := scoopSaid.FindStringSubmatch(text); m != nil {
		scooped = amount(m, 1)
	}
	w.fibre *= 1 - scooped/w.litres
	w.litres += stock/1000 + water - scooped
	w.fibre += stock / 1000 * w.strong
	return stock, water, scooped
}

// events are the entries of a making, in their order.
func (s *site) events(m studio.Making) []studio.Event {
	s.t.Helper()
	list, err := s.records.Events(s.t.Context(), m.ID)
	if err != nil {
		s.t.Fatal(err)
	}
	return list
}

// lines tells what the record holds, an entry a line; changes of the water by
// less than a hundredth of the vat, which the page does not speak of, are left
// out.
func (s *site) lines(m studio.Making, vat float64) []string {
	var list []string
	for _, h := range studio.Holds(s.events(m)) {
		switch b := h.Body.(type) {
		case studio.Post:
			list = append(list, fmt.Sprintf("post %d: %d pulled, %d kissed off", b.Post, b.Pulled, b.KissedOff))
		case studio.Recharge:
			list = append(list, fmt.Sprintf("after %d: stock %.0f", *b.AfterSheet, b.StockML))
		case studio.TestWeighed:
			list = append(list, fmt.Sprintf("%d from %d: %.1f g", b.Sheets, b.From, b.Grams))
		case studio.WeighedAtParting:
			list = append(list, fmt.Sprintf("%d of post %d: %.1f g", b.Sheets, b.Post, b.Grams))
		case studio.VatChanged:
			if b.StockOffL > 0 || math.Abs(b.WaterL) >= 0.01*vat {
				list = append(list, fmt.Sprintf("scooped %.3g, water %.3g", b.StockOffL, b.WaterL))
			}
		default:
			list = append(list, string(h.Body.Kind()))
		}
	}
	return list
}

// A whole run of sixty sheets by pedal alone, weighed as the vat gives, while
// the network goes, the program is stopped and comes back: the page counts on at
// every press, and in the end the record says what happened and nothing else.
func TestVatRunOfSixty(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	m := s.making()
	v := s.atVat(b, m, "0")
	w, follow := tubOf(t, m)
	var want []string
	tell := func(format string, a ...any) { want = append(want, fmt.Sprintf(format, a...)) }
	post, inPost, holds := 1, 0, int(m.Plan.Figures["post_sheets"].Value)
	cut := false
	troubles := map[int]func(){
		9: func() { b.Offline(true); cut = true }, 17: func() { b.Offline(false); cut = false },
		24: func() { s.stop(); cut = true }, 36: func() { s.start(); cut = false }, 44: s.restart,
	}
	kissed := map[int]bool{6: true, 21: true, 29: true, 50: true}
	for n := 0; n < 60; {
		if trouble := troubles[n]; trouble != nil {
			trouble()
			delete(troubles, n)
		}
		if !cut {
			v.saved() // who pours looks at the page when it has heard of the last sheet
		}
		now := v.said()
		if strings.HasPrefix(now.Big, "Weigh") {
			grams := w.weigh(1, 3)
			v.weigh("first", map[string]string{"grams": fmt.Sprintf("%.1f", grams)}, "bone")
			tell("3 from 1: %.1f g", grams)
			continue
		}
		if n == 30 && w.weigh(1, 10) > 0 && !strings.Contains(strings.Join(want, "\n"), "of post 1") { // a post later
			grams := w.weigh(1, 10) / float64(follow.Prior.Pressed)
			v.weigh("parting", map[string]string{"post": "1", "sheets": "10", "grams": fmt.Sprintf("%.1f", grams)})
			tell("10 of post 1: %.1f g", grams)
			now = v.said()
		}
		if stock, water, scooped := w.pour(now.Big + " " + now.More); !strings.HasPrefix(now.Big, "Pull") {
			if stock > 0 {
				tell("after %d: stock %.0f", n, stock)
			}
			if scooped > 0 || math.Abs(water) >= 0.01*float64(follow.Prior.Vat) {
				tell("scooped %.3g, water %.3g", scooped, water)
			}
		}
		if inPost == holds {
			post, inPost = post+1, 0
		}
		v.press([]string{kb.PageDown, " "}[n%2])
		w.pull()
		n, inPost = n+1, inPost+1
		tell("post %d: 1 pulled, 0 kissed off", post)
		v.counts(n)
		if kissed[n] {
			delete(kissed, n)
			v.press(kb.PageUp)
			w.kiss()
			n, inPost = n-1, inPost-1
			tell("post %d: 0 pulled, 1 kissed off", post)
			v.counts(n)
		}
	}
	v.saved()
	got := s.lines(m, float64(follow.Prior.Vat))
	if a, b := strings.Join(got, "\n"), strings.Join(want, "\n"); a != b {
		t.Errorf("the record says\n%s\nand this happened\n%s", a, b)
	}
	state, err := s.records.State(t.Context(), m.ID)
	if err != nil {
		t.Fatal(err)
	}
	if state.Couched != 60 || state.KissedOff != 4 || state.Pulled != 64 || len(state.Odd) > 0 {
		t.Errorf("the record comes to %d couched, %d kissed off of %d; odd: %v", state.Couched, state.KissedOff, state.Pulled, state.Odd)
	}
	mean := w.weigh(11, 60) / 50 / w.area / float64(follow.Prior.Target)
	if math.Abs(mean-1) > 0.05 {
		t.Errorf("sheets 11 to 60 came out at %.3f of the weight wanted; unweighed they would at %.2f", mean, depthOff)
	}
	t.Logf("sheets 11 to 60 at %.3f of the weight wanted", mean)
}

// A press again within the guard's time counts once, whatever presses; another
// press is none of its repeats.
func TestVatRepeats(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	v := s.atVat(b, s.making(), "30")
	v.press(kb.PageDown, kb.PageDown, " ")
	b.Do(chromedp.Click(chromedp.CSS("[data-count]")))
	v.counts(1)
	if got := v.said().Word; !strings.Contains(got, "not counted") {
		t.Errorf("of the repeats the page says %q", got)
	}
	v.press(kb.PageUp)
	v.counts(0)
	open(b, s.url+"/makings/"+v.m.ID+"/vat") // the setting is kept
	v.saved()
	began := time.Now()
	v.press(kb.PageDown, kb.PageDown)
	if time.Since(began) < 30*time.Second { // else nothing was repeated
		v.counts(1)
	}
	v.saved()
	if got := s.lines(v.m, 80); len(got) != 3 {
		t.Errorf("the record says %q", got)
	}
}
