package page

import (
	"errors"
	"net/http"
	"net/url"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/web/part"
)

// Form is what was typed and what is wrong with it. It is kept as typed, in
// the reader's units, until it can be meant.
type Form struct {
	Values url.Values
	Faults fault.List
	// At maps a fault's field to the form's, where they differ: the longest
	// prefix that matches wins.
	At map[string]string
	// Labels of the fields, for the summary.
	fields []part.Field
}

// ReadForm reads a posted form.
func ReadForm(r *http.Request) (*Form, error) {
	if err := r.ParseForm(); err != nil {
		var tooLong *http.MaxBytesError
		if errors.As(err, &tooLong) {
			return nil, err
		}
		return nil, fault.Invalid("", "the form could not be read; go back and send it again")
	}
	return &Form{Values: typed(r.PostForm)}, nil
}

// ReadQuery reads a form sent as a question, in the address.
func ReadQuery(r *http.Request) *Form { return &Form{Values: typed(r.URL.Query())} }

// typed leaves out what no keyboard types: zero bytes, at which the records end
// a text, and bytes that are no letters.
func typed(values url.Values) url.Values {
	for _, list := range values {
		for i, v := range list {
			list[i] = strings.ToValidUTF8(strings.ReplaceAll(v, "\x00", ""), "\ufffd")
		}
	}
	return values
}

// Get returns what was typed in a field, without the space around it.
func (f *Form) Get(name string) string { return strings.TrimSpace(f.Values.Get(name)) }

// Fill puts a value where nothing was typed.
func (f *Form) Fill(name, value string) {
	if f.Values == nil {
		f.Values = url.Values{}
	}
	if !f.Values.Has(name) {
		f.Values.Set(name, value)
	}
}

// Refuse notes what is wrong; nil is ignored.
func (f *Form) Refuse(err error) { f.Faults.Add(err) }

// Field completes a field with what was typed and what is wrong with it, and
// remembers it for the summary.
func (f *Form) Field(fd part.Field) part.Field {
	fd.Value = f.Values.Get(fd.Name)
	for _, e := range f.Faults {
		if f.name(e.Field) == fd.Name {
			fd.Error = sentence(e.Text)
			break
		}
	}
	f.fields = append(f.fields, fd)
	return fd
}

// Wrong lists all faults for the summary above the form; call it after all
// fields are made.
func (f *Form) Wrong() []part.Wrong {
	var list []part.Wrong
	for _, e := range f.Faults {
		w := part.Wrong{Text: sentence(e.Text)}
		for _, fd := range f.fields {
			if fd.Name == f.name(e.Field) {
				w.Anchor, w.Label = fd.ID(), fd.Label
			}
		}
		list = append(list, w)
	}
	return list
}

func (f *Form) name(field string) string {
	best, long := field, 0
	for from, to := range f.At {
		if len(from) > long && (field == from || strings.HasPrefix(field, from+".") || strings.HasPrefix(field, from+"[")) {
			best, long = to, len(from)
		}
	}
	return best
}

// sentence makes a fault's text one sentence of its own.
func sentence(text string) string {
	if text == "" {
		return text
	}
	text = strings.ToUpper(text[:1]) + text[1:]
	if strings.HasSuffix(text, ".") || strings.HasSuffix(text, "?") {
		return text
	}
	return text + "."
}

// Sentence is a fault as one plain sentence.
func Sentence(err error) string {
	list := fault.All(err)
	if len(list) == 0 {
		return ""
	}
	return sentence(list[0].Text)
}
