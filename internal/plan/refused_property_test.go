package plan_test

import (
	"testing"

	"vatside/internal/belief"
	"vatside/internal/fault"
	"vatside/internal/plan"
)

// Each request is refused, with the key it stands at in the request and with
// nothing said twice; never answered, never a panic.
func TestRefusedAtItsKey(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		change func(*plan.Request)
		field  string
		kind   fault.Kind
	}{
		"frost":           {func(r *plan.Request) { r.Studio.Air = &plan.Air{TempC: -5, RHPct: 90} }, "studio.air.temp_c", fault.KindOutOfRange},
		"high place":      {func(r *plan.Request) { r.Studio.AltitudeM = ptr(5500.0) }, "studio.altitude_m", fault.KindOutOfRange},
		"no length":       {func(r *plan.Request) { r.Sheet.LongMM = 0 }, "sheet.long_mm", fault.KindOutOfRange},
		"wrong way round": {func(r *plan.Request) { r.Sheet.LongMM, r.Sheet.ShortMM = 297, 420 }, "sheet.short_mm", fault.KindInvalid},
		"sheet over vat":  {func(r *plan.Request) { r.Studio.VatL, r.Studio.VatLeastL = ptr(2.0), ptr(1.0) }, "studio.vat_l", fault.KindInfeasible},
		"thin stock":      {func(r *plan.Request) { r.Studio.StockGL = ptr(1.0) }, "studio.stock_g_l", fault.KindInfeasible},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := worked(t)
			c.change(&r)
			_, err := plan.Make(r, belief.Known{})
			all := fault.All(err)
			if len(all) != 1 || all[0].Field != c.field || all[0].Kind != c.kind {
				t.Errorf("refused with %v, want one fault of kind %v at %s", err, c.kind, c.field)
			}
		})
	}
}

// The rooms a request may name are all rooms that a dryer can be reckoned in.
func TestEveryRoomIsAnswered(t *testing.T) {
	t.Parallel()
	for _, temp := range []float64{0, 20, 45} {
		for _, rh := range []float64{5, 90} {
			for _, alt := range []float64{-430, 5000} {
				for _, drying := range []string{"stack", "exchange", "board", "loft", "free"} {
					r := worked(t)
					r.Studio.Air, r.Studio.AltitudeM, r.Paper.Drying = &plan.Air{TempC: temp, RHPct: rh}, &alt, drying
					p, err := plan.MakeWith(r, belief.Known{}, plan.Options{Draws: 50})
					if err != nil && fault.KindOf(err) == fault.KindInfeasible {
						continue
					}
					if err != nil || p.Figures["drying_hours"].Value <= 0 {
						t.Errorf("%g °C, %g %%, %g m, %s: %v h, %v", temp, rh, alt, drying, p.Figures["drying_hours"].Value, err)
					}
				}
			}
		}
	}
}
