package studio

import (
	"vatside/internal/measure"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// blank is one blank of a T: how it is asked, written and read. A number is
// kept in unit; one that is asked only, such as the pull on a screw's bar, is
// worked with and not kept.
type blank[T any] struct {
	part.Field
	kind  measure.Kind
	unit  string
	at    string // the plan's key
	by    string // asked of things of this kind only
	write func(s part.Speech, v *T) string
	read  func(s part.Speech, field, typed string, v *T) error
}

// val is a number of a T that may be unsaid: nil.
type val[T any] struct {
	get func(*T) *float64
	set func(*T, *float64)
}

// said is a number whose zero means that nothing is said.
func said[T any](of func(*T) *float64) val[T] {
	return val[T]{func(t *T) *float64 {
		if *of(t) == 0 {
			return nil
		}
		return of(t)
	}, func(t *T, v *float64) {
		*of(t) = 0
		if v != nil {
			*of(t) = *v
		}
	}}
}

func maybe[T any](of func(*T) **float64) val[T] {
	return val[T]{func(t *T) *float64 { return *of(t) }, func(t *T, v *float64) { *of(t) = v }}
}

func whole[T any](of func(*T) **int) val[T] {
	return val[T]{func(t *T) *float64 {
		if *of(t) == nil {
			return nil
		}
		v := float64(**of(t))
		return &v
	}, func(t *T, v *float64) {
		*of(t) = nil
		if v != nil {
			n := int(*v)
			*of(t) = &n
		}
	}}
}

// ask is the blank as a field of the form.
func (b blank[T]) ask(f *page.Form, s part.Speech, prefix string) part.Field {
	fd := b.Field
	fd.Name, fd.Bare = prefix+fd.Name, s.Bare(b.kind)
	switch {
	case b.unit == "money":
		fd.Unit = s.Currency
	case fd.Kind == part.Number:
		fd.Unit = shownUnit(b.kind, b.unit, s)
	}
	return f.Field(fd)
}

// line is a field with no more than a name, a label and a hint.
func line(name, label, hint string) part.Field {
	return part.Field{Name: name, Label: label, Hint: hint}
}

// must is a field that may not stay empty.
func must(name, label, hint string) part.Field {
	return part.Field{Name: name, Label: label, Hint: hint, Required: true}
}

// choice is a field of a few words; the first may be the unsaid one.
func choice(name, label, hint string, options ...string) part.Field {
	fd := part.Field{Name: name, Label: label, Hint: hint, Kind: part.Select}
	for i := 0; i+1 < len(options); i += 2 {
		fd.Options = append(fd.Options, part.Option{Value: options[i], Label: options[i+1]})
	}
	return fd
}
