package journey_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"net"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"
	"time"
	_ "time/tzdata" // the change of the clocks, on machines without zones

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"vatside/internal/store"
	"vatside/internal/studio"
	"vatside/internal/testkit/browser"
	"vatside/internal/web"
)

// The program as a process of its own, so that it can be killed: this test's
// own, with these said in its surroundings.
const (
	killedFile = "VATSIDE_TEST_FILE"
	killedAddr = "VATSIDE_TEST_ADDR"
	killedBy   = "VATSIDE_TEST_CLOCK" // what is added to the machine's clock
)

func serveUntilKilled(t *testing.T) {
	by, err := time.ParseDuration(os.Getenv(killedBy))
	zone, errZone := time.LoadLocation("Europe/Berlin")
	file, errFile := store.Open(context.Background(), os.Getenv(killedFile))
	if err != nil || errZone != nil || errFile != nil {
		t.Fatal(err, errZone, errFile)
	}
	now := func() time.Time { return time.Now().Add(by).In(zone) }
	ln, err := net.Listen("tcp", os.Getenv(killedAddr))
	if err != nil {
		t.Fatal(err)
	}
	t.Fatal(web.New(web.Config{Studio: studio.New(file.Records(), now), Listen: ln.Addr().String(), Now: now}).Serve(context.Background(), ln))
}

// killable starts that process and returns what kills it.
func (s *site) killable(by time.Duration) (kill func()) {
	s.t.Helper()
	cmd := exec.Command(os.Args[0], "-test.run=^TestVatKilled$", "-test.timeout=10m")
	cmd.Env = append(os.Environ(), killedFile+"="+s.file, killedAddr+"="+s.addr, killedBy+"="+by.String())
	if err := cmd.Start(); err != nil {
		s.t.Fatal(err)
	}
	kill = func() {
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
	}
	s.t.Cleanup(kill)
	for range 600 {
		if c, err := net.Dial("tcp", s.addr); err == nil {
			_ = c.Close()
			return kill
		}
		time.Sleep(50 * time.Millisecond)
	}
	s.t.Fatal("the program does not come up again")
	return kill
}

// wrongClock gives the device another clock and another zone.
func wrongClock(b *browser.Browser, off time.Duration, zone string) {
	script := fmt.Sprintf(`(() => { const Right = Date; window.clockOff = %d;
		window.Date = class extends Right { constructor(...a) { if (a.length) super(...a); else super(Right.now() + window.clockOff) }
			static now() { return Right.now() + window.clockOff } } })()`, off.Milliseconds())
	b.Do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		if _, err := cdp.Call(ctx, t, emulation.SetTimezoneOverride, emulation.SetTimezoneOverrideParams{TimezoneID: zone}); err != nil {
			return err
		}
		_, err := cdp.Call(ctx, t, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: script})
		return err
	}))
}

// kept are the ids of what a device noted, in its order, of one kind or of all.
func (v *vatPage) kept(kind string) []string {
	v.t.Helper()
	return browser.Get(v.b, chromedp.Evaluate[[]string](`new Promise((yes) => { const ask = indexedDB.open("vatside", 1);
		ask.onsuccess = () => { const all = ask.result.transaction("entry").objectStore("entry").getAll();
			all.onsuccess = () => yes(all.result.sort((a, b) => a.nth - b.nth).filter((e) => "`+kind+`" === "" || e.kind === "`+kind+`").map((e) => e.id)) } })`, chromedp.EvalAwaitPromise))
}

// Two hundred sheets are counted on two devices in turn while the program is
// killed and comes back, over the hour at which the clocks are set back; one
// device's clock is three hours ahead and is set back by hand in the middle, the
// other's 40 minutes behind. Nothing is lost, nothing is there twice, all stands
// in the order in which it was done, and both pages agree.
func TestVatKilled(t *testing.T) {
	if os.Getenv(killedAddr) != "" {
		serveUntilKilled(t)
	}
	t.Parallel()
	s := serve(t)
	m := s.making()
	s.stop()
	// the clocks go back at 1:00 UTC on that day: thirty seconds after the start
	by := time.Until(time.Date(2026, 10, 25, 0, 59, 30, 0, time.UTC)).Round(time.Millisecond)
	kill := s.killable(by)
	first := browser.Start(t)
	second := first.Device()
	wrongClock(first, by+3*time.Hour, "Europe/Berlin")
	wrongClock(second, by-40*time.Minute, "America/New_York")
	devices := []*vatPage{s.atVat(first, m, "0"), s.atVat(second, m, "0")}
	rng := rand.New(rand.NewPCG(7, 200))
	var order []int // which device counted
	up, last := true, 0
	for len(order) < 200 {
		d := rng.IntN(2)
		if d != last {
			time.Sleep(250 * time.Millisecond) // nobody walks faster, and no clock is put right better
		}
		last = d
		for range min(1+rng.IntN(9), 200-len(order)) {
			devices[d].press(kb.PageDown)
			order = append(order, d)
		}
		switch {
		case up && rng.IntN(3) == 0:
			kill()
			up = false
		case !up && rng.IntN(2) == 0:
			kill = s.killable(by)
			up = true
		}
		if len(order) > 100 && len(order) < 110 {
			first.Do(chromedp.Evaluate[chromedp.Void](`window.clockOff = Math.min(window.clockOff, ` + fmt.Sprint((by + 2*time.Hour).Milliseconds()) + `)`))
		}
	}
	if !up {
		kill = s.killable(by)
	}
	for _, d := range devices {
		d.until(`document.querySelector("[data-vat]").dataset.waiting === "0" && document.querySelector("[data-n]").textContent === "200"`)
	}
	kept := [][]string{devices[0].kept(""), devices[1].kept("")}
	posts := [][]string{devices[0].kept("post"), devices[1].kept("post")}
	kill()
	s.start()
	events := s.events(m)
	slices.SortFunc(events, func(a, b studio.Event) int { return a.At.Compare(b.At) })
	var all, counted, want []string
	for _, e := range events {
		all = append(all, e.ID)
		if e.Kind == studio.KindPost {
			counted = append(counted, e.ID)
		}
	}
	slices.Sort(all)
	if both := slices.Sorted(slices.Values(slices.Concat(kept...))); !slices.Equal(all, both) {
		t.Errorf("the record has %d entries, the devices noted %d", len(all), len(both))
	}
	for _, d := range order {
		want, posts[d] = append(want, posts[d][0]), posts[d][1:]
	}
	if !slices.Equal(counted, want) {
		t.Errorf("the sheets stand in another order than they were pulled in:\n%s", odd(counted, want, events))
	}
	if state := studio.Replay(m, events); state.Couched != 200 || state.Pulled != 200 {
		t.Errorf("%d of %d sheets couched, and it were 200", state.Couched, state.Pulled)
	}
	if from, to := events[0].At, events[len(events)-1].At; to.Sub(from) > 10*time.Minute {
		t.Errorf("the run lasts from %v to %v", from, to)
	}
}

// odd tells where two orders part.
func odd(got, want []string, events []studio.Event) string {
	at := map[string]time.Time{}
	for _, e := range events {
		at[e.ID] = e.At
	}
	var list []string
	for i := range min(len(got), len(want)) {
		if got[i] != want[i] && len(list) < 10 {
			list = append(list, fmt.Sprintf("%d: %s %s, not %s %s", i, got[i], at[got[i]].Format(time.StampMilli), want[i], at[want[i]].Format(time.StampMilli)))
		}
	}
	return strings.Join(list, "\n")
}
