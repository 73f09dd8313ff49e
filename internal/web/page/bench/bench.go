// Package bench is the page the program opens on: what is at the vat, drying
// and waiting, what is promised, and what must be turned or used today.
package bench

import (
	"context"
	"embed"
	"fmt"
	"net/http"
	"time"

	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

//go:embed *.html
var files embed.FS

var template = page.Must(files, "bench.html")

// Studio is what the bench asks of the records.
type Studio interface {
	Bench(ctx context.Context) (studio.Bench, error)
	Lots(ctx context.Context, f studio.LotFilter) ([]studio.Lot, error)
}

// Page answers for the bench.
type Page struct {
	frame  *page.Frame
	studio Studio
	now    func() time.Time
}

// New returns the bench over the records, by the studio's clock.
func New(f *page.Frame, s Studio, now func() time.Time) *Page {
	return &Page{frame: f, studio: s, now: now}
}

// Data is what the template sets.
type Data struct {
	page.Base
	Day      string
	Today    []string // what must be done today
	Use      []Use    // what spoils otherwise
	Columns  []Column
	Promised []Promise
	Quiet    bool // nothing stands anywhere
}

// Column is one part of the bench.
type Column struct {
	Name  string
	Items []Item
	Empty string
}

// Item is one making on the bench.
type Item struct {
	Href, Tag, Paper, Next, Since string
	Vat                           string // where it is counted; "" once all is couched
}

// Promise is one brief that is not settled.
type Promise struct {
	Href, Paper, Size, Count, When string
	Late                           bool
}

// Show shows the bench.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Bench", page.Bench)
	if err != nil {
		return err
	}
	if base.Setting.New && !base.Setting.Seen.Makings {
		return page.See(w, r, "/welcome")
	}
	b, err := p.studio.Bench(r.Context())
	if err != nil {
		return err
	}
	lots, err := p.studio.Lots(r.Context(), studio.LotFilter{Open: true})
	if err != nil {
		return err
	}
	d := fill(base, b, p.now())
	d.Use = spoils(base.Speech, lots, p.now())
	return template.Write(w, http.StatusOK, d)
}

func fill(base page.Base, b studio.Bench, now time.Time) Data {
	d := Data{Base: base, Day: now.Format("Monday 2 January")}
	d.Columns = []Column{
		{"At the vat", items(b.AtVat, now), "The vat is empty."},
		{"Drying", items(b.Drying, now), "Nothing is drying."},
		{"Waiting", items(b.Waiting, now), "Nothing waits to be begun or sorted."},
	}
	for _, it := range b.Drying {
		if days(it.Since, now) >= 1 {
			d.Today = append(d.Today, fmt.Sprintf("Turn or change %s (%s): it has been drying since %s.", it.Making.PaperName, it.Making.Tag, part.Since(it.Since, now)))
		}
	}
	for _, pr := range b.Promised {
		d.Promised = append(d.Promised, promise(base.Speech, pr))
		if pr.DaysLeft != nil && *pr.DaysLeft <= 0 {
			verb := "is wanted"
			if *pr.DaysLeft < 0 {
				verb = "is"
			}
			d.Today = append(d.Today, fmt.Sprintf("%s %s %s: %s.", pr.PaperName, verb, when(*pr.DaysLeft), count(pr)))
		}
	}
	d.Quiet = len(b.AtVat)+len(b.Drying)+len(b.Waiting)+len(b.Promised) == 0
	return d
}

func items(list []studio.BenchItem, now time.Time) []Item {
	var out []Item
	for _, it := range list {
		item := Item{
			Href: "/makings/" + it.Making.ID, Tag: it.Making.Tag, Paper: it.Making.PaperName,
			Next: part.Upper(it.Next), Since: "since " + part.Since(it.Since, now),
		}
		if it.Stage == studio.AtVat || it.Stage == studio.Preparing {
			item.Vat = item.Href + "/vat"
		}
		out = append(out, item)
	}
	return out
}

func promise(s part.Speech, pr studio.Promise) Promise {
	p := Promise{
		Href: "/briefs/" + pr.Brief.ID, Paper: pr.PaperName,
		Size: s.SizeName(pr.Brief.Sheet.LongMM, pr.Brief.Sheet.ShortMM), Count: count(pr),
		When: "no date",
	}
	if pr.DaysLeft != nil {
		p.When, p.Late = when(*pr.DaysLeft), *pr.DaysLeft < 0
	}
	return p
}
