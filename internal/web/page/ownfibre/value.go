package ownfibre

import (
	"cmp"
	"strings"

	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/web/part"
)

// value is a number that is asked of a fibre.
type value struct {
	fibre.Quantity
	field string
	hours bool // of beating, for the use that its key names
}

// kind is how it is typed.
func (v value) kind() measure.Kind {
	switch v.Bare() {
	case "%":
		return measure.OfPercent
	case "h":
		return measure.OfHours
	case "mm":
		return measure.OfLength
	}
	return measure.OfNumber
}

// of is the value that a fibre of the handbook has; an unknown one for none.
func (v value) of(f fibre.Fibre) source.Value {
	if v.hours {
		hours, _ := f.HoursFor(v.Key)
		return hours
	}
	return f.Of(v.Key)
}

// width is the near fibre's value that one number alone is as sure as: of hours
// for a use it has none for, its usual ones.
func (v value) width(like fibre.Fibre) source.Value {
	near := v.of(like)
	switch {
	case like.Name == "": // which is told
		return source.Said(1, 1, 1, source.KeyMaker, "")
	case v.hours && !near.Known():
		near, _ = like.HoursFor(fibre.Usual)
	}
	return near
}

// own is the band that the maker gave, if any.
func (v value) own(o fibre.Own) (fibre.Band, bool) {
	if v.hours {
		b, ok := o.Hours[v.Key]
		return b, ok
	}
	b, ok := o.Values[v.Key]
	return b, ok
}

// beside says what the near fibre has.
func (v value) beside(s part.Speech, like fibre.Fibre) string {
	near := v.of(like)
	switch {
	case like.Name == "":
		return ""
	case !near.Known() && v.hours:
		return part.Upper(like.Name) + ": no hours of its own for this."
	case !near.Known():
		return part.Upper(like.Name) + ": not known."
	}
	said := v.write(s, v.band(near))
	if near.Low == near.High {
		said, _, _ = strings.Cut(said, " ")
	}
	unit := v.shown(s)
	if unit == v.Bare() { // what it is a share of is said beside the number alone
		unit = v.Unit
	}
	return part.Upper(like.Name) + ": " + said + "\u00a0" + unit
}

// band is a value of the table as it is typed.
func (v value) band(of source.Value) fibre.Band {
	of = v.Read(of)
	return fibre.Band{Low: tidy(of.Low), Mid: tidy(of.Mid), High: tidy(of.High)}
}

// write writes a band as it is typed.
func (v value) write(s part.Speech, b fibre.Band) string {
	say := func(x float64) string {
		if unit := v.shown(s); unit != v.Bare() { // in the reader's own unit
			if c, err := measure.Convert(x, v.Unit, unit, nil); err == nil {
				x = tidy(c.Value)
			}
		}
		return part.Written(x)
	}
	return say(b.Mid) + " (" + say(b.Low) + "–" + say(b.High) + ")"
}

// shown is the unit of a bare number.
func (v value) shown(s part.Speech) string { return cmp.Or(s.Bare(v.kind()), v.Bare()) }
