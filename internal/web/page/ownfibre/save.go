package ownfibre

import (
	"net/http"
	"net/url"
	"slices"
	"strconv"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// sheet is a form on its way to the page.
type sheet struct {
	base     page.Base
	form     *page.Form
	name     string // that the records have it under; "" for a new one
	typed    bool
	conflict *part.Conflict
}

// Data is what the template of the form sets.
type Data struct {
	page.Base
	Name, Action, Revision, System string

	Kept     bool // what stands in the form was typed
	Like     string
	Wrong    []part.Wrong
	Conflict *part.Conflict
	About    []part.Field
	Groups   []Group
	UsedBy   []part.Link
	Sure     bool // whether to take it away is asked
}

func (p *Page) show(w http.ResponseWriter, r *http.Request, status int, s sheet) error {
	d := set(s)
	if s.name != "" {
		var err error
		if d.UsedBy, err = p.usedBy(r.Context(), s.name); err != nil {
			return err
		}
		d.Sure = r.URL.Query().Has("remove") && len(d.UsedBy) == 0
	}
	return formTemplate.Write(w, status, d)
}

func set(s sheet) Data {
	d := Data{Base: s.base, Name: s.name, Action: "/studio/fibres", Revision: s.form.Get("revision"),
		System: string(s.base.Speech.System), Kept: s.typed, Conflict: s.conflict, Like: s.form.Get("like")}
	if s.name != "" {
		d.Action = href(s.name)
	}
	like, err := near(d.Like)
	if err == nil {
		d.Like = like.Name
	}
	for _, fd := range about() {
		d.About = append(d.About, s.form.Field(fd))
	}
	d.Groups = shown(s.form, s.base.Speech, like)
	d.Wrong = s.form.Wrong()
	return d
}

// Create adds an own fibre.
func (p *Page) Create(w http.ResponseWriter, r *http.Request) error { return p.save(w, r, "") }

// Save changes one.
func (p *Page) Save(w http.ResponseWriter, r *http.Request) error {
	return p.save(w, r, r.PathValue("name"))
}

func (p *Page) save(w http.ResponseWriter, r *http.Request, name string) error {
	f, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	s := sheet{form: f, name: name, typed: true}
	if s.base, err = p.frame.Base(w, r, "A fibre of your own", page.Studio); err != nil {
		return err
	}
	if f.Values.Has("system") { // as it was shown when it was typed
		s.base.Speech.System = page.ReadSystem(f.Get("system"))
	}
	s.base.Back = "/studio/fibres/new?" + url.Values{"like": {f.Get("like")}}.Encode()
	profile, err := p.studio.Profile(r.Context())
	if err != nil {
		return err
	}
	was, others := fibre.Own{}, profile.Kit.Fibres
	if name != "" {
		i := find(profile, name)
		if i < 0 {
			return p.gone(w, r, s)
		}
		was, others = others[i], slices.Delete(slices.Clone(others), i, i+1)
		s.name, s.base.Back, s.base.Title = was.Name, href(was.Name), part.Upper(was.Name)
	}
	own := read(f, s.base.Speech, was)
	if f.Get("do") != "" { // what another near one has is asked for
		f.Faults = slices.DeleteFunc(f.Faults, func(e *fault.Error) bool { return e.Field != "like" })
		return p.show(w, r, http.StatusOK, s)
	}
	check(f, s.base.Speech, others, own)
	return p.keep(w, r, s, profile, own)
}

// keptFibres is the field of the profile that is refused where another name is
// given to a fibre that papers are made with.
const keptFibres = "kit.fibres"

// keep saves the fibre in the studio's profile, where nothing is wrong with it.
func (p *Page) keep(w http.ResponseWriter, r *http.Request, s sheet, profile studio.Profile, own fibre.Own) error {
	f := s.form
	i := find(profile, s.name)
	profile.Kit.Fibres = slices.Clone(profile.Kit.Fibres)
	if i < 0 {
		profile.Kit.Fibres = append(profile.Kit.Fibres, own)
	} else {
		var err error
		profile.Kit.Fibres[i] = own
		if profile.Revision, err = strconv.Atoi(f.Get("revision")); err != nil {
			f.Refuse(fault.Invalid("", "the form is incomplete; open the page again"))
		}
	}
	if len(f.Faults) > 0 {
		return p.show(w, r, http.StatusUnprocessableEntity, s)
	}
	_, err := p.studio.SaveProfile(r.Context(), profile)
	switch {
	case fault.KindOf(err) == fault.KindConflict && fault.All(err)[0].Field == keptFibres:
		f.Refuse(err)
		return p.show(w, r, http.StatusUnprocessableEntity, s)
	case fault.KindOf(err) == fault.KindConflict:
		return p.clash(w, r, s, err)
	case err != nil:
		return err
	}
	page.PutFlash(w, "Saved. It can stand in a furnish now; the next plan reckons with it.")
	return page.See(w, r, href(own.Name))
}
