//go:build linux || darwin

package keeping_test

import (
	"bufio"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"testing"
	"time"

	"vatside/internal/keeping"
	"vatside/internal/store"
	"vatside/internal/studio"
)

// restorerFile is set for the child that TestKilledRestorerLosesNothing kills.
const restorerFile = "VATSIDE_TEST_RESTORER_FILE"

func TestMain(m *testing.M) {
	if path := os.Getenv(restorerFile); path != "" {
		fmt.Fprintln(os.Stderr, restoreUntilKilled(path, os.Getenv(restorerFile+"_COPY")))
		os.Exit(1)
	}
	os.Exit(m.Run())
}

// restoreUntilKilled goes back to one copy, then to the studio as it was before,
// and so on.
func restoreUntilKilled(path, name string) error {
	ctx := context.Background()
	file, err := store.Open(ctx, path)
	if err != nil {
		return err
	}
	k := keeping.New(file, look, path+".photos", time.Now)
	fmt.Println("open")
	for {
		before, err := k.Restore(ctx, name)
		if err != nil {
			return err
		}
		name = before.Name
		fmt.Println("back")
	}
}

// A program killed at any moment of bringing a studio back leaves one of the
// two, whole, and every copy it names whole too.
func TestKilledRestorerLosesNothing(t *testing.T) {
	rounds := 30
	if testing.Short() {
		rounds = 10
	}
	a := newStudio(t)
	a.photo("one")
	a.named("odd")
	a.now = time.Now().Add(-48 * time.Hour) // a day to each, so that neither is thinned out
	odd := a.make(keeping.Asked)
	a.now = time.Now().Add(-24 * time.Hour)
	a.named("even")
	even := a.make(keeping.Asked)
	path := a.file.Path()
	if err := a.file.Close(); err != nil {
		t.Fatal(err)
	}
	saw := map[string]int{}
	var longest time.Duration // of a restoring, on this machine as busy as it is
	for round := range rounds {
		to := []string{odd.Name, even.Name}[round%2]
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), restorerFile+"="+path, restorerFile+"_COPY="+to)
		out, err := cmd.StdoutPipe()
		if err == nil {
			err = cmd.Start()
		}
		if err != nil {
			t.Fatal(err)
		}
		said := bufio.NewScanner(out)
		said.Scan()     // open
		if round == 0 { // one is let through, so that the kills fall all over the others
			begun := time.Now()
			said.Scan() // back
			longest = time.Since(begun)
		} else {
			time.Sleep(time.Duration(rand.Int64N(int64(longest*2) + 1)))
		}
		if err := cmd.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		cmd.Wait() //nolint:errcheck // it was killed
		saw[whole(t, path)]++
	}
	t.Logf("after %d kills: %v", rounds, saw)
	if len(saw) < 2 && rounds > 20 {
		t.Errorf("the kills fell badly: %v", saw)
	}
}

// whole opens the studio after a kill, reads it and all copies through, and
// returns its name.
func whole(t *testing.T, path string) string {
	t.Helper()
	file, err := store.Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	if err := file.Check(t.Context()); err != nil {
		t.Error(err)
	}
	k := keeping.New(file, look, path+".photos", time.Now)
	list, err := k.List()
	if err != nil || len(list) == 0 {
		t.Fatalf("%d copies, %v", len(list), err)
	}
	for _, c := range list {
		if _, _, err := k.Inside(t.Context(), c.Name); err != nil {
			t.Errorf("%s: %v", c.Name, err)
		}
	}
	p, err := studio.New(file.Records(), time.Now).Profile(t.Context())
	if err != nil || p.Name != "odd" && p.Name != "even" {
		t.Errorf("the studio is neither of the two: %q, %v", p.Name, err)
	}
	return p.Name
}
