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
	f, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	revisions, err := p.studio.PaperRevisions(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	old := against(revisions, f)
	f.Fill("revision", strconv.Itoa(old.Revision))
	return p.keep(w, r, f, old, studio.Starting{})
}

// Create saves it as a new paper.
func (p *Page) Create(w http.ResponseWriter, r *http.Request) error {
	f, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	s := starting(f.Get("from"))
	return p.keep(w, r, f, began(s), s)
}

func (p *Page) keep(w http.ResponseWriter, r *http.Request, f *page.Form, old studio.Paper, from studio.Starting) error {
	base, err := p.frame.Base(w, r, old.Name, page.Papers)
	if err != nil {
		return err
	}
	base.Speech.System = page.ReadSystem(f.Get("system"))
	// What was typed goes along when the units are switched.
	base.Back = address(old) + "?" + f.Values.Encode()
	if old.ID == "" && f.Get("name") == "" {
		f.Refuse(fault.Invalid("name", "give the paper a name"))
	}
	d, now, err := p.answer(r.Context(), base, f, old)
	if err != nil {
		return err
	}
	if d.Status != 0 {
		return p.page(w, r, d, from)
	}
	saved, err := p.studio.SavePaper(r.Context(), taken(f, now, old))
	switch {
	case fault.KindOf(err) == fault.KindConflict:
		return p.conflict(w, r, base, f, page.Sentence(err))
	case fault.Refused(err):
		f.Refuse(err)
		d, _, err = p.answer(r.Context(), base, f, old)
		if err != nil {
			return err
		}
		return p.page(w, r, d, from)
	case err != nil:
		return err
	}
	page.PutFlash(w, "Kept as revision "+strconv.Itoa(saved.Revision)+".")
	return page.See(w, r, "/papers/"+saved.ID)
}

// conflict sets what was typed beside the paper as another saved it meanwhile.
func (p *Page) conflict(w http.ResponseWriter, r *http.Request, base page.Base, f *page.Form, why string) error {
	revisions, err := p.studio.PaperRevisions(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	f.Values.Set("revision", strconv.Itoa(revisions[0].Revision))
	base.Back = address(revisions[0]) + "?" + f.Values.Encode()
	d, _, err := p.answer(r.Context(), base, f, revisions[0])
	if err != nil {
		return err
	}
	d.Conflict, d.Status = why, http.StatusConflict
	return p.page(w, r, d, studio.Starting{})
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
func address(old studio.Paper) string {
	if old.ID == "" {
		return "/papers/design"
	}
	return "/papers/" + old.ID + "/design"
}
