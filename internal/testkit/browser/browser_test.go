package browser

import (
	"bytes"
	"image/png"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

const page = `<!doctype html><html lang="en"><head><title>Vat</title>
<style>
  body { background: white; color: black }
  @media (prefers-color-scheme: dark) { body { background: black; color: white } }
  @media print { #count { display: none } }
</style></head><body><main><h1>Vat</h1>
<button id="count">Pull</button> <output id="sum">0</output>
<script src="/count.js"></script></main></body></html>`

const script = `let n = 0; document.getElementById("count").onclick = async () => {
	try { await fetch("/ping"); n++ } catch { n = -1 }
	document.getElementById("sum").textContent = n; document.body.dataset.done = n }`

func serve(t *testing.T) *httptest.Server {
	t.Helper()
	mux := http.NewServeMux()
	answer := func(kind, text string) http.HandlerFunc {
		return func(w http.ResponseWriter, r *http.Request) {
			w.Header().Set("Content-Type", kind)
			w.Header().Set("Content-Security-Policy", "default-src 'self'; style-src 'unsafe-inline'")
			http.SetCookie(w, &http.Cookie{Name: "device", Value: "known"})
			w.Write([]byte(text))
		}
	}
	mux.HandleFunc("/{$}", answer("text/html; charset=utf-8", page))
	mux.HandleFunc("/count.js", answer("text/javascript", script))
	mux.HandleFunc("/ping", answer("text/plain", "pong"))
	mux.HandleFunc("/favicon.ico", answer("image/x-icon", ""))
	mux.HandleFunc("/poor", answer("text/html; charset=utf-8", `<!doctype html><html><title>x</title><body><img src="/ping"><script>let a</script></body></html>`))
	mux.HandleFunc("/who", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html")
		w.Write([]byte("<p>" + r.Header.Get("Cookie") + "</p>"))
	})
	s := httptest.NewServer(mux)
	t.Cleanup(s.Close)
	return s
}

func TestJourney(t *testing.T) {
	t.Parallel()
	s, b := serve(t), Start(t)
	b.Open(s.URL + "/")
	b.Do(chromedp.Click(chromedp.CSS("#count")), chromedp.WaitVisible(chromedp.CSS(`body[data-done="1"]`)))
	if got := Get(b, chromedp.Text(chromedp.CSS("#sum"))); got != "1" {
		t.Errorf("counted %q, want 1", got)
	}
	if got := b.Complaints(); len(got) != 0 {
		t.Errorf("a sound page complains: %q", got)
	}
	if got := b.Violations(); len(got) != 0 {
		t.Errorf("a sound page has violations: %v", got)
	}

	b.Offline(true)
	b.Do(chromedp.Click(chromedp.CSS("#count")), chromedp.WaitVisible(chromedp.CSS(`body[data-done="-1"]`)))
	b.Offline(false)
	b.Do(chromedp.Click(chromedp.CSS("#count")), chromedp.WaitVisible(chromedp.CSS(`body[data-done="0"]`)))

	b.Open(s.URL + "/who")
	if got := Get(b, chromedp.Text(chromedp.CSS("p"))); got != "device=known" {
		t.Errorf("the first device is %q", got)
	}
	other := b.Device()
	other.Open(s.URL + "/who")
	if got := Get(other, chromedp.Text(chromedp.CSS("p"))); got != "" {
		t.Errorf("a further device shares the cookie %q", got)
	}
}

func TestPoorPageIsCaught(t *testing.T) {
	t.Parallel()
	s, b := serve(t), Start(t)
	b.Open(s.URL + "/poor")
	var ids []string
	for _, v := range b.Violations() {
		ids = append(ids, v.ID)
		if !strings.Contains(v.String(), v.Help) {
			t.Errorf("%s does not say what to do: %s", v.ID, v)
		}
	}
	for _, want := range []string{"html-has-lang", "image-alt"} {
		if !slices.Contains(ids, want) {
			t.Errorf("violations %v lack %s", ids, want)
		}
	}
	if got := strings.Join(b.Complaints(), "\n"); !strings.Contains(got, "Content Security Policy") {
		t.Errorf("the refused script is not among the complaints: %q", got)
	}
}

func TestLook(t *testing.T) {
	t.Parallel()
	s, b := serve(t), Start(t)
	b.Open(s.URL + "/")
	for scheme, want := range map[Scheme]uint32{Light: 0xffff, Dark: 0} {
		img, err := png.Decode(bytes.NewReader(b.Screenshot(360, scheme)))
		if err != nil {
			t.Fatal(err)
		}
		if got := img.Bounds().Dx(); got != 360 {
			t.Errorf("%s: the picture is %d wide, want 360", scheme, got)
		}
		if r, _, _, _ := img.At(355, 5).RGBA(); r != want {
			t.Errorf("%s: the corner is %#x, want %#x", scheme, r, want)
		}
	}
	b.Print()
	b.Do(chromedp.WaitNotVisible(chromedp.CSS("#count")))
}

func TestWithoutScript(t *testing.T) {
	t.Parallel()
	s, b := serve(t), Start(t)
	b.WithoutScript(true)
	b.Open(s.URL + "/")
	b.Do(chromedp.Click(chromedp.CSS("#count")))
	if got := Get(b, chromedp.Text(chromedp.CSS("#sum"))); got != "0" {
		t.Errorf("a script ran: the count is %q", got)
	}
}
