package cli_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"vatside/internal/belief"
	"vatside/internal/cli"
	"vatside/internal/plan"
	"vatside/internal/source"
	"vatside/internal/store"
	"vatside/internal/studio"
)

const lamp = `{"paper": {"use": "lamp", "furnish": [{"fibre": "abaca", "share_pct": 100}], "grammage_conditioned_g_m2": 80, "beating_hours": 7, "drying": "board"},
	"sheet": {"long_mm": 330, "short_mm": 330}, "good_sheets": 24, "studio": {"jug_ml": 500}}`

// run runs a command in this process.
func run(t *testing.T, in string, args ...string) (code int, out, errs string) {
	t.Helper()
	var o, e bytes.Buffer
	p := cli.Program{In: strings.NewReader(in), Out: &o, Err: &e, Version: "test", Now: time.Now, Browse: func(string) error { return nil }}
	code = p.Run(t.Context(), args)
	return code, o.String(), e.String()
}

// With --data a plan takes what the request leaves open from the studio, keeps
// what it says, and rests on what the studio fixed and measured.
func TestPlanRestsOnTheStudio(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	file, err := store.Open(t.Context(), filepath.Join(dir, "studio.vatside"))
	if err != nil {
		t.Fatal(err)
	}
	s := studio.New(file.Records(), time.Now)
	p := studio.NewProfile()
	vat, jug := 33.0, 900.0
	p.Kit = plan.Studio{VatL: &vat, JugML: &jug, Press: &plan.Press{ForceKN: 120}}
	if _, err := s.SaveProfile(t.Context(), p); err != nil {
		t.Fatal(err)
	}
	bare := answer[plan.Plan](t, "plan", lamp)
	key := ""
	for _, r := range bare.RestsOn {
		if r.Key == "effective_depth_mm" {
			key = r.Belief
		}
	}
	if err := s.SetPin(t.Context(), key, belief.Pin{Value: 15, Grade: source.Measured}); err != nil {
		t.Fatal(err)
	}
	if err := file.Close(); err != nil {
		t.Fatal(err)
	}
	code, out, errs := run(t, lamp, "plan", "-", "--data", dir)
	if code != cli.Done {
		t.Fatal(errs)
	}
	for _, want := range []string{`(?m)^  Effective depth of the dip +15 mm +fixed`, `before sheet`} {
		if !regexp.MustCompile(want).MatchString(out) {
			t.Errorf("the table does not say %s:\n%s", want, out)
		}
	}
	if strings.Contains(out, "a vat of 80 L") || !strings.Contains(out, "33 L") {
		t.Errorf("the studio's vat is not used:\n%s", out)
	}
	code, out, errs = run(t, lamp, "plan", "-", "--data", dir, "--json")
	if code != cli.Done || errs != "" {
		t.Fatal(errs)
	}
	// 120 kN on the formed area; the jug is the request's own.
	var known plan.Plan
	unmarshal(t, out, &known)
	if got, want := known.Figures["press_pressure_kpa"].Value, 2*bare.Figures["press_pressure_kpa"].Value; got < want*0.98 || got > want*1.02 {
		t.Errorf("%.4g kPa from a press twice as strong as usual, want about %.4g", got, want)
	}
	if r := known.Vat.Recharges[0]; r.StockML/500 < r.Jugs*0.99 || r.StockML/500 > r.Jugs*1.01 {
		t.Errorf("%g mL are %g jugs of 500 mL", r.StockML, r.Jugs)
	}
}

func unmarshal(t *testing.T, text string, v any) {
	t.Helper()
	if err := json.Unmarshal([]byte(text), v); err != nil {
		t.Fatal(err)
	}
}

// served is a program that serves, and what it prints.
type served struct {
	mu   sync.Mutex
	text bytes.Buffer
	stop context.CancelFunc
	code chan int
}

func (s *served) Write(b []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.Write(b)
}

var address = regexp.MustCompile(`http://[\d.:]+/`)

// url waits until the program has said where it is.
func (s *served) url(t *testing.T) string {
	t.Helper()
	for range 400 {
		s.mu.Lock()
		at := address.FindString(s.text.String())
		s.mu.Unlock()
		if at != "" {
			return at
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Fatal("the program does not say where it is")
	return ""
}

func serve(t *testing.T, browse func(string) error, args ...string) *served {
	t.Helper()
	s := &served{code: make(chan int, 1)}
	ctx, stop := context.WithCancel(context.WithoutCancel(t.Context()))
	s.stop = stop
	p := cli.Program{In: strings.NewReader(""), Out: s, Err: s, Now: time.Now, Browse: browse}
	go func() { s.code <- p.Run(ctx, args) }()
	t.Cleanup(func() { s.stop() })
	return s
}

// Without a command the program serves and opens the browser; that there is
// none does no harm. Stopped, it leaves with 0.
func TestServeWithoutACommand(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "new", "studio")
	opened := make(chan string, 1)
	s := serve(t, func(url string) error { opened <- url; return errors.New("no browser here") }, "--data", dir, "--listen", "127.0.0.1:0")
	url := s.url(t)
	answer, err := http.Get(url)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := io.Copy(io.Discard, answer.Body); err != nil || answer.StatusCode != http.StatusOK {
		t.Errorf("status %d, %v", answer.StatusCode, err)
	}
	answer.Body.Close()
	if got := <-opened; got != url {
		t.Errorf("the browser was sent to %s, not %s", got, url)
	}
	if info, err := os.Stat(dir); err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o700 {
		t.Errorf("the folder: %v, %v", info.Mode(), err)
	}
	s.stop()
	if code := <-s.code; code != cli.Done {
		t.Errorf("exit code %d: %s", code, s.text.String())
	}
}

// The usual address gives way to the next free port; one that was asked for
// does not.
func TestTakenPort(t *testing.T) {
	t.Parallel()
	usual, err := net.Listen("tcp", "127.0.0.1:8017")
	if err == nil {
		defer usual.Close()
	} // else another program of this machine holds it, which serves as well
	s := serve(t, func(string) error { return nil }, "serve", "--data", t.TempDir(), "--no-browser")
	if url := s.url(t); url == "http://127.0.0.1:8017/" {
		t.Error("the program says it is where something else listens")
	}
	s.stop()
	<-s.code
	ln, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer ln.Close()
	code, _, errs := run(t, "", "serve", "--data", t.TempDir(), "--no-browser", "--listen", ln.Addr().String())
	if code != cli.Failed || !strings.Contains(errs, "name another port, or close what listens there") {
		t.Errorf("exit code %d: %s", code, errs)
	}
}

func TestOnlyThisMachine(t *testing.T) {
	t.Parallel()
	for _, addr := range []string{"0.0.0.0:80", ":8017", "[::]:8017", "192.168.1.5:8017", "example.org:80", "127.0.0.1", "127.0.0.1:http", "127.0.0.1:70000"} {
		dir := filepath.Join(t.TempDir(), "d")
		code, _, errs := run(t, "", "serve", "--data", dir, "--no-browser", "--listen", addr)
		if code != cli.Wrong || !strings.HasPrefix(errs, "--listen: ") {
			t.Errorf("%s: exit code %d: %s", addr, code, errs)
		}
		if _, err := os.Stat(dir); err == nil {
			t.Errorf("%s: the folder was made all the same", addr)
		}
	}
}

// Whatever a request holds, the message stays one line that a terminal can
// show.
func TestOneLineWhateverIsTyped(t *testing.T) {
	t.Parallel()
	for _, in := range []string{"{\"a\\nb\\u001b[31m\": 1}", `{"recharge": "no\nne\u0007"}`, "{\n\n\n", `{"paper": {"name": "x", "furnish": [{"fibre": "k\nozo\u001b[2J", "share_pct": 100}], "grammage_conditioned_g_m2": 60}, "sheet": {"long_mm": 300, "short_mm": 200}, "good_sheets": 3}`} {
		for _, command := range []string{"plan", "vat"} {
			code, out, errs := run(t, in, command, "-", "--json")
			if code != cli.Wrong || out != "" || strings.Count(errs, "\n") != 1 || strings.ContainsAny(strings.TrimSuffix(errs, "\n"), "\x1b\x07\n") {
				t.Errorf("%s %q: exit code %d, %q, %q", command, in, code, out, errs)
			}
		}
	}
}

// An answer that cannot be printed is a failure, not silence.
func TestFullPipe(t *testing.T) {
	t.Parallel()
	var errs bytes.Buffer
	p := cli.Program{In: strings.NewReader(lamp), Out: brokenPipe{}, Err: &errs, Now: time.Now}
	if code := p.Run(t.Context(), []string{"plan", "-", "--json"}); code != cli.Failed {
		t.Errorf("exit code %d: %s", code, errs.String())
	}
}

type brokenPipe struct{}

func (brokenPipe) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }

// From the command line to the answer, without the start of the process.
func BenchmarkFirstAnswer(b *testing.B) {
	for b.Loop() {
		p := cli.Program{In: strings.NewReader(lamp), Out: io.Discard, Err: io.Discard, Now: time.Now}
		if code := p.Run(b.Context(), []string{"plan", "-", "--json"}); code != cli.Done {
			b.Fatal(code)
		}
	}
}
