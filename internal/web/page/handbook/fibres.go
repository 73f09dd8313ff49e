package handbook

import (
	"net/http"
	"net/url"
	"slices"
	"strings"

	"vatside/internal/fibre"
	"vatside/internal/handbook"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// FibresData is what the template of the list sets.
type FibresData struct {
	page.Base
	Asked string
	Kinds []FibreKind
}

// FibreKind are the fibres of one kind.
type FibreKind struct {
	Kind   string
	Fibres []FibreLine
}

// ID is the kind's anchor on the page.
func (k FibreKind) ID() string { return handbook.Term{Word: "kind " + k.Kind}.ID() }

// FibreLine is one fibre in the list.
type FibreLine struct {
	Name, Href, Also string
}

// Fibres lists the fibres by kind; what is asked for narrows the list.
func (p *Page) Fibres(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Fibres", page.Handbook)
	if err != nil {
		return err
	}
	d := FibresData{Base: base, Asked: page.ReadQuery(r).Get("find")}
	asked := strings.Fields(strings.ToLower(d.Asked))
	for _, f := range fibre.All() {
		if len(asked) > 0 && foundFibre(asked, f).rank == 0 {
			continue
		}
		i := slices.IndexFunc(d.Kinds, func(k FibreKind) bool { return k.Kind == f.Kind })
		if i < 0 {
			i = len(d.Kinds)
			d.Kinds = append(d.Kinds, FibreKind{Kind: f.Kind})
		}
		d.Kinds[i].Fibres = append(d.Kinds[i].Fibres, FibreLine{f.Name, fibreHref(f), strings.Join(f.Aliases, ", ")})
	}
	return fibresTemplate.Write(w, http.StatusOK, d)
}

func fibreHref(f fibre.Fibre) string { return "/handbook/fibres/" + url.PathEscape(f.Name) }

func foundFibre(asked []string, f fibre.Fibre) Found {
	also := "A " + f.Kind + " fibre."
	if len(f.Aliases) > 0 {
		also = "Also " + strings.Join(f.Aliases, ", ") + "."
	}
	return find(asked, Found{Name: part.Upper(f.Name), Text: also, Href: fibreHref(f)},
		f.Kind, f.Preparation, f.Forming, f.Strength, f.Translucency, strings.Join(f.Forms, " "), strings.Join(f.Cautions, " "))
}

func findFibres(asked []string) (out []Found) {
	for _, f := range fibre.All() {
		out = append(out, foundFibre(asked, f))
	}
	return out
}
