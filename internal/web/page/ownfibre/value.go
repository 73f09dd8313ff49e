package ownfibre

import (
	"strings"

	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/web/part"
)

// value is a number that is asked of a fibre.
type value struct {
	field, label, unit string
	kind               measure.Kind
	key                string // of the quantity, or the use that its hours are for
	hours              bool
}

func kindOf(unit string) measure.Kind {
	switch {
	case strings.HasPrefix(unit, "%"):
		return measure.OfPercent
	case unit == "h":
		return measure.OfHours
	case unit == "mm":
		return measure.OfLength
	}
	return measure.OfNumber
}

// of is the value that a fibre of the handbook has; an unknown one for none.
func (v value) of(f fibre.Fibre) source.Value {
	if v.hours {
		hours, _ := f.HoursFor(v.key)
		return hours
	}
	return f.Of(v.key)
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
		b, ok := o.Hours[v.key]
		return b, ok
	}
	b, ok := o.Values[v.key]
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
	unit := v.shown(s)
	if unit == "%" {
		unit = v.unit
	}
	said := v.write(s, v.inUnit(near))
	if near.Low == near.High {
		said, _, _ = strings.Cut(said, " ")
	}
	return part.Upper(like.Name) + ": " + said + "\u00a0" + strings.Replace(unit, "g/cm3", "g/cm³", 1)
}

// inUnit is a value of the table in the unit it is typed in.
func (v value) inUnit(of source.Value) fibre.Band {
	b := fibre.Band{Low: of.Low, Mid: of.Mid, High: of.High}
	if strings.HasPrefix(v.unit, "%") {
		b = fibre.Band{Low: tidy(100 * of.Low), Mid: tidy(100 * of.Mid), High: tidy(100 * of.High)}
	}
	return b
}

// write writes a band as it is typed.
func (v value) write(s part.Speech, b fibre.Band) string {
	say := func(x float64) string {
		if v.shown(s) != v.short() { // in the reader's own unit
			if c, err := measure.Convert(x, v.unit, v.shown(s), nil); err == nil {
				x = tidy(c.Value)
			}
		}
		return part.Written(x)
	}
	return say(b.Mid) + " (" + say(b.Low) + "–" + say(b.High) + ")"
}

// short is the unit without what it is of, and shown that of a bare number.
func (v value) short() string {
	switch {
	case strings.HasPrefix(v.unit, "%"):
		return "%"
	case v.unit == "g/cm3":
		return "g/cm³"
	}
	return v.unit
}

func (v value) shown(s part.Speech) string {
	if u := s.Bare(v.kind); u != "" {
		return u
	}
	return v.short()
}
