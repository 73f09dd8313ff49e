package cook

import (
	"context"
	"strings"

	"vatside/internal/ask"
	"vatside/internal/cookery"
	"vatside/internal/cooking"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

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
