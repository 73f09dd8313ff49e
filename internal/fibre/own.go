package fibre

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"

	"vatside/internal/fault"
	"vatside/internal/source"
)

// Own is a fibre that a studio adds: it starts from a near one of the handbook
// and replaces what the maker gives, which counts as what the maker states. The
// rest keeps the handbook's source and grade.
type Own struct {
	Name   string          `json:"name"`
	Like   string          `json:"like"`
	Kind   string          `json:"kind,omitempty"`
	Note   string          `json:"note,omitempty"`
	Values map[string]Band `json:"values,omitempty"` // by the key of Quantities, in its unit
	Hours  map[string]Band `json:"hours,omitempty"`  // hours of beating by use
}

// Band is a number as a maker states it: the middle, and between what it lies
// nine times in ten.
type Band struct {
	Low  float64 `json:"low"`
	Mid  float64 `json:"mid"`
	High float64 `json:"high"`
}

// longestName is the most letters a name may have: it must fit a line of a card.
const longestName = 60

// usualAlkali is what an own fibre is cooked with when its near one is not cooked.
const usualAlkali = "soda ash"

// shrinkHalf is just below the half that no sheet is taken to shrink by, a fraction.
const shrinkHalf = 0.499

// NewShelf returns the handbook with a studio's own fibres before it. Its
// faults are a fault.List, each at its place, such as [2].values.density.
func NewShelf(own []Own) (Shelf, error) {
	if len(own) == 0 {
		return Shelf{}, nil
	}
	var l fault.List
	s := Shelf{own: make([]Fibre, 0, len(own)), byName: make(map[string]int, len(own))}
	for i, o := range own {
		at := fmt.Sprintf("[%d]", i)
		l.Add(s.checkName(at+".name", o.Name))
		like, err := Find(at+".like", o.Like)
		l.Add(err)
		f := o.from(&l, at, like, err == nil)
		s.byName[source.Plain(o.Name)] = len(s.own)
		s.own = append(s.own, f)
	}
	if err := l.OrNil(); err != nil {
		return Shelf{}, err
	}
	return s, nil
}

// checkName refuses a name that is taken, or that a furnish could not be
// written with.
func (s Shelf) checkName(field, name string) error {
	asked := source.Plain(name)
	if asked == "" || len([]rune(name)) > longestName {
		return fault.Invalid(field, "A fibre needs a name of 1 to %d letters.", longestName)
	}
	if strings.ContainsAny(name, ",;+%\n") || slices.ContainsFunc(strings.Fields(name), func(w string) bool { return unicode.IsDigit([]rune(w)[0]) || w[0] == '-' || w[0] == '.' }) {
		return fault.Invalid(field, "A fibre's name has no comma, semicolon, plus or per cent sign and no word that begins with a digit, dash or dot: these divide a furnish.")
	}
	if f, ok := Get(name); ok {
		return fault.Invalid(field, "%q is a name of the handbook's %s already: give yours another.", name, f.Name)
	}
	if _, ok := s.byName[asked]; ok {
		return fault.Invalid(field, "%q stands twice among the own fibres.", name)
	}
	return nil
}

// from returns the near fibre with what the maker gives. Without a known near
// one only what is given is checked.
func (o Own) from(l *fault.List, at string, like Fibre, known bool) Fibre {
	f := like
	f.Name, f.Aliases, f.Like, f.Note = strings.TrimSpace(o.Name), nil, like.Name, strings.TrimSpace(o.Note)
	if o.Kind != "" {
		f.Kind = o.Kind
	}
	for _, key := range slices.Sorted(maps.Keys(o.Values)) {
		f.state(l, at+".values."+key, key, o.Values[key])
	}
	for _, use := range slices.Sorted(maps.Keys(o.Hours)) {
		f.stateHours(l, at+".hours."+use, source.Plain(use), o.Hours[use])
	}
	if !known {
		return f
	}
	if _, given := o.Values["shrink_most"]; given && f.ShrinkMost.Mid > 0 {
		// The band of the curve is that of its height on the wider side, cut where
		// a sheet would shrink by half.
		m := f.ShrinkMost
		f.ShrinkBand = min(max(m.Mid-m.Low, m.High-m.Mid)/m.Mid, shrinkHalf/m.Mid-1, 1)
		f.ShrinkNote = "as the maker states it"
	}
	if f.ShrinkStart.Mid >= f.ShrinkMost.Mid {
		key := "shrink_start"
		if _, given := o.Values["shrink_most"]; given {
			key = "shrink_most"
		}
		l.Add(fault.Invalid(at+".values."+key, "Beaten without end a fibre shrinks more than unbeaten: the middle of shrink_most must lie above that of shrink_start."))
	}
	return f
}

func (f *Fibre) state(l *fault.List, field, key string, b Band) {
	q, ok := quantityOf(key)
	if !ok {
		l.Add(fault.Invalid(field, "%q is no quantity of a fibre; they are %s.", key, strings.Join(quantityKeys(), ", ")))
		return
	}
	if err := b.check(field, q.low, q.high, q.Unit); err != nil {
		l.Add(err)
		return
	}
	at := q.of(f)
	if at == nil { // the near one is not cooked, this one is
		f.Cook = &Cook{With: usualAlkali}
		at = q.of(f)
	}
	*at = q.kept(b.stated())
}

func (f *Fibre) stateHours(l *fault.List, field, use string, b Band) {
	if use != Usual && !slices.Contains(Uses(), use) {
		l.Add(fault.Invalid(field, "%q is no use that hours are told apart by; they are %s, %s.", use, Usual, strings.Join(Uses(), ", ")))
		return
	}
	if err := b.check(field, 0, float64(MostHours), "h"); err != nil {
		l.Add(err)
		return
	}
	u := UseHours{Use: use, Hours: b.stated()}
	if i := slices.IndexFunc(f.uses, func(u UseHours) bool { return u.Use == use }); i >= 0 {
		f.uses[i] = u
		return
	}
	f.uses = append(f.uses, u)
}

// check wants three numbers in order, within what can be meant.
func (b Band) check(field string, low, high float64, unit string) error {
	if !finite(b.Low, low, high) || !finite(b.Mid, low, high) || !finite(b.High, low, high) {
		return fault.OutOfRange(field, "Low, mid and high must lie between %g and %g %s.", low, high, unit)
	}
	if b.Low > b.Mid || b.Mid > b.High {
		return fault.Invalid(field, "Low, mid and high must be in this order.")
	}
	return nil
}

// stated is the band as what the maker states.
func (b Band) stated() source.Value {
	maker := source.Must(source.KeyMaker)
	return source.Value{Low: b.Low, Mid: b.Mid, High: b.High, Source: maker.Key, Grade: maker.Grade}
}

func quantityKeys() []string {
	var out []string
	for _, q := range quantities {
		out = append(out, q.Key)
	}
	return out
}
