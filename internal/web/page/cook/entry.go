package cook

import (
	"net/http"
	"time"

	"vatside/internal/cookery"
	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// happened are the kinds of entry in words.
var happened = []part.Option{
	{Value: string(cookery.Simmer), Label: "It simmers"}, {Value: string(cookery.Reading), Label: "Read", Note: "temperature, pH"},
	{Value: string(cookery.Test), Label: "End test", Note: "does it part?"}, {Value: string(cookery.Off), Label: "Off the flame"},
	{Value: string(cookery.Second), Label: "Second cook", Note: "fresh liquor"}, {Value: string(cookery.Rinse), Label: "Rinsed", Note: "a change of water"},
	{Value: string(cookery.Waste), Label: "Liquor", Note: "neutralised, handed over"}, {Value: string(cookery.Remark), Label: "Remark"},
}

// stamp is how a time is typed.
const stamp = "2006-01-02 15:04"

func entryFields(s part.Speech) []part.Field {
	warm, volume := s.Bare(measure.OfTemperature), s.Bare(measure.OfVolume)
	return []part.Field{
		{Name: "kind", Label: "What happened", Kind: part.Choices, Options: happened},
		{Name: "at", Label: "When", Kind: part.Text, Hint: "Year-month-day hour:minute, or 14:30 today."},
		{Name: "temp", Label: "Temperature", Kind: part.Number, Mode: "text", Unit: warm, Bare: warm, Small: true},
		{Name: "ph", Label: "pH", Kind: part.Number, Mode: "decimal", Small: true, Hint: "At room temperature."},
		{Name: "passed", Label: "The strand", Kind: part.Select, Options: []part.Option{{Value: "", Label: "not tested"}, {Value: "yes", Label: "parts"}, {Value: "no", Label: "does not part yet"}}},
		{Name: "litres", Label: "Water or liquor", Kind: part.Number, Mode: "text", Unit: volume, Bare: volume, Small: true},
		{Name: "text", Label: "In words", Kind: part.Long},
	}
}

// Append writes down what happened, or puts an entry right.
func (p *Page) Append(w http.ResponseWriter, r *http.Request) error {
	f, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	sys, err := p.frame.System(r)
	if err != nil {
		return err
	}
	e := p.readEntry(f, part.Speech{System: sys})
	e.CookID = r.PathValue("id")
	if len(f.Faults) == 0 {
		err := p.cooks.Append(r.Context(), e)
		switch fault.KindOf(err) {
		case fault.KindInvalid, fault.KindOutOfRange:
			f.Refuse(err)
		default:
			if err != nil {
				return err
			}
			page.PutFlash(w, "Written down.")
			return page.See(w, r, "/cooks/"+e.CookID)
		}
	}
	return p.log(w, r, http.StatusUnprocessableEntity, f, false)
}

func (p *Page) readEntry(f *page.Form, s part.Speech) cookery.Entry {
	e := cookery.Entry{ID: f.Get("entry"), Kind: cookery.Kind(f.Get("kind")), At: p.readTime(f)}
	number := func(name string, kind measure.Kind) *float64 {
		if f.Get(name) == "" {
			return nil
		}
		v, err := s.Read(name, f.Get(name), kind)
		f.Refuse(err)
		return &v
	}
	e.Body = cookery.Body{TempC: number("temp", measure.OfTemperature), PH: number("ph", measure.OfNumber), Litres: number("litres", measure.OfVolume), Text: f.Get("text")}
	if v := f.Get("passed"); v != "" {
		passed := v == "yes"
		e.Body.Passed = &passed
	}
	if of := f.Get("corrects"); of != "" {
		e.Kind, e.Corrects, e.Body.Struck = cookery.Correction, of, f.Get("do") == "strike"
	}
	return e
}

// readTime reads when something happened; empty: now.
func (p *Page) readTime(f *page.Form) time.Time {
	text, now := f.Get("at"), p.now()
	if text == "" {
		return now
	}
	if t, err := time.ParseInLocation(stamp, text, now.Location()); err == nil {
		return t
	}
	if t, err := time.ParseInLocation(stamp, now.Format(time.DateOnly)+" "+text, now.Location()); err == nil {
		return t
	}
	f.Refuse(fault.Invalid("at", "write it as year-month-day hour:minute, such as 2026-10-04 14:30, or 14:30"))
	return now
}

// fillEntry puts an entry that is to be put right into the form.
func fillEntry(f *page.Form, state cookery.State, s part.Speech, now time.Time) {
	of := f.Get("corrects")
	for _, l := range state.Lines {
		if l.ID != of || of == "" {
			continue
		}
		f.Fill("kind", string(l.Kind))
		f.Fill("at", l.At.In(now.Location()).Format(stamp))
		f.Fill("text", l.Body.Text)
		for name, v := range map[string]*float64{"temp": l.Body.TempC, "litres": l.Body.Litres, "ph": l.Body.PH} {
			if v != nil {
				f.Fill(name, s.One(*v, map[string]string{"temp": "°C", "litres": "L"}[name]))
			}
		}
		if l.Body.Passed != nil {
			f.Fill("passed", map[bool]string{true: "yes", false: "no"}[*l.Body.Passed])
		}
	}
	next := cookery.Simmer // what is likely to come
	switch {
	case !state.Parted.IsZero():
		next = cookery.Rinse
	case !state.Simmers.IsZero():
		next = cookery.Test
	}
	f.Fill("kind", string(next))
	f.Fill("at", now.Format(stamp))
}
