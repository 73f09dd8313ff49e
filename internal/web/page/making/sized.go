package making

import (
	"fmt"
	"strings"

	"vatside/internal/measure"
	"vatside/internal/sizing"
	"vatside/internal/studio"
	"vatside/internal/web/page"
)

// sized says the pick-up, and the size it puts on the sheet.
func sized(z studio.Sized) Finding {
	f := Finding{Name: "Pick-up"}
	u, err := sizing.PickUp(measure.Mass(z.DryG), measure.Mass(z.WetG))
	if err != nil {
		f.Value, f.Note = "cannot be", page.Sentence(err)
		return f
	}
	f.Value = fmt.Sprintf("%.2f g of bath a gram of dry sheet", float64(u))
	if z.BathPct > 0 {
		if d, err := sizing.OnFibre(sizing.BathStrength(z.BathPct/100), u); err == nil {
			f.Note = fmt.Sprintf("So a bath of %.3g\u202f%% puts %.3g\u202f%% of size on the sheet.", z.BathPct, 100*float64(d))
		}
	}
	return f
}

// cobb says a Cobb test, with what it is good for.
func cobb(c studio.Cobb, g measure.GrammageConditioned, waterleaf bool) Finding {
	f := Finding{Name: fmt.Sprintf("Cobb, %g s", c.Seconds)}
	a, err := sizing.Cobb(measure.Mass(c.DryG), measure.Mass(c.WetG), measure.Area(c.AreaCM2/1e4))
	if err != nil {
		f.Value, f.Note = "cannot be", page.Sentence(err)
		return f
	}
	f.Value = fmt.Sprintf("%.3g g/m² of water", float64(a))
	if err := sizing.CobbApplies(g, waterleaf); err != nil {
		f.Note = "Outside the test: " + page.Sentence(err)
		return f
	}
	if c.Seconds != 60 {
		f.Note = "The words for it go by 60 s."
		return f
	}
	var words []string
	for _, b := range sizing.CobbBands() {
		if float64(a) >= b.Cobb.Low && float64(a) <= b.Cobb.High {
			words = append(words, b.Word)
		}
	}
	if len(words) > 0 {
		f.Note = "Roughly " + strings.Join(words, " or ") + ", from memory; compare with your own papers only."
	}
	return f
}
