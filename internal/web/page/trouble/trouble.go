// Package trouble is the page for sheets of one making that went wrong: it
// takes a fault in the maker's words and tells its causes, those first that the
// making's own records speak for, each with its test and its change.
//
// Missing: photographs of faults, and writing down what the test showed.
package trouble

import (
	"context"
	"embed"
	"net/http"

	"vatside/internal/fault"
	"vatside/internal/studio"
	"vatside/internal/trouble"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

//go:embed *.html
var files embed.FS

var template = page.Must(files, "trouble.html")

// Studio is what the page asks of the records.
type Studio interface {
	Making(ctx context.Context, id string) (studio.Making, error)
	Events(ctx context.Context, makingID string) ([]studio.Event, error)
}

// Page answers for what went wrong.
type Page struct {
	frame  *page.Frame
	studio Studio
}

// New returns the page over the records.
func New(f *page.Frame, s Studio) *Page { return &Page{f, s} }

// Data is what the template sets.
type Data struct {
	page.Base
	ID, Tag, Paper string
	Field          part.Field
	Wrong          []part.Wrong
	Name           string  // of the fault; "" while none was found
	Voices         []Voice // causes, by what the records say of them
	Count          []string
	Steps          []Step // to choose from
}

// Voice are the causes of which the records say the same.
type Voice struct {
	Key, Name, Note string
	Causes          []part.Cause
}

// Step is one step of the work and the faults that show at it.
type Step struct {
	Where    string
	Symptoms []trouble.Symptom
}

// Show asks what went wrong, and answers it.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	m, err := p.studio.Making(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	base, err := p.frame.Base(w, r, "What went wrong, "+m.Tag, page.Makings)
	if err != nil {
		return err
	}
	d := Data{Base: base, ID: m.ID, Tag: m.Tag, Paper: m.PaperName, Steps: steps()}
	form, code := page.ReadQuery(r), http.StatusOK
	if form.Values.Has("symptom") {
		events, err := p.studio.Events(r.Context(), m.ID)
		if err != nil {
			return err
		}
		a, err := trouble.Ask(form.Get("symptom"), studio.Facts(m, events))
		switch fault.KindOf(err) {
		case fault.KindInvalid:
			form.Refuse(err)
			code = http.StatusUnprocessableEntity
		default:
			if err != nil {
				return err
			}
			d.answer(a)
		}
	}
	d.Field = form.Field(part.Field{Name: "symptom", Label: "What is wrong with the sheets?", Kind: part.Text, Required: true,
		Hint: "In your own words, such as: they stuck to the mould."})
	d.Wrong = form.Wrong()
	return template.Write(w, code, d)
}

// answer sets the causes in their order, parted where the records' voice changes.
func (d *Data) answer(a trouble.Answer) {
	d.Name = part.Upper(a.Symptom.Name)
	for _, text := range a.Count {
		d.Count = append(d.Count, part.Upper(text))
	}
	for _, v := range []struct {
		speaks     trouble.Speaks
		name, note string
	}{
		{trouble.For, "Likely here", "what this making's plan and records speak for"},
		{trouble.Open, "Possible", "nothing is recorded that tells; the test does"},
		{trouble.Against, "Hardly here", "what this making's plan and records speak against"},
	} {
		var list []trouble.Cause
		for _, c := range a.Causes {
			if c.Speaks == v.speaks {
				list = append(list, c)
			}
		}
		if len(list) > 0 {
			d.Voices = append(d.Voices, Voice{v.speaks.String(), v.name, v.note, part.Causes(list, d.Speech)})
		}
	}
}

// steps are the faults by the step at which they show, in the order of the work.
func steps() []Step {
	var list []Step
	for _, s := range trouble.Symptoms() {
		if n := len(list); n == 0 || list[n-1].Where != s.Where {
			list = append(list, Step{Where: s.Where})
		}
		last := &list[len(list)-1]
		last.Symptoms = append(last.Symptoms, s)
	}
	return list
}
