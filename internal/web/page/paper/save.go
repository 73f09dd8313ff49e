package paper

import (
	"net/http"
	"strconv"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// FormData is what the template of the form sets.
type FormData struct {
	page.Base
	Kept     bool // what stands in the form was typed
	ID       string
	Action   string
	Name     string
	Revision string
	System   string
	Wrong    []part.Wrong
	Conflict *part.Conflict
	Fields   []part.Field
	More     []part.Field
	MoreOpen bool
}

// New shows an empty form.
func (p *Page) New(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "New paper", page.Papers)
	if err != nil {
		return err
	}
	profile, err := p.studio.Profile(r.Context())
	if err != nil {
		return err
	}
	form := page.ReadQuery(r)
	start(form, base.Speech)
	return formTemplate.Write(w, http.StatusOK, set(base, form, part.Shelf(profile.Kit), studio.Paper{}))
}

// Edit shows the form with the paper as it is.
func (p *Page) Edit(w http.ResponseWriter, r *http.Request) error {
	pa, err := p.studio.Paper(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	base, err := p.frame.Base(w, r, "Change "+pa.Name, page.Papers)
	if err != nil {
		return err
	}
	profile, err := p.studio.Profile(r.Context())
	if err != nil {
		return err
	}
	form := &page.Form{}
	write(form, base.Speech, pa)
	return formTemplate.Write(w, http.StatusOK, set(base, form, part.Shelf(profile.Kit), pa))
}

// Create saves a new paper.
func (p *Page) Create(w http.ResponseWriter, r *http.Request) error {
	return p.save(w, r, studio.Paper{})
}

// Save saves a new revision of a paper.
func (p *Page) Save(w http.ResponseWriter, r *http.Request) error {
	pa, err := p.studio.Paper(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	return p.save(w, r, pa)
}

func (p *Page) save(w http.ResponseWriter, r *http.Request, old studio.Paper) error {
	form, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	title := "New paper"
	if old.ID != "" {
		title = "Change " + old.Name
	}
	base, err := p.frame.Base(w, r, title, page.Papers)
	if err != nil {
		return err
	}
	base.Back = "/papers/new"
	if old.ID != "" {
		base.Back = "/papers/" + old.ID + "/edit"
	}
	if form.Values.Has("system") { // as it was shown when it was typed
		base.Speech.System = page.ReadSystem(form.Get("system"))
	}
	profile, err := p.studio.Profile(r.Context())
	if err != nil {
		return err
	}
	shelf := part.Shelf(profile.Kit)
	pa := read(form, base.Speech, shelf, old)
	if len(form.Faults) == 0 {
		one := 1
		form.At = page.DesignFaults()
		form.Refuse(plan.Check(plan.Request{Paper: pa.Design, Sheet: pa.Sheet, GoodSheets: &one, Studio: plan.Studio{Fibres: profile.Kit.Fibres}}))
	}
	if len(form.Faults) > 0 {
		return formTemplate.Write(w, http.StatusUnprocessableEntity, set(base, form, shelf, old))
	}
	saved, err := p.studio.SavePaper(r.Context(), pa)
	switch {
	case fault.KindOf(err) == fault.KindConflict:
		return p.conflict(w, r, base, form, shelf, page.Sentence(err))
	case fault.Refused(err):
		form.Refuse(err)
		return formTemplate.Write(w, http.StatusUnprocessableEntity, set(base, form, shelf, old))
	case err != nil:
		return err
	}
	page.PutFlash(w, "Saved as revision "+strconv.Itoa(saved.Revision)+".")
	return page.See(w, r, "/papers/"+saved.ID)
}

// conflict tells that the paper was changed in between and sets both versions
// side by side; what was typed stays, and saving again puts it on top of the
// other, which stays among the revisions.
func (p *Page) conflict(w http.ResponseWriter, r *http.Request, base page.Base, mine *page.Form, shelf fibre.Shelf, text string) error {
	present, err := p.studio.Paper(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	theirs := &page.Form{}
	write(theirs, base.Speech, present)
	mine.Values.Set("revision", strconv.Itoa(present.Revision))
	d, other := set(base, mine, shelf, present), set(base, theirs, shelf, present)
	d.Conflict = &part.Conflict{
		Text: text,
		Then: "What you typed is kept below. Saving now puts it on top; the other version stays among the revisions.",
		Rows: append(part.Differing(d.Fields, other.Fields), part.Differing(d.More, other.More)...),
	}
	return formTemplate.Write(w, http.StatusConflict, d)
}
