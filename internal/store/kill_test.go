//go:build linux || darwin

package store

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"vatside/internal/belief"
	"vatside/internal/plan"
	"vatside/internal/studio"
)

// writerFile is set for the child that TestKilledWriterLosesNothing kills.
const writerFile = "VATSIDE_TEST_WRITER_FILE"

func TestMain(m *testing.M) {
	if path := os.Getenv(writerFile); path != "" {
		fmt.Fprintln(os.Stderr, writeUntilKilled(path, os.Getenv(writerFile+"_BRIEF"), os.Getenv(writerFile+"_ROUND")))
		os.Exit(1)
	}
	os.Exit(m.Run())
}

// learner gives the writer something to rebuild in each transaction.
func learner(m studio.Making, s studio.State) []belief.Observation {
	return []belief.Observation{{ID: m.ID + "/pulled", Making: m.ID, Belief: "pulled", Hits: 0, Trials: float64(s.Pulled), At: s.Last}}
}

// writeUntilKilled appends one event after another to a making of its own and
// prints the id of each once it is acknowledged.
func writeUntilKilled(path, brief, round string) error {
	ctx := context.Background()
	s, err := Open(ctx, path)
	if err != nil {
		return err
	}
	u := useCases(s)
	u.Learner = learner
	m, err := u.StartMaking(ctx, brief, plan.Request{}, plan.Plan{})
	if err != nil {
		return err
	}
	for n := 1; ; n++ {
		id := fmt.Sprintf("%s-%d", round, n)
		if _, err := u.Record(ctx, m.ID, studio.NewEvent(id, start, studio.Post{Post: 1, Pulled: 1})); err != nil {
			return err
		}
		if _, err := os.Stdout.WriteString(id + "\n"); err != nil {
			return err
		}
	}
}

// A writer killed at any moment loses nothing it acknowledged and leaves no
// damage: 500 writers are killed one after the other on one file, most of them
// at some moment while they append, some while they open the file.
func TestKilledWriterLosesNothing(t *testing.T) {
	rounds := 500
	if testing.Short() {
		rounds = 50
	}
	path := filepath.Join(t.TempDir(), "studio.db")
	s, err := Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	m, _ := seed(t, s)
	// Once learned anew, so that what is seen afterwards is what the writers
	// derived as they wrote.
	if _, err := useCases(s).Observations(t.Context(), studio.ObservationFilter{}); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	began := time.Now()
	acknowledged := map[string]bool{"one": true}
	var opening, appending int
	for round := range rounds {
		ids := killOne(t, path, m.BriefID, round)
		for _, id := range ids {
			acknowledged[id] = true
		}
		if len(ids) == 0 {
			opening++
		} else {
			appending++
		}
	}
	t.Logf("%d writers killed in %.1f s, %d while opening, %d while appending; %d entries acknowledged",
		rounds, time.Since(began).Seconds(), opening, appending, len(acknowledged))
	if appending < rounds/2 || opening == 0 {
		t.Errorf("the kills fell badly: %d while opening, %d while appending", opening, appending)
	}
	afterKills(t, path, acknowledged)
}

// killOne starts a writer, kills it at a random moment and returns what it
// acknowledged.
func killOne(t *testing.T, path, brief string, round int) (ids []string) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), writerFile+"="+path, writerFile+"_BRIEF="+brief, fmt.Sprintf("%s_ROUND=%d", writerFile, round))
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewReader(out)
	read := func() bool {
		line, err := lines.ReadString('\n')
		if err == nil {
			ids = append(ids, line[:len(line)-1])
		} else if err != io.EOF {
			t.Fatal(err)
		}
		return err == nil
	}
	// One in eight dies within the first 40 ms: before, during or just after
	// opening. The others die within 25 ms of their first entry.
	wait := time.Duration(rand.Int64N(int64(25 * time.Millisecond)))
	if round%8 == 0 {
		wait = time.Duration(rand.Int64N(int64(40 * time.Millisecond)))
	} else if !read() {
		t.Fatal("the writer ended by itself")
	}
	time.Sleep(wait)
	if err := cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	for read() {
	}
	cmd.Wait() //nolint:errcheck // it was killed
	return ids
}

// afterKills checks the file: whole, nothing lost, and what is derived agrees
// with the events.
func afterKills(t *testing.T, path string, acknowledged map[string]bool) {
	t.Helper()
	s := open(t, path)
	if err := s.Check(t.Context()); err != nil {
		t.Error(err)
	}
	u := useCases(s)
	makings, err := u.Makings(t.Context(), studio.MakingFilter{})
	if err != nil {
		t.Fatal(err)
	}
	stored := 0
	for _, m := range makings {
		events, err := u.Events(t.Context(), m.ID)
		if err != nil {
			t.Fatal(err)
		}
		stored += len(events)
		for _, e := range events {
			delete(acknowledged, e.ID)
		}
		state := studio.Replay(m, events)
		if m.Progress.Couched != state.Couched {
			t.Errorf("making %s: the list says %d couched, the events %d", m.Tag, m.Progress.Couched, state.Couched)
		}
		seen, err := u.Observations(t.Context(), studio.ObservationFilter{MakingID: m.ID})
		if err != nil {
			t.Fatal(err)
		}
		if len(events) > 0 && events[0].ID != "one" && (len(seen) != 1 || seen[0].Trials != float64(state.Pulled)) {
			t.Errorf("making %s: learned %+v of %d pulled", m.Tag, seen, state.Pulled)
		}
	}
	if len(acknowledged) > 0 {
		t.Errorf("%d acknowledged entries are lost of %d stored", len(acknowledged), stored)
	}
}
