package cook

import (
	"fmt"
	"strings"

	"vatside/internal/cookery"
	"vatside/internal/web/part"
)

// line is an entry in words.
func (p *Page) line(l cookery.Line, s part.Speech) LogLine {
	out := LogLine{ID: l.ID, When: part.Moment(l.At, p.now()), Said: said(l.Entry, s), Struck: l.Struck}
	if l.Was != nil {
		out.Was = fmt.Sprintf("First written: %s, %s", part.Moment(l.Was.At, p.now()), said(*l.Was, s))
	}
	return out
}

func said(e cookery.Entry, s part.Speech) string {
	var out []string
	for _, o := range happened {
		if o.Value == string(e.Kind) {
			out = append(out, o.Label)
		}
	}
	b := e.Body
	add := func(v *float64, unit, before string) {
		if v != nil {
			out = append(out, before+s.One(*v, unit))
		}
	}
	if e.Kind == cookery.Ended {
		out = append(out, "On the shelf")
		add(b.WetG, "g", "")
		add(b.MoisturePct, "%", "water ")
	}
	add(b.TempC, "°C", "")
	add(b.PH, "", "pH ")
	add(b.Litres, "L", "")
	if b.Passed != nil {
		out = append(out, map[bool]string{true: "it parts", false: "it does not part yet"}[*b.Passed])
	}
	if b.Text != "" {
		out = append(out, b.Text)
	}
	return strings.Join(out, ", ")
}
