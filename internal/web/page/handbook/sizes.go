package handbook

import (
	"net/http"

	"vatside/internal/sheet"
	"vatside/internal/source"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// PapersData is what the template of the named sizes sets.
type PapersData struct {
	page.Base
	Sizes []Size
}

// Size is a size that has a name.
type Size struct {
	Name, Size string
	Source     part.Cited
}

// Papers lists the sizes that have a name.
func (p *Page) Papers(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Sizes", page.Handbook)
	if err != nil {
		return err
	}
	d := PapersData{Base: base}
	for _, z := range sheet.NamedSizes() {
		d.Sizes = append(d.Sizes, Size{z.Name, base.Speech.SizeLine(float64(z.Long), float64(z.Short)), part.Cite(z.Source, source.Must(z.Source).Grade)})
	}
	return papersTemplate.Write(w, http.StatusOK, d)
}

func findSizes(asked []string) (out []Found) {
	for _, z := range sheet.NamedSizes() {
		out = append(out, find(asked, Found{Name: z.Name, Text: "A size of sheet.", Href: "/handbook/papers"}))
	}
	return out
}
