package plan_test

import (
	"testing"

	"vatside/internal/belief"
	"vatside/internal/plan"
)

// What a plan costs when nothing is fixed: the aim is under 6 ms.
func BenchmarkMakeUnknown(b *testing.B) {
	r := worked(b)
	r.Known = nil
	b.ReportAllocs()
	for b.Loop() {
		if _, err := plan.Make(r, belief.Known{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMakeFixed(b *testing.B) {
	r := worked(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := plan.Make(r, belief.Known{}); err != nil {
			b.Fatal(err)
		}
	}
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
