package labels

import (
	"fmt"
	"strings"

	"vatside/internal/paperwork"
	"vatside/internal/web/part"
)

// provenance says what the paper is.
func (t told) provenance() paperwork.Statement {
	d := t.m.Request.Paper
	s := paperwork.Statement{Kind: "Handmade paper", Studio: t.studio, Paper: t.m.PaperName, Tag: t.m.Tag, Day: t.made()}
	add := func(what, value string) {
		if value != "" {
			s.Lines = append(s.Lines, paperwork.StatedLine{What: what, Value: value})
		}
	}
	add("Made of", part.WriteFurnish(d.Furnish))
	var added []string
	for _, a := range d.Additives {
		added = append(added, a.Kind)
	}
	add("With", strings.Join(added, ", "))
	add("Beaten", t.beaten())
	forming := map[string]string{"several dips": "in several dips", "poured": "poured"}[d.Forming]
	if forming == "" {
		forming = "sheet by sheet at the vat"
	}
	add("Formed", forming)
	add("Dried", drying(d.Drying))
	add("Surface", strings.Replace(t.surface(), "waterleaf", "waterleaf: it has no size on it", 1))
	add("Weight", t.grammage())
	size := t.s.SizeLine(t.size())
	if len(t.st.Sizes) == 0 {
		size += asPlanned
	}
	add("Size", size)
	add("Finish", d.Finish)
	if t.st.Grades.Good > 0 {
		add("Edition", fmt.Sprintf("%d good sheets of %d pulled", t.st.Grades.Good, t.st.Pulled))
	}
	s.Notes = []string{"No two sheets are alike; the tag above finds this making in the studio's records, so that the paper can be made again."}
	return s
}
