// Package people is the page of those briefs are for. Names and contacts are
// kept apart from all other records, and can be erased here without touching
// any of them.
package people

import (
	"context"
	"embed"
	"net/http"

	"vatside/internal/studio"
	"vatside/internal/web/page"
)

//go:embed *.html
var files embed.FS

var template = page.Must(files, "people.html")

// Studio is what the page asks of the records.
type Studio interface {
	People(ctx context.Context) ([]studio.Person, error)
	Briefs(ctx context.Context, f studio.BriefFilter) ([]studio.Brief, error)
	ForgetPerson(ctx context.Context, id string) error
}

// Page answers for people.
type Page struct {
	frame  *page.Frame
	studio Studio
}

// New returns the page of people over the records.
func New(f *page.Frame, s Studio) *Page { return &Page{f, s} }

// Data is what the template sets.
type Data struct {
	page.Base
	Lines []Line
	Sure  *Line // whose entry is about to be erased
}

// Line is one person and what is kept of them.
type Line struct {
	ID, Name, Contact string
	Briefs            int
}

// Show lists the people; asked for one by ?erase=, it asks whether to erase.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "People", page.Studio)
	if err != nil {
		return err
	}
	list, err := p.studio.People(r.Context())
	if err != nil {
		return err
	}
	d := Data{Base: base}
	for _, person := range list {
		briefs, err := p.studio.Briefs(r.Context(), studio.BriefFilter{PersonID: person.ID})
		if err != nil {
			return err
		}
		line := Line{ID: person.ID, Name: person.Name, Contact: person.Contact, Briefs: len(briefs)}
		if person.ID == r.URL.Query().Get("erase") {
			d.Sure = &line
		}
		d.Lines = append(d.Lines, line)
	}
	return template.Write(w, http.StatusOK, d)
}

// Erase erases one person's name and contact for good; briefs and makings stay.
func (p *Page) Erase(w http.ResponseWriter, r *http.Request) error {
	if err := p.studio.ForgetPerson(r.Context(), r.PathValue("id")); err != nil {
		return err
	}
	page.PutFlash(w, "Erased. The briefs and makings stay, without the name.")
	return page.See(w, r, "/people")
}
