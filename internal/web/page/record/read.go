package record

import (
	"strconv"
	"strings"
	"time"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// mostCount is the most sheets one blank may say; the records' own limit.
const mostCount = 100_000

// reader takes a card from a form. What was not touched since the form was
// filled is taken as it is recorded.
type reader struct {
	f     *page.Form
	s     part.Speech
	was   *page.Form
	exact map[string]float64
	l     layout
	at    map[string]string // a field of the card to the field of the form
}

func (r reader) read(now time.Time) studio.CardEntry {
	e := studio.CardEntry{FormID: r.f.Get("form"), At: r.on(now)}
	if v := r.quantity("fibre", measure.OfMass); v != nil {
		e.Fibre = &studio.FibreWeighed{Grams: *v}
	}
	r.lots(&e)
	r.tests(&e)
	couched := r.posts(&e)
	r.recharges(&e, couched)
	if v := r.quantity("stock-left", measure.OfVolume); v != nil {
		e.StockLeft = &studio.StockLeft{Litres: *v}
	}
	r.dry(&e)
	r.sizes(&e)
	r.grades(&e)
	r.besides(&e)
	e.Minutes = map[string]float64{}
	for i, step := range r.l.steps {
		field := "minutes-" + strconv.Itoa(i+1)
		if v := r.quantity(field, measure.OfMinutes); v != nil {
			e.Minutes[step.Key] = *v
			r.at["minutes["+step.Key+"]"] = field
		}
	}
	for _, text := range strings.Split(strings.ReplaceAll(r.f.Get("remarks"), "\r\n", "\n"), "\n\n") {
		if text = strings.TrimSpace(text); text != "" {
			e.Remarks = append(e.Remarks, text)
		}
	}
	e.Close = r.f.Get("close") == "yes"
	r.at["remarks"], r.at["stock_left"], r.at["fibre"], r.at["grades"], r.at["at"] = "remarks", "stock-left", "fibre", "good", "on"
	r.f.At = r.at
	return e
}

// on is the day of the making, at noon of the studio's clock; today it is now.
func (r reader) on(now time.Time) time.Time {
	text := r.f.Get("on")
	if text == "" || text == now.Format(time.DateOnly) {
		return time.Time{}
	}
	t, err := time.ParseInLocation(time.DateOnly, text, now.Location())
	switch {
	case err != nil:
		r.f.Refuse(fault.Invalid("on", "write the day as year-month-day, such as %s", now.Format(time.DateOnly)))
		return time.Time{}
	case t.After(now):
		r.f.Refuse(fault.OutOfRange("on", "that day is still to come; write the day the sheets were pulled"))
		return time.Time{}
	}
	return t.Add(12 * time.Hour)
}

// quantity reads a blank; nil where nothing is written.
func (r reader) quantity(name string, kind measure.Kind) *float64 {
	typed := r.f.Get(name)
	if typed == "" {
		return nil
	}
	if v, ok := r.exact[name]; ok && typed == strings.TrimSpace(r.was.Get(name)) {
		return &v
	}
	v, err := r.s.Read(name, typed, kind)
	if err != nil {
		r.f.Refuse(err)
		return nil
	}
	return &v
}

// count reads a number of sheets; nil where nothing is written.
func (r reader) count(name string, least int) *int {
	if r.f.Get(name) == "" {
		return nil
	}
	n, err := part.Count(name, r.f.Get(name), least, mostCount, "sheets")
	if err != nil {
		r.f.Refuse(err)
		return nil
	}
	return &n
}
