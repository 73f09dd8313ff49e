// Package ownfibre is the pages of a studio's own fibres. Each begins from a
// near one of the handbook, whose values stand beside the blanks: what is typed
// goes before them, what stays empty follows them.
//
// A value is asked as one number, or as between what it lies; one number alone
// is taken to be as sure as the near fibre's. Missing: words of its own, such as
// how it is prepared, and papers that follow when it gets another name.
package ownfibre

import (
	"context"
	"embed"
	"net/http"
	"net/url"
	"slices"
	"strconv"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/source"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

//go:embed *.html
var files embed.FS

var (
	askTemplate  = page.Must(files, "ask.html")
	formTemplate = page.Must(files, "form.html")
)

// Studio is what the pages ask of the records.
type Studio interface {
	Profile(ctx context.Context) (studio.Profile, error)
	SaveProfile(ctx context.Context, p studio.Profile) (studio.Profile, error)
	MadeWith(ctx context.Context, fibre string) ([]studio.Paper, error)
}

// Page answers for own fibres.
type Page struct {
	frame  *page.Frame
	studio Studio
}

// New returns the pages over the records.
func New(f *page.Frame, s Studio) *Page { return &Page{f, s} }

// AskData is what the template of the first question sets.
type AskData struct {
	page.Base
	Like  part.Field
	Wrong []part.Wrong
}

// New asks which fibre of the handbook a new one is near, and then for what is
// different about it.
func (p *Page) New(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "A fibre of your own", page.Studio)
	if err != nil {
		return err
	}
	f, status := page.ReadQuery(r), http.StatusOK
	if f.Values.Has("like") {
		like, err := near(f.Get("like"))
		if err == nil {
			f = &page.Form{}
			write(f, base.Speech, fibre.Own{Like: like.Name})
			return p.show(w, r, status, sheet{base: base, form: f})
		}
		f.Refuse(err)
		status = http.StatusUnprocessableEntity
	}
	like := likeField()
	like.Hint = "Any name the handbook knows it by."
	d := AskData{Base: base, Like: f.Field(like)}
	d.Wrong = f.Wrong()
	return askTemplate.Write(w, status, d)
}

// Show shows an own fibre as it stands; with ?remove it asks whether to take it
// away.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	profile, err := p.studio.Profile(r.Context())
	if err != nil {
		return err
	}
	i := find(profile, r.PathValue("name"))
	if i < 0 {
		return fault.NotFound("there is no fibre of your own by this name")
	}
	return p.stands(w, r, http.StatusOK, profile, i, nil)
}

// stands shows the fibre of the records, and why something was not done to it.
func (p *Page) stands(w http.ResponseWriter, r *http.Request, status int, profile studio.Profile, i int, why error) error {
	own := profile.Kit.Fibres[i]
	base, err := p.frame.Base(w, r, part.Upper(own.Name), page.Studio)
	if err != nil {
		return err
	}
	f := &page.Form{}
	f.Refuse(why)
	f.Fill("revision", strconv.Itoa(profile.Revision))
	write(f, base.Speech, own)
	return p.show(w, r, status, sheet{base: base, form: f, name: own.Name})
}

// find is the place of an own fibre among those of the studio, -1 for none.
func find(p studio.Profile, name string) int {
	if name == "" {
		return -1
	}
	return slices.IndexFunc(p.Kit.Fibres, func(o fibre.Own) bool { return source.Plain(o.Name) == source.Plain(name) })
}

// near finds the fibre of the handbook that another begins from.
func near(name string) (fibre.Fibre, error) {
	f, err := fibre.Find("like", name)
	if err == nil || name != "" && len(fibre.Near(name, 1)) > 0 {
		return f, err
	}
	if name == "" {
		return f, fault.Invalid("like", "say which fibre of the handbook it is near, such as abaca")
	}
	return f, fault.Invalid("like", "the handbook has no fibre called %q; choose one from its list, such as abaca", name)
}

// href is the page of an own fibre.
func href(name string) string { return "/studio/fibres/" + url.PathEscape(name) }
