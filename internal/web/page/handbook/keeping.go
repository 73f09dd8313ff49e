package handbook

import (
	"fmt"
	"net/http"

	"vatside/internal/cooking"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// KeepingData is what the template of water and keeping sets.
type KeepingData struct {
	page.Base
	Keeping, Water part.Table
}

// Keeping lists how long pulp keeps, and what the water does beside the studio's
// own.
func (p *Page) Keeping(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Water and keeping", page.Handbook)
	if err != nil {
		return err
	}
	own, err := p.own(r)
	if err != nil {
		return err
	}
	d := KeepingData{Base: base, Keeping: keepings()}
	d.Water = part.Table{Caption: "Thresholds, and this studio's water", Columns: []part.Column{{Label: "What"}, {Label: "Threshold", Number: true}, {Label: "Yours", Number: true}}}
	for _, t := range cooking.Thresholds() {
		line, over := "", func(v float64) bool { return t.From != nil && v > *t.From || t.To != nil && v < *t.To }
		switch {
		case t.From == nil:
			line = "under " + bare(t.To)
		case t.Unit == "pH":
			line = "over " + bare(t.From)
		default:
			line = "over " + bare(t.From) + " " + t.Unit
		}
		name := part.Upper(t.What)
		if t.What == "ph" {
			name = "pH"
		}
		yours := "not measured"
		if v := own[t.What]; v != nil {
			if yours = bare(v) + ", within"; over(*v) {
				yours = bare(v) + ", beyond"
			}
		}
		d.Water.Rows = append(d.Water.Rows, part.Row{Cells: []string{name, line, yours}, Note: t.Does + " " + t.Do + " Rests on " + cite(t.Source) + "."})
	}
	return keepingTemplate.Write(w, http.StatusOK, d)
}

func bare(v *float64) string { return fmt.Sprintf("%.3g", *v) }

// own is what this studio knows of its water, by what the table calls it.
func (p *Page) own(r *http.Request) (map[string]*float64, error) {
	profile, err := p.studio.Profile(r.Context())
	if err != nil || profile.Kit.Water == nil {
		return nil, err
	}
	w := profile.Kit.Water
	return map[string]*float64{"hardness": w.HardnessMGL, "iron": w.IronMGL, "ph": w.PH}, nil
}

func keepings() part.Table {
	t := part.Table{Caption: "Days at 15 °C; ten degrees warmer goes two and a half times as fast", Columns: []part.Column{{Label: "What"}, {Label: "How kept"}, {Label: "Days, nine times in ten", Number: true}}}
	for _, k := range cooking.Keepings() {
		note := "Rests on " + part.RestsOn(k.Days.Grade) + "."
		if k.Days.Note != "" {
			note = part.Upper(k.Days.Note) + ". " + note
		}
		t.Rows = append(t.Rows, part.Row{Cells: []string{part.Upper(k.What), k.State, fmt.Sprintf("%.0f (%.0f\u2060–\u2060%.0f)", k.Days.Mid, k.Days.Low, k.Days.High)}, Note: note})
	}
	return t
}

func findKeeping(asked []string) (out []Found) {
	for _, k := range cooking.Keepings() {
		out = append(out, find(asked, Found{Name: part.Upper(k.What) + " kept " + k.State, Text: fmt.Sprintf("%.0f days at 15 °C", k.Days.Mid), Href: "/handbook/keeping"}, k.Days.Note, "keep spoil mould"))
	}
	for _, t := range cooking.Thresholds() {
		out = append(out, find(asked, Found{Name: part.Upper(t.What) + " of the water", Text: t.Does, Href: "/handbook/keeping#water"}, t.Do))
	}
	return out
}
