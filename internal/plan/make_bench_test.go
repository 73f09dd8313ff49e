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

func BenchmarkRunVat(b *testing.B) {
	r := vatRequest(b, `{"vat_l": 80, "formed_area_m2": 0.126, "effective_depth_mm": 19.4, "carried_off_l": 0.21, "grammage_formed_g_m2": 100, "sheets": 60, "tolerance_pct": 5, "recharge": "advised"}`)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := plan.RunVat(r); err != nil {
			b.Fatal(err)
		}
	}
}
