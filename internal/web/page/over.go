package page

import (
	"vatside/internal/measure"
	"vatside/internal/web/part"
)

// Over is a form that is read over a record as it stands: a blank nobody
// touched, or that the form does not have, leaves what it stands for exactly as
// it was, whatever rounding it is shown with.
type Over struct {
	*Form
	part.Speech
	was *Form
}

// ReadOver reads a form over the one that the record fills; over none, for a
// record that is new, every blank is read.
func ReadOver(f, was *Form, s part.Speech) Over { return Over{f, s, was} }

// Kept reports whether a blank stands as the record has it.
func (o Over) Kept(name string) bool { return o.was != nil && o.Get(name) == o.was.Get(name) }

// Word reads a text or a choice.
func (o Over) Word(name, old string) string {
	if o.Kept(name) {
		return old
	}
	return o.Get(name)
}

// Quantity reads a number that may be left unsaid.
func (o Over) Quantity(name string, kind measure.Kind, old *float64) *float64 {
	if o.Kept(name) {
		return old
	}
	if o.Get(name) == "" {
		return nil
	}
	v, err := o.Read(name, o.Get(name), kind)
	o.Refuse(err)
	return &v
}

// With is Quantity for what goes with another answer: it goes when that goes,
// unless it was typed just now; then the plan says what is missing.
func (o Over) With(other bool, name string, kind measure.Kind, old *float64) *float64 {
	if !other && o.Kept(name) {
		return nil
	}
	return o.Quantity(name, kind, old)
}
