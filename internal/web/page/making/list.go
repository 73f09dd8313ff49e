package making

import (
	"net/http"
	"net/url"
	"strconv"

	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// onePage is how many makings stand on one page of the list.
const onePage = 100

// ListData is what the template of the list sets.
type ListData struct {
	page.Base
	Find   part.Field   // the one box
	By     []part.Field // what else may be known of a sheet
	ByOpen bool
	Wrong  []part.Wrong
	Tag    string // looked for
	None   string // why nothing was found
	Seen   string // what is wrong with the picture of a code
	Which  bool   // the lines are those of the tags in a picture
	Found  bool   // the lines are matches, the nearest first
	Lines  []Line
	Older  string // address of the next page; "" at the end
}

// Line is one making in the list.
type Line struct {
	Href, Tag, Paper, Stage, Good, When string
	Why                                 string // of a match
}

// List lists all makings, newest first; goes to the one whose tag was typed; or
// lists those that may be the sheet in the hand.
func (p *Page) List(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Makings", page.Makings)
	if err != nil {
		return err
	}
	f := page.ReadQuery(r)
	d := ListData{Base: base, Tag: f.Get("tag")}
	tag, err := studio.ReadTag(f.Get("words")) // a tag may be typed into the one box
	if d.Tag != "" {
		tag, err = studio.ReadTag(d.Tag)
		f.Refuse(err)
	} else if err != nil {
		tag = ""
	}
	if tag != "" {
		list, err := p.studio.Makings(r.Context(), studio.MakingFilter{Light: true, Tag: tag})
		if err != nil {
			return err
		}
		if len(list) == 1 {
			return page.See(w, r, "/makings/"+list[0].ID)
		}
		d.None = "No making carries the tag " + tag + "."
		return listTemplate.Write(w, http.StatusNotFound, d.ask(f))
	}
	if want, asked := wanted(f, base.Speech, p.now().Location()); asked && len(f.Faults) == 0 {
		return p.found(w, r, d.ask(f), want)
	}
	if len(f.Faults) > 0 {
		if d.Tag != "" {
			d.None = page.Sentence(f.Faults)
		}
		return listTemplate.Write(w, http.StatusUnprocessableEntity, d.ask(f))
	}
	return p.all(w, r, d.ask(f))
}

// ask sets the questions.
func (d ListData) ask(f *page.Form) ListData {
	if d.Tag != "" {
		f.Fill("words", d.Tag)
	}
	d.Find = f.Field(part.Field{Name: "words", Label: "Find", Hint: "The code on the tag, such as K7-3F, or words: a name, a fibre, a colour, a remark.", Error: d.None})
	for _, fd := range finds(d.Speech) {
		fd = f.Field(fd)
		d.By = append(d.By, fd)
		d.ByOpen = d.ByOpen || fd.Value != ""
	}
	if d.Tag == "" {
		d.Wrong = f.Wrong()
	}
	return d
}

// found lists the makings that may be meant.
func (p *Page) found(w http.ResponseWriter, r *http.Request, d ListData, want studio.Wanted) error {
	matches, err := p.studio.Find(r.Context(), want)
	if err != nil {
		return err
	}
	d.Found = true
	for _, m := range matches {
		l := lines([]studio.Making{m.Making}, p.now())[0]
		l.Why = why(d.Speech, want, m)
		d.Lines = append(d.Lines, l)
	}
	if len(d.Lines) == 0 {
		d.None = "Nothing fits. Try fewer words, or leave something out."
	}
	return listTemplate.Write(w, http.StatusOK, d)
}

// all lists one page of all makings.
func (p *Page) all(w http.ResponseWriter, r *http.Request, d ListData) error {
	from, _ := strconv.Atoi(r.URL.Query().Get("after")) // anything else is the first page
	from = max(0, from)
	list, err := p.studio.Makings(r.Context(), studio.MakingFilter{Light: true, Skip: from, Limit: onePage + 1})
	if err != nil {
		return err
	}
	if len(list) > onePage {
		list = list[:onePage]
		d.Older = "/makings?" + url.Values{"after": {strconv.Itoa(from + onePage)}}.Encode()
	}
	d.Lines = lines(list, p.now())
	return listTemplate.Write(w, http.StatusOK, d)
}
