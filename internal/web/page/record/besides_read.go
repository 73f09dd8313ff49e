package record

import (
	"encoding/json"
	"fmt"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/sizing"
	"vatside/internal/studio"
)

// besides reads what was measured. A row nobody touched stays as it is recorded.
func (r reader) besides(e *studio.CardEntry) {
	for _, k := range besides {
		recorded := r.l.besidesOf(k.kind)
		for i := 1; i <= r.l.besidesRows(k.kind); i++ {
			said, touched := map[string]any{}, i > len(recorded)
			full := false
			for _, b := range k.blanks {
				at := name(k.name, i, b.key)
				touched = touched || r.f.Get(at) != strings.TrimSpace(r.was.Get(at))
				full = full || r.f.Get(at) != "" && b.bare(r.f.Get(at)) != b.usual
			}
			switch {
			case !full:
				continue
			case !touched:
				e.More = append(e.More, recorded[i-1])
				continue
			}
			for _, b := range k.blanks {
				r.blank(said, name(k.name, i, b.key), b)
			}
			r.more(e, k.kind, k.name, i, said)
		}
	}
}

// bare is what was typed without the blank's own unit, which a draft that is
// brought back in other units has behind its numbers.
func (b blank) bare(typed string) string {
	if b.unit == "" || b.kind != measure.OfNumber {
		return typed
	}
	return strings.TrimSpace(strings.TrimSuffix(typed, b.unit))
}

// blank reads one blank into an entry's keys.
func (r reader) blank(said map[string]any, at string, b blank) {
	typed := r.f.Get(at)
	switch {
	case typed == "" && b.may:
	case typed == "":
		r.f.Refuse(fault.Invalid(at, "write this too, or leave all of it blank"))
	case b.key == "says":
		word, err := sizing.ParseInkStrip(at, typed)
		r.f.Refuse(err)
		said[b.key] = word.String()
	case b.text:
		said[b.key] = typed
	case b.list:
		var all []float64
		for _, one := range strings.FieldsFunc(typed, func(c rune) bool { return c == ' ' || c == ';' }) {
			v, err := r.s.Read(at, strings.TrimSuffix(one, ","), b.kind)
			r.f.Refuse(err)
			all = append(all, v)
		}
		said[b.key] = all
	default:
		r.f.Values.Set(at, b.bare(typed))
		if v := r.quantity(at, b.kind); v != nil {
			said[b.key] = *v
		}
	}
}

// more checks an entry and puts it on the card; a fault is told at its blank.
func (r reader) more(e *studio.CardEntry, kind studio.Kind, as string, row int, said map[string]any) {
	if len(r.f.Faults) > 0 {
		return
	}
	raw, err := json.Marshal(said)
	if err != nil {
		r.f.Refuse(err)
		return
	}
	body, err := studio.ReadBody(kind, raw)
	for _, f := range fault.All(err) {
		key, _, _ := strings.Cut(strings.TrimPrefix(f.Field, "body."), "[")
		r.f.Refuse(&fault.Error{Kind: f.Kind, Field: name(as, row, key), Text: f.Text})
	}
	if err == nil {
		e.More = append(e.More, body)
	}
}

// lots reads what came out of which lot; without a weight in all it is their
// sum.
func (r reader) lots(e *studio.CardEntry) {
	var list []studio.FromLot
	sum := 0.0
	for _, lot := range r.l.lots {
		if g := r.quantity("lot-"+lot.ID, measure.OfMass); g != nil && *g > 0 {
			list, sum = append(list, studio.FromLot{Lot: lot.ID, Grams: *g}), sum+*g
			r.at[fmt.Sprintf("fibre.lots[%d]", len(list)-1)] = "lot-" + lot.ID
		}
	}
	if len(list) == 0 {
		return
	}
	if e.Fibre == nil {
		e.Fibre = &studio.FibreWeighed{Grams: sum}
	}
	e.Fibre.Lots = list
}
