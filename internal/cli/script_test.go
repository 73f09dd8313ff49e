package cli_test

import (
	"context"
	"encoding/json"
	"io"
	"math"
	"net"
	"net/http"
	"os"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"vatside/internal/cli"
)

// TestMain lets scripts call the program by its name, as a process of its own.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"vatside": func() {
		ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
		p := cli.Program{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Version: "test", Now: time.Now, Browse: func(string) error { return os.ErrNotExist }}
		code := p.Run(ctx, os.Args[1:])
		stop()
		os.Exit(code)
	}})
}

// The scripts of testdata/script run the program as a shell does.
func TestScripts(t *testing.T) {
	t.Parallel()
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(env *testscript.Env) error {
			b, err := os.ReadFile("testdata/plan.json")
			if err != nil {
				return err
			}
			env.Setenv("PORT", freePort(t))
			env.Setenv("HOME", env.WorkDir)
			env.Setenv("XDG_CONFIG_HOME", filepath.Join(env.WorkDir, "config"))
			return os.WriteFile(filepath.Join(env.WorkDir, "plan.json"), b, 0o600)
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"code": code, "number": number, "between": between, "oneline": oneLine, "page": page, "unused": unused, "damage": damage, "fetch": fetch,
		},
	})
}

func freePort(t *testing.T) string {
	t.Helper()
	ln, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer ln.Close()
	_, port, _ := net.SplitHostPort(ln.Addr().String())
	return port
}

// code N COMMAND… runs a command that leaves with exit code N, and keeps its
// output in the files out and err.
func code(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: code N COMMAND…")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := cli.Done
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		exit, ok := err.(interface{ ExitCode() int })
		if !ok {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	ts.Check(os.WriteFile(ts.MkAbs("out"), []byte(ts.ReadFile("stdout")), 0o600))
	ts.Check(os.WriteFile(ts.MkAbs("err"), []byte(ts.ReadFile("stderr")), 0o600))
	if got != want {
		ts.Fatalf("exit code %d, want %d: %s", got, want, ts.ReadFile("stderr"))
	}
}

// oneline FILE: the file is exactly one line that ends in a full stop or a
// question mark.
func oneLine(ts *testscript.TestScript, _ bool, args []string) {
	text := ts.ReadFile(args[0])
	if strings.Count(text, "\n") != 1 || !strings.HasSuffix(text, ".\n") && !strings.HasSuffix(text, "?\n") {
		ts.Fatalf("not one plain line: %q", text)
	}
}

// number FILE PATH VALUE [TOLERANCE]: the one JSON object of the file holds
// that number, to half a per cent where a tolerance such as 0.5% is given.
func number(ts *testscript.TestScript, neg bool, args []string) {
	got := lookup(ts, args[0], args[1])
	want, err := strconv.ParseFloat(args[2], 64)
	ts.Check(err)
	off := 0.0
	if len(args) > 3 {
		text, relative := strings.CutSuffix(args[3], "%")
		off, err = strconv.ParseFloat(text, 64)
		ts.Check(err)
		if relative {
			off *= math.Abs(want) / 100
		}
	}
	if (math.Abs(got-want) <= off) == neg {
		ts.Fatalf("%s is %v, want %v within %v (not: %v)", args[1], got, want, off, neg)
	}
}

// between FILE PATH LOW HIGH: that number lies between the two.
func between(ts *testscript.TestScript, _ bool, args []string) {
	got := lookup(ts, args[0], args[1])
	low, err := strconv.ParseFloat(args[2], 64)
	ts.Check(err)
	high, err := strconv.ParseFloat(args[3], 64)
	ts.Check(err)
	if !(low <= got && got <= high) {
		ts.Fatalf("%s is %v, want %v to %v", args[1], got, low, high)
	}
}

// lookup is the number at a path in the one JSON value of a file.
func lookup(ts *testscript.TestScript, file, path string) float64 {
	dec := json.NewDecoder(strings.NewReader(ts.ReadFile(file)))
	var v any
	ts.Check(dec.Decode(&v))
	if _, err := dec.Token(); err != io.EOF {
		ts.Fatalf("%s holds more than one JSON value", file)
	}
	for _, key := range strings.Split(path, ".") {
		switch at := v.(type) {
		case map[string]any:
			v = at[key]
		case []any:
			i, err := strconv.Atoi(key)
			ts.Check(err)
			if i >= len(at) {
				ts.Fatalf("%s has only %d entries", path, len(at))
			}
			v = at[i]
		}
	}
	got, ok := v.(float64)
	if !ok {
		ts.Fatalf("%s is no number: %v", path, v)
	}
	return got
}

// page URL TEXT waits until the page answers, and finds the text on it.
func page(ts *testscript.TestScript, _ bool, args []string) {
	var last error
	for range 200 {
		time.Sleep(50 * time.Millisecond)
		answer, err := http.Get(args[0])
		if err != nil {
			last = err
			continue
		}
		b, err := io.ReadAll(answer.Body)
		answer.Body.Close()
		ts.Check(err)
		if answer.StatusCode != http.StatusOK || !strings.Contains(string(b), args[1]) {
			ts.Fatalf("status %d, %q is not on the page", answer.StatusCode, args[1])
		}
		return
	}
	ts.Fatalf("%v", last)
}

// unused DIR: the folder holds nothing.
func unused(ts *testscript.TestScript, _ bool, args []string) {
	list, err := os.ReadDir(ts.MkAbs(args[0]))
	ts.Check(err)
	for _, e := range list {
		ts.Fatalf("%s still holds %s", args[0], e.Name())
	}
}

// damage FILE [BYTE TEXT] overwrites text from a byte on.
func damage(ts *testscript.TestScript, _ bool, args []string) {
	f, err := os.OpenFile(ts.MkAbs(args[0]), os.O_RDWR, 0)
	ts.Check(err)
	at, err := strconv.ParseInt(args[1], 10, 64)
	ts.Check(err)
	_, err = f.WriteAt([]byte(args[2]), at)
	ts.Check(err)
	ts.Check(f.Close())
}

// fetch PATTERN FILE copies the one file that fits the pattern.
func fetch(ts *testscript.TestScript, _ bool, args []string) {
	list, err := filepath.Glob(ts.MkAbs(args[0]))
	ts.Check(err)
	if len(list) != 1 {
		ts.Fatalf("%s fits %v", args[0], list)
	}
	b, err := os.ReadFile(list[0])
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), b, 0o600))
}
