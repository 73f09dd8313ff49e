package cook

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"vatside/internal/ask"
	"vatside/internal/cookery"
	"vatside/internal/cooking"
	"vatside/internal/measure"
	"vatside/internal/paperwork"
	"vatside/internal/source"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// PDF sends the card of a cook, on the printing paper of the reader's part of
// the world.
func (p *Page) PDF(w http.ResponseWriter, r *http.Request) error {
	c, state, err := p.cooks.Cook(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	system, err := p.frame.System(r)
	if err != nil {
		return err
	}
	profile, err := p.studio.Profile(r.Context())
	if err != nil {
		return err
	}
	safety, err := p.cooks.Safety(r.Context())
	if err != nil {
		return err
	}
	var a ask.CookAnswer
	if err := json.Unmarshal(c.Answer, &a); err != nil {
		return err
	}
	paper := paperwork.A4
	if system == measure.US {
		paper = paperwork.Letter
	}
	switch page.ReadQuery(r).Get("paper") {
	case "a4":
		paper = paperwork.A4
	case "letter":
		paper = paperwork.Letter
	}
	s := part.Speech{System: system}
	out := paperwork.Cook{Studio: profile.Name, Fibre: part.Upper(c.Fibre), About: about(cookery.Told{Cook: c}, s) + ". Present: " + who(c) + ".", Day: c.Begun,
		Call: call(safety), Order: told(append(a.Order, a.After...), s), Tests: told(a.EndTests, s), Cautions: heeds(a.Cautions, s), Waste: heeds(a.Waste, s),
		Amounts: amounts(a, c, s), TempUnit: s.Bare(measure.OfTemperature), Units: string(system)}
	for _, l := range state.Lines {
		if !l.Struck {
			out.Log = append(out.Log, l.At.In(p.now().Location()).Format("2 Jan 15:04")+"  "+said(l.Entry, s))
		}
	}
	var buf bytes.Buffer
	if err := out.WritePDF(&buf, paper); err != nil {
		return fmt.Errorf("cook card of %s: %w", c.ID, err)
	}
	h := w.Header()
	h.Set("Content-Type", "application/pdf")
	h.Set("Content-Disposition", fmt.Sprintf("inline; filename=%q", "cook "+c.Fibre+".pdf"))
	h.Set("Content-Length", strconv.Itoa(buf.Len()))
	_, _ = buf.WriteTo(w) // a reader gone away is no fault of ours
	return nil
}

func who(c cookery.Cook) string {
	var list []string
	for _, h := range c.Present {
		list = append(list, h.Who)
	}
	return part.Listed(list)
}

func heeds(list []cooking.Caution, s part.Speech) []paperwork.Heeded {
	var out []paperwork.Heeded
	for _, c := range list {
		from := c.Source
		if of, ok := source.Get(c.Source); ok {
			from = of.Cite()
		}
		out = append(out, paperwork.Heeded{Text: measure.Retell(c.Text, s.System), Source: from})
	}
	return out
}

// printed are the figures that a card is cooked by.
const printed = "alkali_g lime_g ash_liquor_l liquor_l pot_l pots alkali_g_l ph_cold boil_c hours rinse_changes rinse_l waste_l pulp_dry_g"

func amounts(a ask.CookAnswer, c cookery.Cook, s part.Speech) []paperwork.Entry {
	list := []paperwork.Entry{{Label: "Dry fibre", Value: s.One(c.DryG, "g")}}
	for _, v := range shown(a.Figures, strings.Fields(printed), s) {
		if v.Key == "alkali_g" {
			v.Name = part.Upper(c.Alkali)
		}
		list = append(list, paperwork.Entry{Label: v.Name, Value: strings.TrimSpace(v.Number + " " + v.Unit), Band: v.Band})
	}
	return list
}
