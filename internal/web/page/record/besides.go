package record

import (
	"encoding/json"
	"strings"

	"vatside/internal/measure"
	"vatside/internal/studio"
)

// besides is what can be measured besides the card's own blanks. A blank has
// the name of its entry's key.
var besides = []struct {
	kind   studio.Kind
	name   string // of its fields
	legend string
	note   string
	blanks []blank
}{
	{studio.KindCaliper, "caliper", "Caliper", "Several readings at different places, a space between.", []blank{{key: "thickness_mm", label: "Readings", kind: measure.OfLength, list: true}}},
	{studio.KindDiagonals, "diagonals", "Diagonals", "", []blank{{key: "first_mm", label: "One", kind: measure.OfLength}, {key: "second_mm", label: "The other", kind: measure.OfLength}, {key: "long_mm", label: "Long side", kind: measure.OfLength}, {key: "short_mm", label: "Short side", kind: measure.OfLength}}},
	{studio.KindSized, "sized", "Sized", "", []blank{{key: "dry_g", label: "Before, dry", kind: measure.OfMass}, {key: "wet_g", label: "Drained, wet", kind: measure.OfMass}, {key: "bath_pct", label: "Bath", kind: measure.OfPercent, may: true}}},
	{studio.KindCobb, "cobb", "Cobb test", "", []blank{{key: "dry_g", label: "Dry", kind: measure.OfMass}, {key: "wet_g", label: "Wet", kind: measure.OfMass}, {key: "area_cm2", label: "Area", kind: measure.OfNumber, unit: "cm²", usual: "100"}, {key: "seconds", label: "After", kind: measure.OfNumber, unit: "s", usual: "60"}}},
	{studio.KindInk, "ink", "Ink strip", "", []blank{{key: "says", label: "1 soaks through to 6 beads", text: true}}},
	{studio.KindSoaked, "soaked", "Soaked in a bath", "", []blank{{key: "before_long_mm", label: "Before, long", kind: measure.OfLength}, {key: "before_short_mm", label: "Before, short", kind: measure.OfLength}, {key: "wet_long_mm", label: "Wet, long", kind: measure.OfLength}, {key: "wet_short_mm", label: "Wet, short", kind: measure.OfLength}, {key: "after_long_mm", label: "Dry again, long", kind: measure.OfLength, may: true}, {key: "after_short_mm", label: "Dry again, short", kind: measure.OfLength, may: true}}},
	{studio.KindHand, "hand", "The hand says", "In words, or from 1 to 5.", []blank{{key: "handle", label: "Handle", text: true, may: true}, {key: "rattle", label: "Rattle", text: true, may: true}, {key: "tooth", label: "Tooth", text: true, may: true}, {key: "remark", label: "And", text: true, may: true}}},
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
var keptIn = map[measure.Kind]string{measure.OfLength: "mm", measure.OfMass: "g"}

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
