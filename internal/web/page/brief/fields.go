package brief

import (
	"net/http"
	"strconv"

	"vatside/internal/measure"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// The sides of a sheet that a plan is made for, mm.
const (
	shortest = 10.0
	longest  = 3000.0
)

// usual fills an empty brief with what the studio usually wants.
func usual(f *page.Form, s part.Speech, p studio.Profile) {
	f.Fill("size", s.SizeName(p.DefaultSheet.LongMM, p.DefaultSheet.ShortMM))
	f.Fill("edges", edges(p.DefaultSheet.Edges))
	f.Fill("confidence", strconv.FormatFloat(p.ConfidencePct, 'f', -1, 64))
}

// written fills the form with a brief as it stands.
func written(f *page.Form, s part.Speech, b studio.Brief, people []studio.Person) {
	f.Fill("paper", b.PaperID)
	f.Fill("size", s.SizeName(b.Sheet.LongMM, b.Sheet.ShortMM))
	f.Fill("edges", edges(b.Sheet.Edges))
	f.Fill("good", strconv.Itoa(b.GoodSheets))
	f.Fill("wanted", b.WantedBy)
	f.Fill("confidence", strconv.FormatFloat(b.ConfidencePct, 'f', -1, 64))
	f.Fill("remarks", b.Remarks)
	f.Fill("revision", strconv.Itoa(b.Revision))
	if b.Sheet.TrimMM != nil {
		f.Fill("trim", s.One(*b.Sheet.TrimMM, "mm"))
	}
	for _, p := range people {
		if p.ID == b.PersonID {
			f.Fill("person", p.Name)
		}
	}
}

func edges(e string) string {
	if e == "" {
		return "deckle"
	}
	return e
}

// faultsAt says where on the form a fault of the records belongs.
var faultsAt = map[string]string{
	"sheet.edges": "edges", "sheet": "size", "good_sheets": "good", "confidence_pct": "confidence",
	"wanted_by": "wanted", "name": "person",
}

// show sets the form with what was typed.
func (p *Page) show(w http.ResponseWriter, r *http.Request, base page.Base, f *page.Form, b studio.Brief, code int) error {
	papers, err := p.studio.Papers(r.Context(), studio.PaperFilter{})
	if err != nil {
		return err
	}
	if len(papers) == 0 {
		page.PutFlash(w, "A brief is for a paper, and there is none yet: begin with the first questions.")
		return page.See(w, r, "/welcome")
	}
	people, err := p.studio.People(r.Context())
	if err != nil {
		return err
	}
	f.At = faultsAt
	d := Data{Base: base, ID: b.ID, Revision: b.Revision, Action: "/briefs"}
	if b.ID != "" {
		d.Action = "/briefs/" + b.ID
		f.Fill("revision", strconv.Itoa(b.Revision))
		d.Revision, _ = strconv.Atoi(f.Get("revision"))
	}
	for _, fd := range fields(base.Speech, papers) {
		d.Fields = append(d.Fields, f.Field(fd))
	}
	for _, fd := range more(base.Speech, people) {
		fd = f.Field(fd)
		d.MoreOpen = d.MoreOpen || fd.Value != "" || fd.Error != ""
		d.More = append(d.More, fd)
	}
	d.Wrong = f.Wrong()
	return formTemplate.Write(w, code, d)
}

func fields(s part.Speech, papers []studio.Paper) []part.Field {
	list := make([]part.Option, 0, len(papers))
	for _, p := range papers {
		list = append(list, part.Option{Value: p.ID, Label: p.Name + ", " + s.One(p.Design.GrammageConditioned, "g/m²")})
	}
	return []part.Field{
		{Name: "paper", Label: "Which paper?", Kind: part.Select, Options: list, Required: true},
		{Name: "good", Label: "How many good sheets?", Kind: part.Number, Mode: "numeric", Unit: "sheets", Required: true},
		{Name: "size", Label: "What size, finished?", Hint: "By name, or two sides.", Kind: part.Suggest, Bare: s.Bare(measure.OfLength), Options: s.SizeNames(), Required: true},
		{Name: "edges", Label: "Edges", Kind: part.Choices, Options: page.Edges},
		{Name: "confidence", Label: "How sure must it be?", Hint: "Surer means more sheets pulled and more fibre weighed out.", Kind: part.Choices, Options: []part.Option{
			{Value: "50", Label: "Even chance", Note: "for yourself"},
			{Value: "90", Label: "Nine times in ten", Note: "the usual promise"},
			{Value: "95", Label: "Nineteen in twenty", Note: "for a customer"},
		}},
		{Name: "wanted", Label: "Wanted by", Kind: part.Date},
	}
}

func more(s part.Speech, people []studio.Person) []part.Field {
	names := make([]part.Option, 0, len(people))
	for _, p := range people {
		names = append(names, part.Option{Value: p.Name})
	}
	return []part.Field{
		{Name: "person", Label: "Who is it for?", Hint: "Kept apart from everything else, so that it can be erased.", Kind: part.Suggest, Options: names},
		{Name: "trim", Label: "Trimmed off each edge", Kind: part.Number, Bare: s.Bare(measure.OfLength)},
		{Name: "remarks", Label: "What else was asked", Hint: "Finish, wove or laid and which way the chain lines run, side, hardness of the size, colour, watermark, a sheet to approve before the run.", Kind: part.Long},
	}
}
