package cook

import (
	"net/http"
	"time"

	"vatside/internal/cookery"
	"vatside/internal/cooking"
	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// How wet cooked fibre is where nobody tested it: litres of water that a
// kilogram of dry fibre holds.
var held = map[string]measure.Number{"squeezed": cooking.HeldSqueezed, "drained": cooking.HeldDrained, "leafy": cooking.HeldLeafy}

func endFields(s part.Speech) []part.Field {
	mass, warm := s.Bare(measure.OfMass), s.Bare(measure.OfTemperature)
	var states []part.Option
	for _, k := range cooking.States() {
		states = append(states, part.Option{Value: k, Label: k})
	}
	return []part.Field{
		{Name: "wet", Label: "The whole batch weighs", Kind: part.Number, Mode: "text", Unit: mass, Bare: mass, Small: true, Required: true, Hint: "Rinsed and drained, as it goes on the shelf."},
		{Name: "how", Label: "How wet it is", Kind: part.Select, Options: []part.Option{{Value: "test", Label: "by the quick test below"}, {Value: "squeezed", Label: "squeezed: about 25 % fibre"}, {Value: "drained", Label: "drained: about 17 % fibre"}, {Value: "leafy", Label: "leafy pulp, drained: about 12 % fibre"}}},
		{Name: "handful", Label: "A handful weighed", Kind: part.Number, Mode: "text", Unit: mass, Bare: mass, Small: true, Hint: "100 g is handy."},
		{Name: "dried", Label: "The same, dried", Kind: part.Number, Mode: "text", Unit: mass, Bare: mass, Small: true},
		leftField("Water in the dried handful"),
		{Name: "kept", Label: "How it is kept", Kind: part.Select, Options: states},
		{Name: "kept-at", Label: "At", Kind: part.Number, Mode: "text", Unit: warm, Bare: warm, Small: true, Hint: "Empty: 15 °C, a cool room."},
		{Name: "bag", Label: "In bags of, dry fibre", Kind: part.Number, Mode: "text", Unit: mass, Bare: mass, Small: true, Hint: "To freeze it in portions. Empty: in one."},
		{Name: "called", Label: "Called", Kind: part.Text, Hint: "Empty: what it is, with the day."},
	}
}

// ended is a batch on its way to the shelf.
type ended struct {
	wetG, moisturePct float64
	how               string
	keepBy, note      string
}

// End puts the cooked batch on the shelf.
func (p *Page) End(w http.ResponseWriter, r *http.Request) error {
	f, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	c, state, err := p.cooks.Cook(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	sys, err := p.frame.System(r)
	if err != nil {
		return err
	}
	profile, err := p.studio.Profile(r.Context())
	if err != nil {
		return err
	}
	if state.Finished != nil && state.Finished.ID != f.Get("entry") {
		f.Refuse(fault.Conflict("this batch is on the shelf already: put it right on the page of its lot"))
	}
	b := p.readEnd(f, part.Speech{System: sys}, part.Shelf(profile.Kit), c)
	if len(f.Faults) == 0 {
		now := p.now()
		moist := b.moisturePct
		lot, err := p.studio.SaveLot(r.Context(), studio.Lot{Name: f.Get("called"), What: c.Fibre, Form: studio.AsBought, Cooked: true, MoisturePct: &moist, Since: now.Format(time.DateOnly), KeepBy: b.keepBy, Note: b.note},
			studio.Movement{ID: c.ID + "/out", MassG: b.wetG, CookID: c.ID, At: now})
		if err == nil {
			err = p.cooks.Append(r.Context(), cookery.Entry{ID: f.Get("entry"), CookID: c.ID, Kind: cookery.Ended, At: now,
				Body: cookery.Body{WetG: &b.wetG, MoisturePct: &b.moisturePct, How: b.how, LotID: lot.ID}})
		}
		switch fault.KindOf(err) {
		case fault.KindInvalid, fault.KindOutOfRange, fault.KindConflict:
			f.At = map[string]string{"name": "called", "moisture": "how", "mass": "wet"}
			f.Refuse(err)
		default:
			if err != nil {
				return err
			}
			page.PutFlash(w, "On the shelf. What this cook taught is in the next one's figures.")
			return page.See(w, r, "/store/"+lot.ID)
		}
	}
	return p.log(w, r, http.StatusUnprocessableEntity, f, true)
}
