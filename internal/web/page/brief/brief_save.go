package brief

import (
	"context"
	"net/http"

	"vatside/internal/fault"
	"vatside/internal/studio"
	"vatside/internal/web/page"
)

// Settle takes a brief off the promised ones, or puts it back.
func (p *Page) Settle(w http.ResponseWriter, r *http.Request) error {
	b, err := p.studio.Brief(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	form, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	b.Settled = form.Get("settled") == "yes"
	if _, err := p.studio.SaveBrief(r.Context(), b); err != nil {
		return err
	}
	if b.Settled {
		page.PutFlash(w, "Settled: it is no longer among the promised. It can be put back here.")
	} else {
		page.PutFlash(w, "Promised again.")
	}
	return page.See(w, r, "/briefs/"+b.ID)
}

func (p *Page) save(w http.ResponseWriter, r *http.Request, b studio.Brief, title string) error {
	form, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	base, err := p.frame.Base(w, r, title, page.Bench)
	if err != nil {
		return err
	}
	base.Back = "/briefs/new"
	if b.ID != "" {
		base.Back = "/briefs/" + b.ID + "/edit"
	}
	read(form, base.Speech, &b)
	if len(form.Faults) == 0 {
		err := p.keep(r.Context(), form, &b)
		switch {
		case err == nil:
			return page.See(w, r, "/briefs/"+b.ID)
		case fault.KindOf(err) == fault.KindConflict:
			form.Refuse(err)
			return p.show(w, r, base, form, b, http.StatusConflict)
		case !fault.Refused(err):
			return err
		}
		form.Refuse(err)
	}
	return p.show(w, r, base, form, b, http.StatusUnprocessableEntity)
}

// keep saves who it is for, where that is new, and the brief.
func (p *Page) keep(ctx context.Context, f *page.Form, b *studio.Brief) error {
	b.PersonID = ""
	if name := f.Get("person"); name != "" {
		people, err := p.studio.People(ctx)
		if err != nil {
			return err
		}
		b.PersonID = known(people, name)
		if b.PersonID == "" {
			person, err := p.studio.SavePerson(ctx, studio.Person{Name: name})
			if err != nil {
				return err
			}
			b.PersonID = person.ID
		}
	}
	saved, err := p.studio.SaveBrief(ctx, *b)
	if err == nil {
		*b = saved
	}
	return err
}
