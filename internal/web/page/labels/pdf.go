package labels

import (
	"bytes"
	"context"
	"fmt"
	"net/http"
	"strconv"

	"vatside/internal/measure"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// PDF sends what was asked for.
func (p *Page) PDF(w http.ResponseWriter, r *http.Request) error {
	system, err := p.frame.System(r)
	if err != nil {
		return err
	}
	f := page.ReadQuery(r)
	a := p.read(f, part.Speech{System: system})
	if len(f.Faults) > 0 {
		return f.Faults
	}
	t, err := p.told(r.Context(), r.PathValue("id"), system)
	if err != nil {
		return err
	}
	m := t.m
	var buf bytes.Buffer
	if err := t.write(&buf, a, page.TagLink(r, m.Tag)); err != nil {
		return fmt.Errorf("%s of %s: %w", a.kind, m.ID, err)
	}
	return send(w, buf.Bytes(), a.kind+" "+m.Tag+".pdf")
}

// told reads what is to be told of a making.
func (p *Page) told(ctx context.Context, id string, system measure.System) (told, error) {
	m, err := p.studio.Making(ctx, id)
	if err != nil {
		return told{}, err
	}
	events, err := p.studio.Events(ctx, m.ID)
	if err != nil {
		return told{}, err
	}
	profile, err := p.studio.Profile(ctx)
	return told{m, studio.Replay(m, events), part.Speech{System: system}, profile.Name, p.now()}, err
}

func send(w http.ResponseWriter, pdf []byte, name string) error {
	h := w.Header()
	h.Set("Content-Type", "application/pdf")
	h.Set("Content-Disposition", fmt.Sprintf("inline; filename=%q", name))
	h.Set("Content-Length", strconv.Itoa(len(pdf)))
	_, _ = w.Write(pdf) // a reader gone away is no fault of ours
	return nil
}
