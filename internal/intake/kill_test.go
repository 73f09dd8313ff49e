//go:build linux || darwin

package intake

import (
	"context"
	"fmt"
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

const killedRows = 400

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

// An import killed at any moment leaves all of it or nothing, and the file
// whole.
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
	whole, nothing := 0, 0
	for range 6 {
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), importFile+"="+path)
		cmd.Stderr = os.Stderr
		out, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		var line string
		if _, err := fmt.Fscanln(out, &line); err != nil || line != "writing" {
			t.Fatalf("%q, %v", line, err)
		}
		time.Sleep(time.Duration(rand.Int64N(int64(1200 * time.Millisecond))))
		cmd.Process.Kill() //nolint:errcheck // it may have ended by itself
		cmd.Wait()         //nolint:errcheck // it was killed
		list, err := u.Imports(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		if len(list) == 0 {
			nothing++
			if contents(t, u) != empty {
				t.Error("something was left of an import that was killed")
			}
			continue
		}
		whole++
		makings, err := u.Makings(t.Context(), studio.MakingFilter{Light: true})
		if err != nil || len(makings) != list[0].Added {
			t.Errorf("%d makings of %d, %v", len(makings), list[0].Added, err)
		}
		if _, err := u.UndoImport(t.Context(), list[0].ID); err != nil {
			t.Fatal(err)
		}
		if contents(t, u) != empty {
			t.Error("undoing left something")
		}
	}
	t.Logf("%d whole, %d nothing", whole, nothing)
	if err := file.Check(t.Context()); err != nil {
		t.Error(err)
	}
}
