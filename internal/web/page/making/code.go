package making

import (
	"context"
	"io"
	"net/http"
	"net/url"

	"vatside/internal/fault"
	"vatside/internal/photo"
	"vatside/internal/studio"
	"vatside/internal/web/page"
)

// Codes reads the codes in a picture.
type Codes interface {
	Codes(ctx context.Context, from io.Reader) ([]string, error)
}

// MostPicture bounds the sending of one picture, bytes.
const MostPicture = photo.MostBytes + 1<<20

// Code goes to the making whose tag is in a picture; of several it asks which.
func (p *Page) Code(w http.ResponseWriter, r *http.Request) error {
	var texts []string
	arrived := false
	err := page.ReadParts(w, r, func(one *page.Sent) (err error) {
		if one.FormName() == "picture" && one.FileName() != "" && !arrived {
			arrived = true
			texts, err = p.codes.Codes(r.Context(), one)
		}
		return err
	})
	var tags []string
	for _, text := range texts {
		if tag, ok := tagIn(text); ok {
			tags = append(tags, tag)
		}
	}
	const orType = "type the code that stands beside it, such as K7-3F, above."
	switch {
	case fault.Refused(err):
		return p.seen(w, r, page.Sentence(err), nil)
	case err != nil:
		return err
	case !arrived:
		return p.seen(w, r, "Take a picture first, or choose one.", nil)
	case len(texts) == 0:
		return p.seen(w, r, "No code can be made out in this picture. Go nearer, hold still in good light and try again, or "+orType, nil)
	case len(tags) == 0:
		return p.seen(w, r, "The code in this picture is none of a making. Photograph that of a tag, or "+orType, nil)
	}
	return p.tagged(w, r, tags)
}

// tagged goes to the making of a tag, or lists those of several.
func (p *Page) tagged(w http.ResponseWriter, r *http.Request, tags []string) error {
	var list []studio.Making
	for _, tag := range tags {
		one, err := p.studio.Makings(r.Context(), studio.MakingFilter{Light: true, Tag: tag})
		if err != nil {
			return err
		}
		list = append(list, one...)
	}
	switch {
	case len(list) == 0:
		return p.seen(w, r, "No making carries the tag "+tags[0]+" that is in this picture.", nil)
	case len(list) == 1:
		return page.See(w, r, "/makings/"+list[0].ID)
	}
	return p.seen(w, r, "", list)
}

// seen shows the list again: what was wrong with a picture, or those that are
// in it.
func (p *Page) seen(w http.ResponseWriter, r *http.Request, wrong string, list []studio.Making) error {
	base, err := p.frame.Base(w, r, "Makings", page.Makings)
	if err != nil {
		return err
	}
	base.Back = "/makings"
	d, status := ListData{Base: base, Seen: wrong, Which: wrong == "", Found: true, Lines: lines(list, p.now())}, http.StatusOK
	if wrong != "" {
		status = http.StatusUnprocessableEntity
	}
	return listTemplate.Write(w, status, d.ask(&page.Form{}))
}

// tagIn is the tag that a printed code holds: in the address it leads to,
// whatever name the program had when it was printed, or by itself.
func tagIn(text string) (string, bool) {
	if link, err := url.Parse(text); err == nil && link.Path == "/makings" {
		text = link.Query().Get("tag")
	}
	tag, err := studio.ReadTag(text)
	return tag, err == nil
}
