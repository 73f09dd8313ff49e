// Package cook is the pages of raw fibre: what a harvest makes, the card of a
// cook with its cautions, its log, and its end on the shelf.
//
// The question stands in the address and keeps nothing; only starting a cook
// writes one down. Missing: rags and waste paper that are cleaned, not cooked.
package cook

import (
	"context"
	"embed"
	"time"

	"vatside/internal/cookery"
	"vatside/internal/studio"
	"vatside/internal/web/page"
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
