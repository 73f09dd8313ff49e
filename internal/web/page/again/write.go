package again

import (
	"context"
	"net/http"
	"strings"

	"vatside/internal/again"
	"vatside/internal/studio"
	"vatside/internal/web/page"
)

// Create writes the brief, and where the making was otherwise than its design,
// the revision of the paper that it is for.
func (p *Page) Create(w http.ResponseWriter, r *http.Request) error {
	f, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	x, err := p.read(w, r, f)
	if err != nil {
		return err
	}
	if len(f.Faults) > 0 {
		return template.Write(w, http.StatusUnprocessableEntity, x.data)
	}
	if err := p.hold(r.Context(), &x); err != nil {
		return err
	}
	if x.data.No != "" {
		return template.Write(w, http.StatusUnprocessableEntity, x.data)
	}
	b, err := p.write(r.Context(), x)
	if err != nil {
		return err
	}
	return page.See(w, r, "/briefs/"+b.ID)
}

func (p *Page) write(ctx context.Context, x wish) (studio.Brief, error) {
	m := x.making
	old, err := p.studio.Brief(ctx, m.BriefID)
	if err != nil {
		return old, err
	}
	b := studio.Brief{PaperID: m.PaperID, PaperRevision: m.PaperRevision, GoodSheets: x.good, Sheet: m.Request.Sheet, ConfidencePct: old.ConfidencePct, Remarks: "Again as " + m.Tag + "."}
	if x.data.Same {
		b.PersonID = old.PersonID
	}
	if len(x.taken) == 0 {
		return p.studio.SaveBrief(ctx, b)
	}
	pa, err := p.studio.Paper(ctx, m.PaperID)
	if err != nil {
		return b, err
	}
	pa.Design = again.Made(m, x.taken) // the size is the brief's
	var said []string
	for _, one := range x.taken {
		c := choice(x.data.Speech, one, true)
		said = append(said, strings.ToLower(c.Name)+" "+c.Text)
	}
	pa.Change = "As it was made in " + m.Tag + ": " + strings.Join(said, "; ") + "."
	if pa, err = p.studio.SavePaper(ctx, pa); err != nil {
		return b, err
	}
	b.PaperRevision = pa.Revision
	return p.studio.SaveBrief(ctx, b)
}
