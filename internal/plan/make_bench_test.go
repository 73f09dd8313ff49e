package plan_test

import (
	"testing"

	"vatside/internal/belief"
	"vatside/internal/plan"
	"vatside/internal/testkit/laps"
)

// What a plan costs when nothing is fixed: the aim is under 6 ms.
func BenchmarkMakeUnknown(b *testing.B) {
	r := worked(b)
	r.Known = nil
	benchmarkMake(b, r)
}

func BenchmarkMakeFixed(b *testing.B) {
	r := worked(b)
	benchmarkMake(b, r)
}

func benchmarkMake(b *testing.B, r plan.Request) {
	b.ReportAllocs()
	l := laps.Start()
	for b.Loop() {
		l.Do(func() {
			if _, err := plan.Make(r, belief.Known{}); err != nil {
				b.Fatal(err)
			}
		})
	}
	l.Report(b)
}
