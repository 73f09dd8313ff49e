// Package making is the page of one production run: its card as it was
// planned, where it stands, what is missing, what looks odd, all that was
// written down with every correction, and what it taught. The list of all
// makings is here too.
package making

import (
	"context"
	"embed"
	"net/http"
	"time"

	"vatside/internal/belief"
	"vatside/internal/paperwork"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

//go:embed *.html
var files embed.FS

var (
	listTemplate = page.Must(files, "list.html")
	template     = page.Must(files, "making.html", "card.html")
)

// Studio is what the page asks of the records.
type Studio interface {
	Makings(ctx context.Context, f studio.MakingFilter) ([]studio.Making, error)
	Find(ctx context.Context, w studio.Wanted) ([]studio.Match, error)
	Making(ctx context.Context, id string) (studio.Making, error)
	Events(ctx context.Context, makingID string) ([]studio.Event, error)
	Learned
	Beaten
}

// Learned is what the makings taught, and the plans that follow from it.
type Learned interface {
	Observations(ctx context.Context, f studio.ObservationFilter) ([]belief.Observation, error)
	Known(ctx context.Context) (belief.Known, error)
	PlanBrief(ctx context.Context, b studio.Brief) (plan.Request, plan.Plan, error)
}

// Page answers for makings.
type Page struct {
	frame  *page.Frame
	studio Studio
	codes  Codes
	now    func() time.Time
}

// New returns the pages of makings over the records, by the studio's clock;
// codes reads pictures of tags.
func New(f *page.Frame, s Studio, codes Codes, now func() time.Time) *Page {
	return &Page{f, s, codes, now}
}

// Data is what the template of one making sets.
type Data struct {
	page.Base
	ID       string
	Tag      string
	Paper    string
	PaperID  string
	BriefID  string
	Stage    string
	Begun    string
	Recorded bool // something is written down
	Closed   bool
	Followed bool   // its run can be looked back on
	Saved    string // the form a card was just saved from: its draft can go
	Missing  []string
	Odd      []studio.Flag
	Counts   []Count
	Measured []Finding
	Photos   page.Album
	Left     []Left
	History  []Entry
	Taught   Taught
	Card     paperwork.Card
}

// Count is one number of the record, with its name.
type Count struct {
	Name, Value string
}

// Show shows one making.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	ctx := r.Context()
	m, err := p.studio.Making(ctx, r.PathValue("id"))
	if err != nil {
		return err
	}
	events, err := p.studio.Events(ctx, m.ID)
	if err != nil {
		return err
	}
	base, err := p.frame.Base(w, r, m.PaperName+", "+m.Tag, page.Makings)
	if err != nil {
		return err
	}
	state := studio.Replay(m, events)
	now := p.now()
	d := Data{
		Base: base, ID: m.ID, Tag: m.Tag, Paper: m.PaperName, PaperID: m.PaperID, BriefID: m.BriefID,
		Stage: string(m.Progress.Stage), Begun: part.Since(m.Created, now), Recorded: len(events) > 0, Closed: state.Closed,
		Saved: r.URL.Query().Get("saved"), Odd: state.Odd, Counts: counts(base.Speech, state),
		History: history(base.Speech, m, events, now),
		Card:    paperwork.FromPlan(paperwork.Making{Tag: m.Tag, Paper: m.PaperName, Date: m.Created}, m.Request, m.Plan, base.Speech.System),
	}
	for i, odd := range d.Odd {
		d.Odd[i].Text = part.Upper(odd.Text)
	}
	if _, err := studio.RunPrior(m.Request, m.Plan); err == nil {
		d.Followed = state.Couched > 0
	}
	if !state.Closed {
		d.Missing = state.Missing
	}
	d.Measured = findings(base.Speech, m, state)
	d.Photos = album(m.ID, state, now)
	if d.Left, err = p.left(ctx, base.Speech, m, state); err != nil {
		return err
	}
	if d.Taught, err = p.taught(ctx, base.Speech, m, state); err != nil {
		return err
	}
	return template.Write(w, http.StatusOK, d)
}
