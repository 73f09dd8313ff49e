package ownfibre

import (
	"context"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// clash tells that the studio was saved by another in between and sets both
// versions of the fibre side by side; what was typed stays.
func (p *Page) clash(w http.ResponseWriter, r *http.Request, s sheet, why error) error {
	present, err := p.studio.Profile(r.Context())
	if err != nil {
		return err
	}
	i := find(present, s.name)
	if i < 0 {
		return p.gone(w, r, s)
	}
	theirs := &page.Form{}
	write(theirs, s.base.Speech, present.Kit.Fibres[i])
	s.form.Values.Set("revision", strconv.Itoa(present.Revision))
	return p.beside(w, r, s, theirs, page.Sentence(why)+" ", "What you typed is kept below. Saving now puts it in place of the other.")
}

// gone tells that another took the fibre away, or gave it another name, while it
// was being changed; what was typed can be saved as a new one.
func (p *Page) gone(w http.ResponseWriter, r *http.Request, s sheet) error {
	s.name = ""
	return p.beside(w, r, s, &page.Form{}, "This fibre was taken away, or got another name, in another window.", "What you typed is kept below. Saving now adds it as a new one.")
}

func (p *Page) beside(w http.ResponseWriter, r *http.Request, s sheet, theirs *page.Form, text, then string) error {
	other := s
	other.form = theirs
	a, b := set(s), set(other)
	s.conflict = &part.Conflict{Text: strings.TrimSpace(text), Then: then, Rows: part.Differing(a.About, b.About)}
	for i, g := range a.Groups {
		s.conflict.Rows = append(s.conflict.Rows, part.Differing(g.Fields, b.Groups[i].Fields)...)
	}
	return p.show(w, r, http.StatusConflict, s)
}

// Remove takes an own fibre away, where no paper is made with it.
func (p *Page) Remove(w http.ResponseWriter, r *http.Request) error {
	f, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	profile, err := p.studio.Profile(r.Context())
	if err != nil {
		return err
	}
	i := find(profile, r.PathValue("name"))
	if i < 0 {
		return fault.NotFound("there is no fibre of your own by this name")
	}
	name := profile.Kit.Fibres[i].Name
	now := profile
	now.Kit.Fibres = slices.Delete(slices.Clone(profile.Kit.Fibres), i, i+1)
	if now.Revision, err = strconv.Atoi(f.Get("revision")); err != nil {
		return p.stands(w, r, http.StatusUnprocessableEntity, profile, i, fault.Invalid("", "the form is incomplete; send it again"))
	}
	_, err = p.studio.SaveProfile(r.Context(), now)
	if fault.KindOf(err) == fault.KindConflict {
		return p.stands(w, r, http.StatusConflict, profile, i, err)
	}
	if err != nil {
		return err
	}
	page.PutFlash(w, part.Upper(name)+" is taken away.")
	return page.See(w, r, "/studio")
}

// usedBy are the papers made with a fibre, which keep it here.
func (p *Page) usedBy(ctx context.Context, name string) ([]part.Link, error) {
	papers, err := p.studio.MadeWith(ctx, name)
	var out []part.Link
	for _, pa := range papers {
		out = append(out, part.Link{Href: "/papers/" + pa.ID, Text: pa.Name})
	}
	return out, err
}
