package making

import (
	"fmt"
	"math"
	"net/http"

	"vatside/internal/measure"
	"vatside/internal/sheet"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// Finding is what was measured, with its result in words.
type Finding struct{ Name, Value, Note string }

// findings says what was measured besides the card, each with its result.
func findings(s part.Speech, m studio.Making, st studio.State) []Finding {
	var list []Finding
	list = append(list, thickness(s, m, st)...)
	for _, d := range st.Diagonals {
		list = append(list, square(s, d))
	}
	for _, z := range st.Sized {
		list = append(list, sized(z))
	}
	g, _ := studio.Grammage(m, st)
	if g == 0 {
		g = measure.GrammageConditioned(m.Request.Paper.GrammageConditioned)
	}
	for _, c := range st.Cobbs {
		list = append(list, cobb(c, g, part.Waterleaf(m.Request.Paper, len(st.Sized) > 0)))
	}
	for _, i := range st.Inks {
		f := Finding{Name: "Ink strip", Value: fmt.Sprintf("%s, %d of 6", i.Says, int(i.Says)), Note: "It takes a pen."}
		if !i.Says.ForPen() {
			f.Note = ""
		}
		list = append(list, f)
	}
	for _, z := range st.Soaked {
		list = append(list, soaked(z)...)
	}
	for _, h := range st.Hands {
		list = append(list, Finding{Name: "The hand says", Value: part.Upper(h.Words()), Note: h.Remark})
	}
	return list
}

// thickness says caliper, density and bulk.
func thickness(s part.Speech, m studio.Making, st studio.State) []Finding {
	var all []measure.Length
	for _, t := range st.Thicknesses() {
		all = append(all, measure.Length(t))
	}
	if len(all) == 0 {
		return nil
	}
	f := Finding{Name: "Caliper", Note: "One reading: five say how far it can be trusted."}
	mean := all[0]
	if v, off, err := sheet.CaliperMean(all); err == nil {
		mean = v
		n, u := measure.ShowCaliper(off, s.System)
		f.Note = fmt.Sprintf("Mean of %d readings, nine times in ten within %s %s.", len(all), n, u)
	}
	n, u := measure.ShowCaliper(mean, s.System)
	f.Value = n + "\u00a0" + u
	list := []Finding{f}
	if d, ok := studio.Density(m, st); ok {
		list = append(list, Finding{Name: "Density", Value: s.One(float64(d), d.Unit()), Note: "From thickness, weight and " + map[bool]string{true: "the size wanted; no sheet was measured yet.", false: "size of the dry sheets."}[len(st.Sizes) == 0]},
			Finding{Name: "Bulk", Value: s.One(1/float64(d), "cm³/g")})
	} else {
		list[0].Note += " Weigh dry sheets, too, and the density follows."
	}
	return list
}

func square(s part.Speech, d studio.Diagonals) Finding {
	l, w := measure.Length(d.LongMM), measure.Length(d.ShortMM)
	f := Finding{Name: "Out of square"}
	lean, longer, err := sheet.Outline{Long: [2]measure.Length{l, l}, Short: [2]measure.Length{w, w},
		Diagonal: [2]measure.Length{measure.Length(d.FirstMM), measure.Length(d.SecondMM)}}.OutOfSquare()
	switch {
	case err != nil:
		f.Value, f.Note = "cannot be", page.Sentence(err)
	case longer == 0:
		f.Value = "square"
	default:
		f.Value = s.One(float64(lean), "mm") + " over the long side"
		f.Note = "The " + []string{"first", "second"}[longer-1] + " diagonal is the longer."
	}
	return f
}

// Keep keeps what a making left as a lot.
func (p *Page) Keep(w http.ResponseWriter, r *http.Request) error {
	f, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	l, err := p.studio.KeepLeft(r.Context(), r.PathValue("id"), studio.LotForm(f.Get("form")))
	if err != nil {
		return err
	}
	page.PutFlash(w, "On the shelf.")
	return page.See(w, r, "/store/"+l.ID)
}

func points(share measure.Share) string {
	return fmt.Sprintf("%.2g\u202f%%", 100*math.Abs(float64(share)))
}
