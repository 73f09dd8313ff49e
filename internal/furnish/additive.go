package furnish

import (
	"slices"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/source"
)

// Additive is one row of the table. Values that the table does not have are
// not Known. Shares are fractions.
type Additive struct {
	Name     string
	Aliases  []string // other names it is asked for by
	Group    Group    // none where the table does not have it
	MakeUp   string   // how it is brought into water
	Use      string   // when it works, what it does
	Cautions []string

	Dose          source.Value // usual, active on bone-dry fibre; of a surface size, what the dry sheet holds
	StockInVat    source.Value // formation aids: litres made up to a litre of vat
	Retained      source.Value // share that stays in the sheet; always known
	RetainedAided source.Value // the same with a retention aid
	Strength      source.Value // active substance over the mass as bought
	Bulk          source.Value // mass of a level spoonful as bought, g/mL
	Concentration source.Value // made up, grams as bought to the litre: SolutionVolume of the ProductMass
	Ash           source.Value // fillers: what is left of it burnt at 900 °C, a share
	Keeps         source.Value // made up, hours
	PH            source.Value // of the stock in which it works
	Price         source.Value // US dollars per kilogram as bought
}

// Listed reports whether the table has it.
func (a Additive) Listed() bool { return a.Group != "" }

// Kept is the share that stays in the sheet, with or without a retention aid.
func (a Additive) Kept(aided bool) source.Value {
	if aided && a.RetainedAided.Known() {
		return a.RetainedAided
	}
	return a.Retained
}

// Additives returns the table in its order.
func Additives() []Additive {
	t := load()
	out := make([]Additive, len(t.additives))
	for i, a := range t.additives {
		out[i] = a.clone()
	}
	return out
}

// clone keeps the table safe from a caller who changes a slice.
func (a Additive) clone() Additive {
	a.Aliases, a.Cautions = slices.Clone(a.Aliases), slices.Clone(a.Cautions)
	return a
}

// GetAdditive returns the additive of that name or alias; capitals, hyphens
// and doubled spaces do not matter.
func GetAdditive(kind string) (Additive, bool) {
	t := load()
	i, ok := t.byName[source.Plain(kind)]
	if !ok {
		return Additive{}, false
	}
	return t.additives[i].clone(), true
}

// OtherAdditive is what is known of an additive that the table does not have:
// that some share of it stays in the sheet.
func OtherAdditive(kind string) Additive {
	return Additive{Name: strings.Join(strings.Fields(kind), " "), Retained: otherRetained()}
}

// Any returns the additive of that name, or what is known of any other.
func Any(kind string) Additive {
	if a, ok := GetAdditive(kind); ok {
		return a
	}
	return OtherAdditive(kind)
}

// FindAdditive is GetAdditive with a fault that belongs to field and offers
// near names.
func FindAdditive(field, kind string) (Additive, error) {
	if a, ok := GetAdditive(kind); ok {
		return a, nil
	}
	if source.Plain(kind) == "" {
		return Additive{}, fault.Invalid(field, "an additive is needed, such as calcium carbonate")
	}
	if near := NearAdditives(kind, 3); len(near) > 0 {
		return Additive{}, fault.Invalid(field, "%q is not in the table of additives; did you mean %s?", kind, strings.Join(near, ", "))
	}
	var all []string
	for _, a := range load().additives {
		all = append(all, a.Name)
	}
	return Additive{}, fault.Invalid(field, "%q is not in the table of additives, which has %s", kind, strings.Join(all, ", "))
}

// NearAdditives returns up to n names of the table like the one given, the
// nearest first: names it is part of, or that differ by few letters.
func NearAdditives(kind string, n int) []string {
	return source.Near(kind, n, func(yield func(plain, name string) bool) {
		t := load()
		for known, i := range t.byName {
			if !yield(known, t.additives[i].Name) {
				return
			}
		}
	})
}
