package store

import (
	"net/http"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/furnish"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

func (p *Page) speech(r *http.Request) (part.Speech, error) {
	sys, err := p.frame.System(r)
	return part.Speech{System: sys}, err
}

// refuse notes a fault of what was typed and returns the status to answer with;
// any other fault is handed on. What was sent before gets an entry of its own,
// so that sending it knowingly writes it down.
func refuse(f *page.Form, err error) (int, error) {
	status := http.StatusUnprocessableEntity
	switch {
	case fault.KindOf(err) == fault.KindConflict:
		status = http.StatusConflict
		f.Values.Set("entry", entryID())
	case !fault.Refused(err):
		return 0, err
	}
	f.At = map[string]string{"mass": "amount", "keep_by": "keep-by"}
	f.Refuse(err)
	return status, nil
}

func amountField() part.Field {
	return part.Field{Name: "amount", Label: "How much", Kind: part.Text, Required: true,
		Hint: "As you have it: 1.2 kg, 27 lb wet at 10 %, 3 Tbsp, 20 L of stock."}
}

// cooked is how raw fibre lies there that a cook has opened.
const cooked = "cooked"

// fields asks what a lot is; of a new one how much of it came, too.
func fields(f *page.Form, s part.Speech, kit plan.Studio, fresh bool) []part.Field {
	list := []part.Field{
		{Name: "what", Label: "Fibre or additive", Kind: part.Suggest, Required: true, Options: offered(kit)},
		{Name: "form", Label: "How it lies there", Kind: part.Choices, Options: []part.Option{
			{Value: string(studio.AsBought), Label: "As bought"}, {Value: cooked, Label: "Cooked", Note: "raw fibre, not beaten yet"}, {Value: string(studio.WetStock), Label: "Stock", Note: "beaten, with its water"},
			{Value: string(studio.Scraps), Label: "Scraps", Note: "broke, trimmings"}}},
	}
	if fresh {
		list = append(list, amountField())
	}
	list = append(list,
		part.Field{Name: "moisture", Label: "Water in it", Hint: "Of what the scale says. Empty: as fibre on a shelf.", Kind: part.Number, Mode: "decimal", Unit: "%", Small: true},
		part.Field{Name: "thick", Label: "Or, of stock, how thick", Hint: "Bone-dry fibre in a litre.", Kind: part.Number, Mode: "decimal", Unit: s.Bare(measure.OfConsistency), Bare: s.Bare(measure.OfConsistency), Small: true},
		part.Field{Name: "since", Label: "Bought or kept on", Kind: part.Date},
		part.Field{Name: "keep-by", Label: "Use by", Hint: "Empty: it keeps.", Kind: part.Date},
		part.Field{Name: "price", Label: "Price a kilogram, as it lies", Kind: part.Number, Mode: "decimal", Unit: s.Currency, Small: true},
		part.Field{Name: "name", Label: "Called", Hint: "Empty: what it is, with the day.", Kind: part.Text},
		part.Field{Name: "note", Label: "Note", Kind: part.Long})
	for i := range list {
		list[i] = f.Field(list[i])
	}
	return list
}

// offered are the fibres, own ones first, and the additives.
func offered(kit plan.Studio) []part.Option {
	var list []part.Option
	shelf, err := fibre.NewShelf(kit.Fibres)
	if err != nil {
		shelf = fibre.Shelf{}
	}
	for _, f := range shelf.All() {
		list = append(list, part.Option{Value: f.Name, Label: f.Kind})
	}
	for _, a := range furnish.Additives() {
		list = append(list, part.Option{Value: a.Name, Label: string(a.Group)})
	}
	return list
}

// readLot takes from the form what a lot is; how much of it is not read here.
func readLot(f *page.Form, s part.Speech) studio.Lot {
	f.At = map[string]string{"keep_by": "keep-by", "mass": "amount"}
	l := studio.Lot{Name: f.Get("name"), Cooked: f.Get("form") == cooked, What: f.Get("what"), Form: studio.LotForm(f.Get("form")),
		Since: f.Get("since"), KeepBy: f.Get("keep-by"), Note: f.Get("note")}
	if l.Cooked {
		l.Form = studio.AsBought
	}
	number := func(name string, kind measure.Kind) *float64 {
		if f.Get(name) == "" {
			return nil
		}
		v, err := s.Read(name, f.Get(name), kind)
		f.Refuse(err)
		return &v
	}
	l.MoisturePct = number("moisture", measure.OfPercent)
	if thick := number("thick", measure.OfConsistency); thick != nil {
		l.MoisturePct = studio.MoistureOfStock(*thick)
	}
	l.PriceKg = number("price", measure.OfNumber)
	return l
}

// readAmount reads how much there is; solids that were typed with it go before
// those of the form.
func readAmount(f *page.Form, s part.Speech, l *studio.Lot) float64 {
	if f.Get("amount") == "" {
		f.Refuse(fault.Invalid("amount", "say how much, such as 1.2 kg"))
		return 0
	}
	grams, moisture, err := studio.ReadLotAmount("amount", f.Get("amount"), s.System, l.What, l.Form)
	f.Refuse(err)
	if moisture != nil {
		l.MoisturePct = moisture
	}
	return grams
}

// fill writes a lot into the form.
func fill(f *page.Form, s part.Speech, l studio.Lot) {
	f.Fill("revision", itoa(l.Revision))
	f.Fill("what", l.What)
	if l.Cooked {
		f.Fill("form", cooked)
	}
	f.Fill("form", string(l.Form))
	f.Fill("since", l.Since)
	f.Fill("keep-by", l.KeepBy)
	f.Fill("name", l.Name)
	f.Fill("note", l.Note)
	if l.MoisturePct != nil {
		f.Fill("moisture", part.Written(*l.MoisturePct))
	}
	if l.PriceKg != nil {
		f.Fill("price", part.Written(*l.PriceKg))
	}
}
