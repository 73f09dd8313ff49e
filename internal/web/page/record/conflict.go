package record

import (
	"net/http"
	"strings"

	"vatside/internal/measure"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// conflict tells that the record changed in between; what was typed stays, and
// sending it again puts it in place of what is recorded now.
func (p *Page) conflict(w http.ResponseWriter, o opened, mine, theirs *page.Form, text string) error {
	p.fresh(mine, o.events)
	d := set(o, mine)
	d.Conflict = &part.Conflict{Text: text, Then: "What you typed is kept below. Saving puts it in place of what is recorded.",
		Rows: part.Differing(d.fields(), set(o, theirs).fields())}
	return template.Write(w, http.StatusConflict, d)
}

// writtenSince reports whether something came after the form was filled that
// is not the form's own.
func writtenSince(events []studio.Event, f *page.Form) bool {
	if last(events) == f.Get("seen") {
		return false
	}
	return len(events) > 0 && !strings.HasPrefix(events[len(events)-1].ID, "card/"+f.Get("form")+"/")
}

// inUnits are the units of bare numbers on the form.
func inUnits(s part.Speech) map[measure.Kind]string {
	units := map[measure.Kind]string{measure.OfPercent: "%"}
	for kind := range keptIn {
		units[kind] = s.Bare(kind)
	}
	return units
}
