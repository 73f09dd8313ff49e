package making

import (
	"fmt"

	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// saidBench is what was done besides pulling sheets.
func saidBench(s part.Speech, b studio.Body) string {
	switch b := b.(type) {
	case studio.Steeped:
		return "Fibre soaked for " + s.One(b.Hours, "h")
	case studio.MoistureCheck:
		return fmt.Sprintf("Moisture: %s as it lay, %s dried, so %.3g %% water", s.One(b.WetG, "g"), s.One(b.DryG, "g"), 100*(1-b.DryG/b.WetG))
	case studio.Added:
		return "Put in: " + b.What + amounts(s, b)
	case studio.Pressed:
		text := "Pressed for " + s.One(b.Minutes, "min")
		if b.Post > 0 {
			text = fmt.Sprintf("Post %d pressed for %s", b.Post, s.One(b.Minutes, "min"))
		}
		if b.ForceKN > 0 {
			text += " with " + s.One(b.ForceKN, "kN")
		}
		return text
	case studio.Dried:
		return dried(s, b)
	case studio.Spoilt:
		return "Spoilt: " + sheetsOf(b.Sheets) + ", " + b.Why
	case studio.WaterUsed:
		return "Water used: " + s.One(b.Litres, "L")
	}
	return string(b.Kind())
}

func amounts(s part.Speech, b studio.Added) (text string) {
	if b.Grams > 0 {
		text += ", " + s.One(b.Grams, "g")
	}
	if b.ML > 0 {
		text += ", " + s.One(b.ML, "mL")
	}
	if b.When != "" {
		text += ", " + b.When
	}
	return text
}

func dried(s part.Speech, b studio.Dried) string {
	text := "Dried in " + s.One(b.Hours, "h")
	if b.Where != "" {
		text += ", " + b.Where
	}
	if b.AirC > 0 {
		text += ", air of " + s.One(b.AirC, "°C")
	}
	return text + page.Room(b.RHPct)
}
