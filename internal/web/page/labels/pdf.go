package labels

import (
	"bytes"
	"fmt"
	"net/http"
	"strconv"

	"vatside/internal/paperwork"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// PDF sends what was asked for.
func (p *Page) PDF(w http.ResponseWriter, r *http.Request) error {
	m, err := p.studio.Making(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	events, err := p.studio.Events(r.Context(), m.ID)
	if err != nil {
		return err
	}
	profile, err := p.studio.Profile(r.Context())
	if err != nil {
		return err
	}
	system, err := p.frame.System(r)
	if err != nil {
		return err
	}
	f := page.ReadQuery(r)
	a := p.read(f, part.Speech{System: system})
	if len(f.Faults) > 0 {
		return f.Faults
	}
	t := told{m, studio.Replay(m, events), part.Speech{System: system}, profile.Name, p.now()}
	var buf bytes.Buffer
	if err := t.write(&buf, a, page.TagLink(r.Host, m.Tag)); err != nil {
		return fmt.Errorf("%s of %s: %w", a.kind, m.ID, err)
	}
	h := w.Header()
	h.Set("Content-Type", "application/pdf")
	h.Set("Content-Disposition", fmt.Sprintf("inline; filename=%q", a.kind+" "+m.Tag+".pdf"))
	h.Set("Content-Length", strconv.Itoa(buf.Len()))
	_, _ = buf.WriteTo(w) // a reader gone away is no fault of ours
	return nil
}

func sheets(n int, paper paperwork.Size) string {
	return part.Many(n, "sheet") + " of " + paper.Name
}
