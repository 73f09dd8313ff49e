//go:build linux || darwin

package intake

import (
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"vatside/internal/measure"
	"vatside/internal/store"
	"vatside/internal/studio"
)

// importFile is set for the child that TestKilledImport kills.
const importFile = "VATSIDE_TEST_IMPORT_FILE"

const killedRows = 150

func TestMain(m *testing.M) {
	if path := os.Getenv(importFile); path != "" {
		if err := importInto(path); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// importInto takes a notebook in and says when it begins to write.
func importInto(path string) error {
	ctx := context.Background()
	file, err := store.Open(ctx, path)
	if err != nil {
		return err
	}
	u := studio.New(file.Records(), func() time.Time { return today })
	list, err := Open("notebook.csv", strings.NewReader(years(killedRows)))
	if err != nil {
		return err
	}
	p, err := Propose(ctx, u, Source{File: "notebook.csv", Sheet: list[0], Matching: Guess(list[0], "", measure.Metric), System: measure.Metric, Now: today})
	if err != nil {
		return err
	}
	fmt.Println("writing")
	if _, err := u.Import(ctx, p.Batch); err != nil {
		return err
	}
	fmt.Println("written")
	return file.Close()
}

// importer begins a child that takes the notebook in, and waits until it writes.
func importer(t *testing.T, path string) (cmd *exec.Cmd, out io.Reader) {
	t.Helper()
	cmd = exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), importFile+"="+path)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	says(t, out, "writing")
	return cmd, out
}

func says(t *testing.T, out io.Reader, want string) {
	t.Helper()
	var line string
	if _, err := fmt.Fscanln(out, &line); err != nil || line != want {
		t.Fatalf("%q, %v", line, err)
	}
}

// undone takes back what was taken in whole, and reports whether it was there.
func undone(t *testing.T, u *studio.Service) bool {
	t.Helper()
	list, err := u.Imports(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if len(list) == 0 {
		return false
	}
	makings, err := u.Makings(t.Context(), studio.MakingFilter{Light: true})
	if err != nil || len(makings) != list[0].Added {
		t.Errorf("%d makings of %d, %v", len(makings), list[0].Added, err)
	}
	if _, err := u.UndoImport(t.Context(), list[0].ID); err != nil {
		t.Fatal(err)
	}
	return true
}

// An import killed while it writes leaves all of it or nothing, and the file
// whole. Kills fall all over the time that one took that was let be.
func TestKilledImport(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "studio.db")
	file, err := store.Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close() //nolint:errcheck // the folder goes too
	u := studio.New(file.Records(), func() time.Time { return today })
	empty := contents(t, u)
	const within, most = 4, 30 // kills that must fall within; tries
	took, killed, tries := time.Duration(0), 0, 0
	for ; killed < within && tries < most; tries++ {
		cmd, out := importer(t, path)
		from := time.Now()
		if took == 0 {
			says(t, out, "written")
			took = time.Since(from)
		} else {
			time.Sleep(time.Duration((float64(killed) + rand.Float64()) / within * float64(took)))
			cmd.Process.Kill() //nolint:errcheck // it may have ended by itself
		}
		cmd.Wait() //nolint:errcheck // it was killed
		whole := undone(t, u)
		if tries == 0 && !whole {
			t.Fatal("an import that was let be is not there")
		}
		if !whole {
			killed++
		}
		if contents(t, u) != empty {
			t.Fatalf("something is left; whole: %v", whole)
		}
	}
	if killed < within {
		t.Errorf("only %d of %d kills fell within the writing", killed, tries-1)
	}
	if err := file.Check(t.Context()); err != nil {
		t.Error(err)
	}
}
