// Package cook is the pages of raw fibre: what a harvest makes, the card of a
// cook with its cautions, its log, and its end on the shelf.
//
// The question stands in the address and keeps nothing; only starting a cook
// writes one down. Missing: rags and waste paper that are cleaned, not cooked.
package cook

import (
	"context"
	"embed"
	"strings"
	"time"

	"vatside/internal/ask"
	"vatside/internal/cookery"
	"vatside/internal/cooking"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

//go:embed *.html
var files embed.FS

var (
	newTemplate  = page.Must(files, "new.html", "answer.html")
	listTemplate = page.Must(files, "list.html")
	logTemplate  = page.Must(files, "log.html", "answer.html")
	helpTemplate = page.Must(files, "help.html")
)

// Studio is what the pages ask of the records.
type Studio interface {
	Profile(ctx context.Context) (studio.Profile, error)
	Lots(ctx context.Context, f studio.LotFilter) ([]studio.Lot, error)
	Shelf
}

// Shelf is where raw fibre comes from and cooked fibre goes.
type Shelf interface {
	TakeToCook(ctx context.Context, lot string, m studio.Movement) error
	SaveLot(ctx context.Context, l studio.Lot, first studio.Movement) (studio.Lot, error)
}

// Page answers for raw fibre.
type Page struct {
	frame  *page.Frame
	studio Studio
	cooks  *cookery.Service
	now    func() time.Time
}

// New returns the pages over the records and the cooks, by the studio's clock.
func New(f *page.Frame, s Studio, c *cookery.Service, now func() time.Time) *Page {
	return &Page{f, s, c, now}
}

// asked is a question as it was read.
type asked struct {
	speech  part.Speech
	profile studio.Profile
	shelf   fibre.Shelf
	lots    []studio.Lot // of raw fibre
	known   cookery.Known
	safety  cookery.Safety

	fibre   fibre.Fibre
	lot     *studio.Lot
	harvest cookery.Harvest
	alkali  cooking.Alkali
	doseG   float64    // of alkali, where it was said by mass or by the spoon
	spoon   [2]float64 // what spoons may weigh, g
	request ask.CookRequest
	chain   cookery.Chain
	answer  ask.CookAnswer
}

// kinds are the fields with a bare unit that other units change.
var kinds = map[string]measure.Kind{
	"amount": measure.OfMass, "handful": measure.OfMass, "dried": measure.OfMass, "size": measure.OfLength, "pot-holds": measure.OfVolume,
	"simmer": measure.OfTemperature, "water": measure.OfTemperature, "dissolve": measure.OfVolume, "altitude": measure.OfAltitude,
}

// begin reads what a question is asked against.
func (p *Page) begin(ctx context.Context, f *page.Form, s part.Speech) (*asked, error) {
	q := &asked{speech: s}
	if typed := page.ReadSystem(f.Get("system")); f.Values.Has("system") && typed != s.System {
		was := part.Speech{System: typed}
		for name, kind := range kinds {
			if text := f.Get(name); text != "" && strings.Trim(text, "0123456789.,/ x×X-") == "" {
				f.Values.Set(name, text+" "+was.Bare(kind))
			}
		}
	}
	var err error
	if q.profile, err = p.studio.Profile(ctx); err != nil {
		return nil, err
	}
	q.shelf = part.Shelf(q.profile.Kit)
	lots, err := p.studio.Lots(ctx, studio.LotFilter{Open: true})
	if err != nil {
		return nil, err
	}
	q.lots = rawLots(q.shelf, lots)
	if q.known, err = p.cooks.Known(ctx); err != nil {
		return nil, err
	}
	q.safety, err = p.cooks.Safety(ctx)
	return q, err
}
