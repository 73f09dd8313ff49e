package browser

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// Scheme is whether the device prefers light or dark pages.
type Scheme string

// The schemes.
const (
	Light Scheme = "light"
	Dark  Scheme = "dark"
)

// View makes the window this wide and high, in CSS pixels, and sets the scheme.
func (b *Browser) View(width, height int, scheme Scheme) {
	b.t.Helper()
	b.Do(chromedp.EmulateViewport(int64(width), int64(height)),
		media("", &emulation.MediaFeature{Name: "prefers-color-scheme", Value: string(scheme)},
			&emulation.MediaFeature{Name: "prefers-reduced-motion", Value: "reduce"}))
}

// Print shows the page as it is printed.
func (b *Browser) Print() {
	b.t.Helper()
	b.Do(media("print"))
}

func media(kind string, features ...*emulation.MediaFeature) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: kind, Features: features})
		return err
	})
}

// Screenshot returns the whole page as PNG at that width and scheme, however
// long it is.
func (b *Browser) Screenshot(width int, scheme Scheme) []byte {
	b.t.Helper()
	b.View(width, 900, scheme)
	return Get(b, chromedp.FullScreenshot(100))
}

// Violation is one accessibility rule a page breaks, and where.
type Violation struct {
	ID     string `json:"id"`
	Impact string `json:"impact"`
	Help   string `json:"help"`
	Nodes  []struct {
		HTML    string `json:"html"`
		Summary string `json:"failureSummary"`
	} `json:"nodes"`
}

// String names the rule and every place that breaks it.
func (v Violation) String() string {
	var text strings.Builder
	fmt.Fprintf(&text, "%s (%s): %s", v.ID, v.Impact, v.Help)
	for _, n := range v.Nodes {
		fmt.Fprintf(&text, "\n\t%s\n\t\t%s", n.HTML, strings.ReplaceAll(n.Summary, "\n", "\n\t\t"))
	}
	return text.String()
}

// axeRun asks for the rules of WCAG 2.2 A and AA, and no others.
const axeRun = `axe.run(document, {
	runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"],
	resultTypes: ["violations"],
}).then(r => JSON.stringify(r.violations))`

// Violations runs axe-core over the page as it stands and returns what WCAG
// 2.2 AA would have otherwise. axe-core comes with "npm ci" in tools/, which
// "make test" runs; without it the test is skipped, but fails where CI is set.
func (b *Browser) Violations() []Violation {
	b.t.Helper()
	if !Get(b, chromedp.Evaluate[bool](`typeof axe === "object"`)) {
		b.loadAxe()
	}
	text := Get(b, chromedp.Evaluate[string](axeRun, chromedp.EvalAwaitPromise))
	var found []Violation
	if err := json.Unmarshal([]byte(text), &found); err != nil {
		b.t.Fatalf("axe-core answered %.200q: %v", text, err)
	}
	return found
}

// loadAxe puts axe-core into the page; it stays until the next one.
func (b *Browser) loadAxe() {
	b.t.Helper()
	script, err := os.ReadFile(filepath.Join(root(b), "tools", "node_modules", "axe-core", "axe.min.js"))
	if err != nil {
		absent(b.t, "axe-core is not installed, so accessibility is not tried; \"make test\" installs it")
	}
	Get(b, chromedp.Evaluate[any](string(script)+"; null"))
}

// root is the folder of go.mod, upward from the package under test.
func root(b *Browser) string {
	b.t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		b.t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		up := filepath.Dir(dir)
		if up == dir {
			b.t.Fatal("no go.mod above the package under test")
		}
		dir = up
	}
}
