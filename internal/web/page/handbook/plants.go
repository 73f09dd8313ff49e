package handbook

import (
	"fmt"
	"net/http"

	"vatside/internal/cooking"
	"vatside/internal/source"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// PlantsData is what the template of plants sets.
type PlantsData struct {
	page.Base
	Groups                    []PlantGroup
	Seasons, Rettings, Yields part.Table
}

// PlantGroup is plants of which the same is said.
type PlantGroup struct {
	ID, Name string
	Plants   []Plant
}

// Plant is one entry of the checked list.
type Plant struct {
	Name, Botanical, Hazard, Do string
	Source                      part.Cited
}

var verdicts = []struct{ verdict, id, name string }{
	{cooking.Never, "never", "Never for fibre"}, {cooking.WithCare, "care", "With care"},
	{cooking.NoneFound, "none", "Nothing found"}, {cooking.Protected, "law", "Protected, owned, invasive"},
}

// Plants lists what is harvested when, how it is retted, what is left of it, and
// which plants harm.
func (p *Page) Plants(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Plants", page.Handbook)
	if err != nil {
		return err
	}
	d := PlantsData{Base: base, Seasons: seasons(), Rettings: rettings(), Yields: yields(base.Speech)}
	for _, v := range verdicts {
		g := PlantGroup{ID: v.id, Name: v.name}
		for _, pl := range cooking.Plants() {
			if pl.Verdict == v.verdict {
				g.Plants = append(g.Plants, Plant{part.Upper(pl.Name), pl.Botanical, pl.Hazard, pl.Do, part.Cite(pl.Source.Key, pl.Source.Grade)})
			}
		}
		d.Groups = append(d.Groups, g)
	}
	return plantsTemplate.Write(w, http.StatusOK, d)
}

func seasons() part.Table {
	t := part.Table{Caption: "Which part, when", Columns: []part.Column{{Label: "Plant"}, {Label: "Part"}, {Label: "When"}}}
	for _, s := range cooking.Seasons() {
		t.Rows = append(t.Rows, part.Row{Cells: []string{part.Upper(s.What), s.Part, s.When}, Note: noted(s.Note, s.Source)})
	}
	return t
}

func rettings() part.Table {
	t := part.Table{Caption: "Retting: stop when the bast slips cleanly", Columns: []part.Column{{Label: "How"}, {Label: "What"}, {Label: "Days", Number: true}}}
	for _, s := range cooking.Rettings() {
		t.Rows = append(t.Rows, part.Row{Cells: []string{part.Upper(s.How), s.What, fmt.Sprintf("%.0f–%.0f", float64(s.Low), float64(s.High))}, Note: noted(s.Note, s.Source)})
	}
	return t
}

// yields are what is left at each step, in per cent of the step before.
func yields(s part.Speech) part.Table {
	t := part.Table{Caption: "What is left, per cent of the step before: middle, and nine times in ten", Columns: []part.Column{{Label: "Plant"}, {Label: "Dry of fresh", Unit: "%", Number: true}, {Label: "Clean of dry", Unit: "%", Number: true}, {Label: "Pulp of clean", Unit: "%", Number: true}}}
	pct := func(v source.Value) string {
		if !v.Known() {
			return "not known"
		}
		return fmt.Sprintf("%.3g (%.3g–%.3g)", 100*v.Mid, 100*v.Low, 100*v.High)
	}
	for _, p := range cooking.Paths() {
		t.Rows = append(t.Rows, part.Row{Cells: []string{part.Upper(p.Plant), pct(p.Dry), pct(p.Cleaned), pct(p.Cooked)}})
	}
	return t
}

// noted is a remark with its source.
func noted(note string, s source.Source) string {
	if note != "" {
		note = part.Upper(note) + ". "
	}
	return note + "Rests on " + cite(s) + "."
}

// cite names a source in a sentence.
func cite(s source.Source) string {
	if s.Key == source.KeyMemory || s.Key == source.KeyPractice {
		return part.RestsOn(s.Grade)
	}
	return s.Title
}

func findPlants(asked []string) (out []Found) {
	for _, p := range cooking.Plants() {
		out = append(out, find(asked, Found{Name: part.Upper(p.Name), Text: p.Hazard + " " + p.Do, Href: "/handbook/plants"}, p.Botanical))
	}
	for _, s := range cooking.Seasons() {
		out = append(out, find(asked, Found{Name: part.Upper(s.What) + ", harvest", Text: s.Part + ", " + s.When, Href: "/handbook/plants#season"}, s.Note))
	}
	return out
}
