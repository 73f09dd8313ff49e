package record

import (
	"encoding/json"
	"strings"

	"vatside/internal/measure"
	"vatside/internal/studio"
)

// Where in the work a thing is done.
const (
	before   = "Before the vat"
	pressing = "Press and dryer"
	dry      = "Measured on dry sheets"
)

// besides is what can be done and measured besides the card's own blanks, in the
// order of the work. A blank has the name of its entry's key.
var besides = []struct {
	when   string
	kind   studio.Kind
	name   string // of its fields
	legend string
	note   string
	blanks []blank
}{
	{before, studio.KindSteeped, "steeped", "Fibre soaked", "", []blank{{key: "hours", label: "For", kind: measure.OfHours, unit: "h"}}},
	{before, studio.KindMoisture, "moisture", "Moisture of the fibre", "A handful as it lay, and after drying it at 105 °C until it loses no more.", []blank{{key: "wet_g", label: "As it lay", kind: measure.OfMass}, {key: "dry_g", label: "Dried", kind: measure.OfMass}}},
	{before, studio.KindAdded, "added", "Put into the stock", "In the order in which it went in.", []blank{{key: "what", label: "What", text: true}, {key: "grams", label: "Weighed", kind: measure.OfMass, may: true}, {key: "ml", label: "or measured", kind: measure.OfSmallVolume, may: true}, {key: "when", label: "When", text: true, may: true}}},
	{before, studio.KindWater, "water", "Water used", "", []blank{{key: "litres", label: "In all", kind: measure.OfVolume}}},
	{pressing, studio.KindSpoilt, "spoilt", "Spoilt, and why", "Kissed, bubble, torn, thick corner, drip, or in your words.", []blank{{key: "sheets", label: "Sheets", kind: measure.OfCount}, {key: "why", label: "Why", text: true}}},
	{pressing, studio.KindPressed, "pressed", "Pressed", "", []blank{{key: "post", label: "Post", kind: measure.OfCount, may: true}, {key: "force_kn", label: "Force", kind: measure.OfForce, may: true}, {key: "minutes", label: "For", kind: measure.OfMinutes, unit: "min"}}},
	{pressing, studio.KindDried, "dried", "Dried", "From the press to dry, with the air around it.", []blank{{key: "hours", label: "For", kind: measure.OfHours, unit: "h"}, {key: "where", label: "Where", text: true, may: true}, {key: "air_c", label: "Air", kind: measure.OfTemperature, may: true}, {key: "rh_pct", label: "Humidity", kind: measure.OfPercent, may: true}}},
	{dry, studio.KindCaliper, "caliper", "Caliper", "Several readings at different places, a space between.", []blank{{key: "thickness_mm", label: "Readings", kind: measure.OfLength, list: true}}},
	{dry, studio.KindDiagonals, "diagonals", "Diagonals", "", []blank{{key: "first_mm", label: "One", kind: measure.OfLength}, {key: "second_mm", label: "The other", kind: measure.OfLength}, {key: "long_mm", label: "Long side", kind: measure.OfLength}, {key: "short_mm", label: "Short side", kind: measure.OfLength}}},
	{dry, studio.KindSized, "sized", "Sized", "", []blank{{key: "dry_g", label: "Before, dry", kind: measure.OfMass}, {key: "wet_g", label: "Drained, wet", kind: measure.OfMass}, {key: "bath_pct", label: "Bath", kind: measure.OfPercent, may: true}}},
	{dry, studio.KindCobb, "cobb", "Cobb test", "", []blank{{key: "dry_g", label: "Dry", kind: measure.OfMass}, {key: "wet_g", label: "Wet", kind: measure.OfMass}, {key: "area_cm2", label: "Area", kind: measure.OfNumber, unit: "cm²", usual: "100"}, {key: "seconds", label: "After", kind: measure.OfNumber, unit: "s", usual: "60"}}},
	{dry, studio.KindInk, "ink", "Ink strip", "", []blank{{key: "says", label: "1 soaks through to 6 beads", text: true}}},
	{dry, studio.KindSoaked, "soaked", "Soaked in a bath", "", []blank{{key: "before_long_mm", label: "Before, long", kind: measure.OfLength}, {key: "before_short_mm", label: "Before, short", kind: measure.OfLength}, {key: "wet_long_mm", label: "Wet, long", kind: measure.OfLength}, {key: "wet_short_mm", label: "Wet, short", kind: measure.OfLength}, {key: "after_long_mm", label: "Dry again, long", kind: measure.OfLength, may: true}, {key: "after_short_mm", label: "Dry again, short", kind: measure.OfLength, may: true}}},
	{dry, studio.KindHand, "hand", "The hand says", "In words, or from 1 to 5.", []blank{{key: "handle", label: "Handle", text: true, may: true}, {key: "rattle", label: "Rattle", text: true, may: true}, {key: "tooth", label: "Tooth", text: true, may: true}, {key: "remark", label: "And", text: true, may: true}}},
}

// blank is one number or word of an entry.
type blank struct {
	key, label string
	kind       measure.Kind
	unit       string
	usual      string // stands there; alone it says nothing
	text, list bool
	may        bool // may stay blank
}

// keptIn are the units that entries are kept in.
var keptIn = map[measure.Kind]string{
	measure.OfLength: "mm", measure.OfMass: "g", measure.OfVolume: "L", measure.OfSmallVolume: "mL",
	measure.OfForce: "kN", measure.OfTemperature: "°C",
}

// besidesRows is how many rows a kind has: those recorded and one more.
func (l layout) besidesRows(kind studio.Kind) int { return len(l.besidesOf(kind)) + 1 }

// besidesOf are the entries of a kind that are recorded.
func (l layout) besidesOf(kind studio.Kind) []studio.Body {
	var list []studio.Body
	for _, b := range l.besides {
		if b.Kind() == kind {
			list = append(list, b)
		}
	}
	return list
}

// besides writes what is recorded into the form.
func (f filler) besides(l layout) {
	for _, k := range besides {
		for i, body := range l.besidesOf(k.kind) {
			said := keysOf(body)
			for _, b := range k.blanks {
				at := name(k.name, i+1, b.key)
				switch v := said[b.key].(type) {
				case string:
					f.f.Fill(at, v)
				case float64:
					if v != 0 && keptIn[b.kind] != "" {
						f.quantity(at, v, keptIn[b.kind], b.kind)
					} else if v != 0 {
						f.number(at, v)
					}
				case []any:
					var all []string
					for _, one := range v {
						n, _ := one.(float64)
						t, _ := measure.ShowCaliper(measure.Length(n), f.s.System)
						all = append(all, t)
					}
					f.f.Fill(at, strings.Join(all, " "))
				}
			}
		}
		for _, b := range k.blanks {
			if b.usual != "" {
				f.f.Fill(name(k.name, 1, b.key), b.usual)
			}
		}
	}
}

// keysOf is an entry by its keys.
func keysOf(body studio.Body) map[string]any {
	said := map[string]any{}
	if raw, err := json.Marshal(body); err == nil {
		_ = json.Unmarshal(raw, &said) // it was just written
	}
	return said
}
