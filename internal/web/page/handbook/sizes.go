package handbook

import (
	"net/http"
	"strings"

	"vatside/internal/sheet"
	"vatside/internal/source"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// PapersData is what the template of the named sizes sets.
type PapersData struct {
	page.Base
	Groups []SizesOf
}

// SizesOf are the sizes that one source names.
type SizesOf struct {
	Source part.Cited
	Sizes  []Size
}

// Size is a size that has a name, and what else it is called.
type Size struct {
	Name, Sides, Also string
}

// Papers lists the sizes that have a name.
func (p *Page) Papers(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Sizes", page.Handbook)
	if err != nil {
		return err
	}
	d := PapersData{Base: base}
	for _, z := range sheet.NamedSizes() {
		cited := part.Cite(z.Source, source.Must(z.Source).Grade)
		if n := len(d.Groups); n == 0 || d.Groups[n-1].Source != cited {
			d.Groups = append(d.Groups, SizesOf{Source: cited})
		}
		line := base.Speech.SizeLine(float64(z.Long), float64(z.Short))
		also, sides, two := strings.Cut(line, ", ")
		switch {
		case !two:
			also, sides = "", line
		case also == z.Name:
			also = ""
		}
		last := &d.Groups[len(d.Groups)-1]
		last.Sizes = append(last.Sizes, Size{z.Name, sides, also})
	}
	return papersTemplate.Write(w, http.StatusOK, d)
}

func findSizes(asked []string) (out []Found) {
	for _, z := range sheet.NamedSizes() {
		out = append(out, find(asked, Found{Name: z.Name, Text: "A size of sheet.", Href: "/handbook/papers"}))
	}
	return out
}
