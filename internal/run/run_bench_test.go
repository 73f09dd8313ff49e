package run_test

import (
	"testing"

	"vatside/internal/run"
)

// full is a run of 60 sheets with a recharge before each and a weighing each ten.
func full(t testing.TB) []run.Event {
	t.Helper()
	var out []run.Event
	for n := 1; n <= 60; n++ {
		out = append(out, run.Recharged{Stock: 0.285}, run.Watered{Water: -0.208}, run.Pulled{})
		if n%10 == 0 {
			out = append(out, run.Weighed{Sheets: []int{n - 2, n - 1, n}, Mass: 25.6, Sure: true})
		}
	}
	replay(t, prior(), out...)
	return out
}

// One weighing at the end of a run of 60 sheets, with all that is said after it.
func BenchmarkUpdate(b *testing.B) {
	r := replay(b, prior(), full(b)...)
	for b.Loop() {
		happen(b, r, run.Weighed{Sheets: []int{58, 59, 60}, Mass: 25.6, Sure: true})
		if _, err := r.Recharge(); err != nil {
			b.Fatal(err)
		}
		r.Forgotten()
	}
}

// A run of 60 sheets, 186 events, followed from its start, as a correction
// does.
func BenchmarkReplay(b *testing.B) {
	events := full(b)
	for b.Loop() {
		replay(b, prior(), events...)
	}
}
