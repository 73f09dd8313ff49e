package ownfibre

import (
	"context"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/plan"
	"vatside/internal/source"
	"vatside/internal/studio"
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
	users, err := p.usedBy(r.Context(), name)
	if err != nil {
		return err
	}
	if len(users) > 0 {
		return p.stands(w, r, http.StatusConflict, profile, i, fault.Invalid("", "it stays: %s would be left without it", listed(users)))
	}
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

// renamed refuses another name while papers are made with the fibre: they have
// it by its name.
func (p *Page) renamed(ctx context.Context, f *page.Form, was, now fibre.Own) error {
	if was.Name == "" || source.Plain(was.Name) == source.Plain(now.Name) {
		return nil
	}
	users, err := p.usedBy(ctx, was.Name)
	if len(users) > 0 {
		f.Refuse(fault.Invalid("name", "it keeps its name, %s, while papers have it by that: %s", was.Name, listed(users)))
	}
	return err
}

// usedBy are the papers made with a fibre: as they are now, or in the revision
// that a promised brief asks for.
func (p *Page) usedBy(ctx context.Context, name string) ([]part.Link, error) {
	papers, err := p.studio.Papers(ctx, studio.PaperFilter{})
	if err != nil {
		return nil, err
	}
	briefs, err := p.studio.Briefs(ctx, studio.BriefFilter{Open: true})
	if err != nil {
		return nil, err
	}
	for _, b := range briefs {
		asked, err := p.studio.Papers(ctx, studio.PaperFilter{ID: b.PaperID, Revision: b.PaperRevision})
		if err != nil {
			return nil, err
		}
		papers = append(papers, asked...)
	}
	var out []part.Link
	for _, pa := range papers {
		link := part.Link{Href: "/papers/" + pa.ID, Text: pa.Name}
		has := func(f plan.Part) bool { return source.Plain(f.Fibre) == source.Plain(name) }
		same := func(l part.Link) bool { return l.Href == link.Href }
		if slices.ContainsFunc(pa.Design.Furnish, has) && !slices.ContainsFunc(out, same) {
			out = append(out, link)
		}
	}
	return out, nil
}

// listed names papers in a sentence.
func listed(papers []part.Link) string {
	var names []string
	for _, l := range papers {
		names = append(names, l.Text)
	}
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
	return strings.Join(names, "")
}
