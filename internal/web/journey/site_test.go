package journey_test

import (
	"context"
	"crypto/rand"
	"errors"
	"io"
	"net"
	"net/netip"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"vatside/internal/cookery"
	"vatside/internal/device"
	"vatside/internal/keeping"
	"vatside/internal/network"
	"vatside/internal/photo"
	"vatside/internal/plan"
	"vatside/internal/store"
	"vatside/internal/studio"
	"vatside/internal/testkit/browser"
	"vatside/internal/web"
)

// site is the real program over a file of its own, on a port of its own.
type site struct {
	t       testing.TB
	file    string
	addr    string
	url     string
	records *studio.Service
	way     *network.Network // for other devices, shut
	stop    func()
}

func serve(t testing.TB) *site {
	t.Helper()
	s := &site{t: t, file: filepath.Join(t.TempDir(), "studio.vatside"), addr: "127.0.0.1:0"}
	s.start()
	t.Cleanup(func() { s.stop() })
	return s
}

// start opens the file and listens; again on the same port after a stop.
func (s *site) start() {
	s.t.Helper()
	file, err := store.Open(context.Background(), s.file)
	if err != nil {
		s.t.Fatal(err)
	}
	ln, err := net.Listen("tcp", s.addr)
	if err != nil {
		s.t.Fatal(err)
	}
	s.addr, s.url = ln.Addr().String(), "http://"+ln.Addr().String()
	s.records = studio.New(file.Records(), time.Now)
	copies := keeping.New(file, func(ctx context.Context, path string) (keeping.Inside, error) {
		g, err := store.Look(ctx, path)
		return keeping.Inside{Papers: g.Papers, Makings: g.Makings, Last: g.Last}, err
	}, s.file+".photos", time.Now)
	// A second loopback address stands for that in a workshop's network.
	s.way = network.New(network.Config{Dir: filepath.Dir(s.file), Port: ln.Addr().(*net.TCPAddr).Port, Ours: netip.Addr.IsLoopback,
		Addresses: func() ([]netip.Addr, error) { return []netip.Addr{netip.MustParseAddr("127.0.0.2")}, nil },
		Announce: func(context.Context, string, []netip.Addr) (io.Closer, error) {
			return nil, errors.New("not in a test")
		}})
	server := web.New(web.Config{Studio: s.records, Cooks: cookery.New(file.Cooks(), time.Now), Photos: photo.In(s.file + ".photos"), Copies: copies, Listen: s.addr, Now: time.Now,
		Devices: device.New(file.Devices(), time.Now, rand.Reader), Network: s.way})
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- server.Serve(ctx, ln) }()
	s.stop = func() {
		s.way.Off()
		cancel()
		if err := <-done; err != nil {
			s.t.Errorf("serve: %v", err)
		}
		if err := file.Close(); err != nil {
			s.t.Errorf("close: %v", err)
		}
		s.stop = func() {}
	}
}

// restart stops the program and starts it again on the same file and port.
func (s *site) restart() {
	s.t.Helper()
	s.stop()
	s.start()
}

// paper saves the paper the journeys make: book text, A3.
func (s *site) paper() studio.Paper {
	s.t.Helper()
	p := studio.StartingPapers()[0]
	saved, err := s.records.SavePaper(s.t.Context(), studio.Paper{Name: p.Title, Design: p.Design, Sheet: p.Sheet})
	if err != nil {
		s.t.Fatal(err)
	}
	return saved
}

// making begins a making of sixty good sheets.
func (s *site) making() studio.Making {
	s.t.Helper()
	ctx := s.t.Context()
	profile, err := s.records.Profile(ctx)
	if err != nil {
		s.t.Fatal(err)
	}
	vat, jug := 80.0, 1000.0
	profile.Answered, profile.Name = true, "Reed Lane"
	profile.Kit = plan.Studio{VatL: &vat, JugML: &jug}
	if _, err := s.records.SaveProfile(ctx, profile); err != nil {
		s.t.Fatal(err)
	}
	p := s.paper()
	b, err := s.records.SaveBrief(ctx, studio.Brief{PaperID: p.ID, GoodSheets: 60, Sheet: p.Sheet, ConfidencePct: 90})
	if err != nil {
		s.t.Fatal(err)
	}
	req, answer, err := s.records.PlanBrief(ctx, b)
	if err != nil {
		s.t.Fatal(err)
	}
	m, err := s.records.StartMaking(ctx, b.ID, req, answer)
	if err != nil {
		s.t.Fatal(err)
	}
	return m
}

// recorded types a plausible card in without a browser.
func (s *site) recorded(m studio.Making) {
	s.t.Helper()
	litres := 3.0
	e := studio.CardEntry{FormID: "by-hand", Tests: []studio.TestWeighed{{Sheets: 3, Grams: 41, RHPct: 52}},
		Recharges: []studio.Recharge{{Times: 20, StockML: 24000}}, StockLeft: &studio.StockLeft{Litres: litres},
		Parting: []studio.WeighedAtParting{{Post: 1, Sheets: 10, Grams: 372}},
		Dry:     []studio.WeighedDry{{Sheets: 10, Grams: 128, RHPct: 55}}, Sizes: []studio.DrySize{{LongMM: 416, ShortMM: 294}},
		Grades: &studio.Graded{Good: 62, Retree: 5, Broken: 2, Broke: 1}, Minutes: map[string]float64{"beat": 70, "pull and couch": 165, "dry": 80},
		Remarks: []string{"Vat a little cold in the morning."}}
	for post := 1; post <= 4; post++ {
		e.Posts = append(e.Posts, studio.Post{Post: post, Pulled: 20, KissedOff: 1})
	}
	if err := s.records.FinishCard(s.t.Context(), m.ID, e); err != nil {
		s.t.Fatal(err)
	}
}

// shelf fills the shelf: a lot with its water and one without, one past its day
// that a making left, and one that is used up; it has a load read at the beater
// and everything else measured that can be. It returns the address of the lot
// that is past its day.
func (s *site) shelf(m studio.Making) string {
	s.t.Helper()
	ctx := s.t.Context()
	fail := func(err error) {
		s.t.Helper()
		if err != nil {
			s.t.Fatal(err)
		}
	}
	water, price, value := 9.0, 12.5, 9.0
	_, err := s.records.SaveLot(ctx, studio.Lot{Name: "bale", What: "abaca", Form: studio.AsBought, MoisturePct: &water, PriceKg: &price}, studio.Movement{ID: "bale", MassG: 9000})
	fail(err)
	gone, err := s.records.SaveLot(ctx, studio.Lot{Name: "bag", What: "abaca", Form: studio.AsBought}, studio.Movement{ID: "bag", MassG: 900})
	fail(err)
	fail(s.records.ThrowAway(ctx, gone.ID, studio.Movement{ID: "moths", MassG: 900, Note: "moths"}))
	left, err := s.records.KeepLeft(ctx, m.ID, studio.WetStock)
	fail(err)
	left.Since, left.KeepBy = "2026-01-05", "2026-01-10"
	left, err = s.records.SaveLot(ctx, left, studio.Movement{})
	fail(err)
	fail(s.records.ThrowAway(ctx, left.ID, studio.Movement{ID: "more than there was", MassG: 1e6}))
	apart := value * 1.1
	at := time.Now().Add(-time.Hour)
	for i, body := range []studio.Body{
		studio.BeatReading{Load: 1, Hours: 0.5, Value: &value, Roll: "down"}, studio.BeatReading{Load: 1, Hours: 0.5, Value: &apart},
		studio.Caliper{ThicknessMM: []float64{0.18, 0.19, 0.2}}, studio.Diagonals{FirstMM: 512, SecondMM: 508, LongMM: 416, ShortMM: 294},
		studio.Sized{DryG: 128, WetG: 240, BathPct: 4}, studio.Cobb{DryG: 1.3, WetG: 1.8, AreaCM2: 100, Seconds: 60}, studio.InkStrip{Says: 4},
		studio.Soaked{BeforeLongMM: 416, BeforeShortMM: 294, WetLongMM: 422, WetShortMM: 299, AfterLongMM: 415, AfterShortMM: 293},
		studio.HandSays{Handle: "firm", Rattle: "4", Remark: "a little loud"},
	} {
		_, err := s.records.Record(ctx, m.ID, studio.NewEvent("besides-"+strconv.Itoa(i), at, body))
		fail(err)
	}
	return "/store/" + left.ID
}

// open goes to a page and waits until its scripts have run.
func open(b *browser.Browser, url string) {
	b.Open(url)
	loaded(b)
}

// openAfterDownload goes to a page while a download may just be beginning,
// which aborts what is opened at the same moment.
func openAfterDownload(b *browser.Browser, url string) {
	for range 10 {
		if chromedp.Do(b.Context(), chromedp.Navigate(url)) == nil {
			break
		}
	}
	open(b, url)
}

func loaded(b *browser.Browser) {
	browser.Get(b, chromedp.Poll[bool](`document.readyState === "complete"`))
}

// click clicks and waits for what it leads to.
func click(b *browser.Browser, what, then string) {
	b.Do(chromedp.Click(chromedp.CSS(what)), chromedp.WaitVisible(chromedp.CSS(then)))
}

// text is what stands at a place, its spaces made one.
func text(b *browser.Browser, at string) string {
	return strings.Join(strings.Fields(browser.Get(b, chromedp.Text(chromedp.CSS(at)))), " ")
}

// fill puts a text in place of what a field holds.
func fill(b *browser.Browser, field, value string) {
	at := chromedp.CSS(`[name="` + field + `"]`)
	if value == "" {
		b.Do(chromedp.Clear(at))
		return
	}
	b.Do(chromedp.SetValue(at, value))
}

// value is what a field holds.
func value(b *browser.Browser, field string) string {
	return browser.Get(b, chromedp.Value(chromedp.CSS(`[name="`+field+`"]`)))
}
