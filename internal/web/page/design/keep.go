package design

import (
	"net/http"
	"strconv"

	"vatside/internal/fault"
	"vatside/internal/studio"
	"vatside/internal/web/page"
)

// Keep saves the design as a new revision of its paper.
func (p *Page) Keep(w http.ResponseWriter, r *http.Request) error {
	revisions, err := p.studio.PaperRevisions(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	return p.keep(w, r, revisions[0], studio.Starting{})
}

// Create saves it as a new paper.
func (p *Page) Create(w http.ResponseWriter, r *http.Request) error {
	s := starting(r.PostFormValue("from"))
	return p.keep(w, r, began(s), s)
}

func (p *Page) keep(w http.ResponseWriter, r *http.Request, old studio.Paper, from studio.Starting) error {
	f, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	base, err := p.frame.Base(w, r, old.Name, page.Papers)
	if err != nil {
		return err
	}
	base.Speech.System, base.Back = page.ReadSystem(f.Get("system")), address(old, from)
	d, now, err := p.answer(r.Context(), base, f, old)
	if err != nil {
		return err
	}
	d.begin(from)
	if d.Status != 0 {
		return template.Write(w, d.Status, d)
	}
	saved, err := p.studio.SavePaper(r.Context(), taken(f, now, old))
	switch {
	case fault.KindOf(err) == fault.KindConflict:
		d.Conflict, d.Revision = page.Sentence(err), strconv.Itoa(old.Revision)
		return template.Write(w, http.StatusConflict, d)
	case refused(err):
		d.Refused = page.Sentence(err)
		return template.Write(w, http.StatusUnprocessableEntity, d)
	case err != nil:
		return err
	}
	page.PutFlash(w, "Kept as revision "+strconv.Itoa(saved.Revision)+".")
	return page.See(w, r, "/papers/"+saved.ID)
}

// taken is the paper with the design in the form.
func taken(f *page.Form, now draft, old studio.Paper) studio.Paper {
	pa := old
	pa.Design, pa.Sheet = now.paper, now.sheet
	if old.ID == "" {
		pa.Name = f.Get("name")
	} else {
		pa.Change = f.Get("change")
		pa.Revision, _ = strconv.Atoi(f.Get("revision"))
	}
	pa.Design.Name = pa.Name
	return pa
}

// address is where a design is thought out.
func address(old studio.Paper, from studio.Starting) string {
	if old.ID == "" {
		return "/papers/design?from=" + from.Use
	}
	return "/papers/" + old.ID + "/design"
}
