// Package browser drives a real Chromium through whole journeys over the
// pages, for tests only.
//
// Each Start is a browser of its own with a fresh profile, so tests do not see
// each other's cookies; Device opens a second device in the same browser.
// Every step has a time limit and fails the test that made it. Missing: other
// engines than Chromium, and real phones.
package browser

import (
	"context"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
)

// stepLimit ends a step that waits for something that never comes. It is far
// above what a step takes on a loaded machine of two cores.
const stepLimit = 60 * time.Second

// programs are the names Chromium goes by, in the order they are tried.
var programs = []string{"chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome"}

// Browser is one tab of a running browser.
type Browser struct {
	t   testing.TB
	ctx context.Context

	mu   sync.Mutex
	said []string
}

// Start starts a browser that ends with the test. Without Chromium the test is
// skipped, but fails where the variable CI is set: there it must be installed.
func Start(t testing.TB) *Browser {
	t.Helper()
	opts := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(find(t)),
		chromedp.UserDataDir(profile(t)),
		chromedp.Flag("no-sandbox", true),
		chromedp.Flag("disable-gpu", true),
		chromedp.Flag("disable-quic", true),
		chromedp.Flag("disable-component-update", true),
		chromedp.Flag("hide-scrollbars", true),
		chromedp.Flag("lang", "en-GB"),
	)
	alloc, stop := chromedp.NewExecAllocator(context.Background(), opts...)
	t.Cleanup(stop)
	ctx, closeTab := chromedp.NewContext(alloc)
	t.Cleanup(closeTab)
	return attach(t, ctx)
}

// Device opens a further device: a tab that shares no cookies and no storage
// with this one.
func (b *Browser) Device() *Browser {
	b.t.Helper()
	ctx, closeTab := chromedp.NewContext(b.ctx, chromedp.WithNewBrowserContext())
	b.t.Cleanup(closeTab)
	return attach(b.t, ctx)
}

// attach starts the tab and listens to what its page complains of. The first
// call must not carry a time limit, because the browser lives as long as it.
func attach(t testing.TB, ctx context.Context) *Browser {
	t.Helper()
	if err := chromedp.Do(ctx); err != nil {
		t.Fatalf("the browser does not start: %v", err)
	}
	b := &Browser{t: t, ctx: ctx}
	messages := chromedp.Console(ctx)
	go func() {
		for m, err := range messages {
			if err != nil {
				return
			}
			if m.Type == chromedp.ConsoleException || m.Type == "error" {
				b.mu.Lock()
				b.said = append(b.said, m.Text)
				b.mu.Unlock()
			}
		}
	}()
	return b
}

// Context is the context of the tab, for what this package does not wrap.
func (b *Browser) Context() context.Context { return b.ctx }

// Do carries out the steps and fails the test if one fails or takes too long.
func (b *Browser) Do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, stepLimit)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		b.t.Fatalf("browser: %v", err)
	}
}

// Get carries out one step and returns what it found. What a page that is just
// leaving cannot answer is asked of the one that comes.
func Get[T any](b *Browser, step chromedp.Action[T]) T {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, stepLimit)
	defer cancel()
	v, err := chromedp.Run(ctx, step)
	for err != nil && ctx.Err() == nil && strings.Contains(err.Error(), "navigated") {
		time.Sleep(50 * time.Millisecond)
		v, err = chromedp.Run(ctx, step)
	}
	if err != nil {
		b.t.Fatalf("browser: %v", err)
	}
	return v
}

// Open goes to the address and waits until the page is loaded.
func (b *Browser) Open(url string) {
	b.t.Helper()
	b.Do(chromedp.Navigate(url), chromedp.WaitReady(chromedp.CSS("body")))
}

// Complaints returns the errors the page has written to the console so far:
// scripts that threw, files that were missing, what the content policy refused.
func (b *Browser) Complaints() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return append([]string(nil), b.said...)
}

// WithoutScript turns the page's scripts off or on again, from the next page
// on: every page but the one at the vat must work so.
func (b *Browser) WithoutScript(off bool) {
	b.t.Helper()
	b.Do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: off})
		return err
	}))
}

// Offline takes the network from the page, or gives it back.
func (b *Browser) Offline(off bool) {
	b.t.Helper()
	b.Do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		if _, err := cdp.Call(ctx, t, network.Enable, network.EnableParams{}); err != nil {
			return err
		}
		_, err := cdp.Call(ctx, t, network.OverrideNetworkState, network.OverrideNetworkStateParams{Offline: off, DownloadThroughput: -1, UploadThroughput: -1})
		if err != nil {
			return err
		}
		_, err = cdp.Call(ctx, t, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{
			MatchedNetworkConditions: []*network.Conditions{{Offline: off, DownloadThroughput: -1, UploadThroughput: -1}},
		})
		return err
	}))
}

// find returns the browser's path, or ends the test.
func find(t testing.TB) string {
	t.Helper()
	for _, name := range programs {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	absent(t, "no Chromium is installed, so no page is tried in a browser; \"make test\" installs it on Debian")
	return ""
}

// profile is a new folder for the browser's own files. It is removed as far as
// possible: helpers of the browser may still write to it while it closes,
// which must not fail the test.
func profile(t testing.TB) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "vatside-browser-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		for range 20 {
			if os.RemoveAll(dir) == nil {
				return
			}
			time.Sleep(50 * time.Millisecond)
		}
	})
	return dir
}

// absent skips a test whose tool is not installed, or fails it where CI is set.
func absent(t testing.TB, text string) {
	t.Helper()
	if os.Getenv("CI") != "" {
		t.Fatal(text)
	}
	t.Skip(text)
}
