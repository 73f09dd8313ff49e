package web_test

import (
	"context"
	"net"
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"vatside/internal/testkit/browser"
	"vatside/internal/web"
)

// TestPictures writes pictures of the pages to the folder the variable names,
// for eyes to judge.
func TestPictures(t *testing.T) {
	dir := os.Getenv("VATSIDE_PICTURES")
	if dir == "" {
		t.Skip("only where VATSIDE_PICTURES names a folder")
	}
	site := listen(t)
	b := browser.Start(t)
	take := func(name string) {
		for _, width := range []int{390, 820, 1440} {
			for _, scheme := range []browser.Scheme{browser.Light, browser.Dark} {
				if scheme == browser.Dark && width == 820 {
					continue
				}
				file := filepath.Join(dir, name+"-"+strconv.Itoa(width)+"-"+string(scheme)+".png")
				if err := os.WriteFile(file, b.Screenshot(width, scheme), 0o600); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	b.Open(site + "/welcome")
	take("welcome")
	b.Do(chromedp.Click(chromedp.CSS(".finish .act")), chromedp.WaitVisible(chromedp.CSS(".promise")))
	take("plan")
	b.Print()
	if err := os.WriteFile(filepath.Join(dir, "plan-print.png"), browser.Get(b, chromedp.FullScreenshot(100)), 0o600); err != nil {
		t.Fatal(err)
	}
	b.View(390, 900, browser.Light)
	b.Do(chromedp.Click(chromedp.CSS("#figure-sheets_to_pull .rests summary")), chromedp.WaitVisible(chromedp.CSS("#figure-sheets_to_pull .sum-lines")))
	take("plan-sum")
	for _, p := range []string{"", "briefs/new", "gallery", "pail", "nowhere"} {
		b.Open(site + "/" + p)
		name := filepath.Base(p)
		if p == "" {
			name = "bench"
		}
		take(name)
	}
	b.Open(site + "/briefs/new")
	b.Do(chromedp.Click(chromedp.CSS(".finish .act")), chromedp.WaitVisible(chromedp.CSS(".wrong-summary")))
	take("refused")
}

// listen serves an empty studio on a free port until the test ends.
func listen(t *testing.T) string {
	t.Helper()
	ln, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	_, server := start(t, web.Config{Listen: ln.Addr().String(), Now: time.Now, Gallery: true})
	done := make(chan error, 1)
	ctx, stop := contextOf(t)
	go func() { done <- server.Serve(ctx, ln) }()
	t.Cleanup(func() {
		stop()
		if err := <-done; err != nil {
			t.Errorf("serve: %v", err)
		}
	})
	return "http://" + ln.Addr().String()
}

func contextOf(t *testing.T) (context.Context, context.CancelFunc) {
	return context.WithCancel(context.WithoutCancel(t.Context()))
}
