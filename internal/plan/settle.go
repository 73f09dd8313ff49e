package plan

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"vatside/internal/fibre"
	"vatside/internal/furnish"
	"vatside/internal/measure"
	"vatside/internal/sheet"
	"vatside/internal/sizing"
	"vatside/internal/source"
)

// What is taken where neither the request nor the studio says otherwise.
// Common practice of small studios; each use is told in a warning.
const (
	usualVat        = 80.0  // L
	usualLeastShare = 0.75  // of the vat: below that a mould no longer dips
	UsualStock      = 30.0  // g/L
	UsualJug        = 1000  // mL
	usualRated      = 680.0 // g, a common small beater [hollander-beaters-1998]
	usualBeaterL    = 22.7  // L, the same
	usualPress      = 60.0  // kN, a six-ton bottle jack [bottle-jack-press-page]
	usualFelts      = 24
	usualPlaces     = 20
	usualAirflow    = 0.03 // m³/s
	usualTemp       = 20.0 // °C
	usualRH         = 50.0 // %
	usualRate       = 25.0 // an hour, from memory
	usualDay        = 6.0  // hands-on hours a day
	usualConfidence = 95.0
	usualTests      = 3
	usualTolerance  = 8.0
	UsualWithin     = 90.0
	usualTrim       = 5.0  // mm an edge
	dipConsistency  = 3.5  // g/L for several dips; 2–5 g/L, from memory
	dipDepth        = 6.0  // mm a dip, from memory
	usualDepth      = 20.0 // mm, the effective depth of one dip, from memory
)

// part is one fibre of the furnish with its row of the handbook, how long it is
// beaten, and what the shelf holds of it.
type part struct {
	fibre.Fibre
	share float64
	hours measure.Hours
	alone bool    // beaten by itself
	price float64 // per kg as bought
	given bool    // the price is the maker's
	lots  []Lot   // of this fibre, in order
	raw   bool    // it is cooked first
}

// additive is one additive of the paper with its row of the handbook.
type additive struct {
	Additive
	row      furnish.Additive
	kept     source.Value
	strength float64 // active over product
}

// settled is a request with every gap filled, and what was filled from
// nowhere better than common practice.
type settled struct {
	Request
	parts                       []part
	shape                       string
	forming, drying, edges, use string
	hours                       measure.Hours // the mean over the furnish
	conf, tolerance, within     float64
	tests, good                 int
	kit
	trim, toleranceLong, tolShort float64
	dose                          measure.Dose
	additives                     []additive // in the order in which they go in
	surface                       *sizing.Surface
	bath                          sizing.BathStrength
	way                           sizing.Way
	assumed                       []string
	signature                     string // furnish and beating, for belief keys
	mould                         string // that a depth is learned on
}

// settle fills what the request leaves open. The request has passed Check.
func settle(r Request) (settled, error) {
	s := settled{Request: r}
	s.forming, s.edges, s.shape = or(r.Paper.Forming, "western"), or(r.Sheet.Edges, "deckle"), or(r.Sheet.Shape, sheet.Rectangle)
	s.use = strings.ToLower(strings.TrimSpace(r.Paper.Use))
	s.conf = deref(r.ConfidencePct, usualConfidence) / 100
	s.tolerance = deref(r.Paper.TolerancePct, usualTolerance) / 100
	s.within = deref(r.Paper.ShareWithinPct, UsualWithin) / 100
	s.tests = usualTests
	if r.TestSheets != nil {
		s.tests = *r.TestSheets
	}
	if r.GoodSheets != nil {
		s.good = *r.GoodSheets
	}
	shelf, err := fibre.NewShelf(r.Studio.Fibres)
	if err != nil {
		return s, err
	}
	for _, p := range r.Paper.Furnish {
		f, err := shelf.Find("paper.furnish", p.Fibre)
		if err != nil {
			return s, err
		}
		s.parts = append(s.parts, s.partOf(shelf, f, p))
	}
	s.settleAdditives(r.Paper)
	s.drying = r.Paper.Drying
	if s.drying == "" {
		s.drying = "stack"
		s.assume("drying in a stack between blotters")
	}
	s.settleKit(r.Studio)
	s.settleBeating(r.Paper)
	s.trim = deref(r.Sheet.TrimMM, usualTrim)
	tol := func(side float64) float64 {
		return deref(r.Sheet.ToleranceMM, math.Max(3, 0.02*side))
	}
	s.toleranceLong, s.tolShort = tol(r.Sheet.LongMM), tol(r.Sheet.ShortMM)
	s.signature, s.mould = s.sign(), mouldOf(r)
	return s, nil
}

// partOf is a share of the furnish with what the shelf holds of it: a price the
// request gives goes before the price of the lot it is drawn from first.
func (s *settled) partOf(shelf fibre.Shelf, f fibre.Fibre, p Part) part {
	out := part{Fibre: f, share: p.SharePct / 100, price: f.Price.Mid}
	for _, l := range s.Studio.Lots {
		if held, ok := shelf.Get(l.What); ok && held.Name == f.Name {
			out.lots = append(out.lots, l)
		}
	}
	if p.PriceKg == nil && len(out.lots) > 0 {
		p.PriceKg = out.lots[0].PriceKg
	}
	if p.PriceKg != nil {
		out.price, out.given = *p.PriceKg, true
	}
	out.raw = f.MustCook() && !deref(p.Cooked, false)
	if cooked := func(l Lot) bool { return l.Cooked }; f.MustCook() && !out.raw && slices.ContainsFunc(out.lots, cooked) {
		out.lots = slices.DeleteFunc(out.lots, func(l Lot) bool { return !l.Cooked && !l.Beaten }) // what is raw is not what is asked for
	}
	if p.BeatingHours != nil {
		out.hours, out.alone = measure.Hours(*p.BeatingHours), true
	}
	return out
}

// settleAdditives finds the additives and the surface size in the handbook.
func (s *settled) settleAdditives(p Paper) {
	aided := slices.ContainsFunc(p.Additives, func(a Additive) bool { return furnish.Any(a.Kind).Group == furnish.RetentionAid })
	for _, a := range p.Additives {
		row := furnish.Any(a.Kind)
		out := additive{Additive: a, row: row, kept: row.Kept(aided), strength: 1}
		switch {
		case a.StrengthPct != nil:
			out.strength = *a.StrengthPct / 100
		case row.Strength.Known():
			out.strength = row.Strength.Mid
			if a.DosePct > 0 && out.strength < 1 {
				s.assume("%s of %.3g %% strength", row.Name, out.strength*100)
			}
		}
		s.dose += measure.Dose(a.DosePct / 100)
		s.additives = append(s.additives, out)
	}
	slices.SortStableFunc(s.additives, func(a, b additive) int { return a.row.Turn() - b.row.Turn() })
	if size, err := sizing.Find("paper.surface_size", p.SurfaceSize); err == nil {
		s.surface, s.bath = &size, sizing.BathStrength(size.Bath.Mid)
		if p.SurfaceBathPct != nil {
			s.bath = sizing.BathStrength(*p.SurfaceBathPct / 100)
		} else {
			s.assume("a bath of %.3g %% %s", size.Bath.Mid*100, size.Name)
		}
		s.way = sizing.Way(or(p.SurfaceWay, string(sizing.Dipped)))
	}
}

// settleBeating gives every part its hours: its own, those of the paper, or,
// where nobody says, those of the part that wants longest.
func (s *settled) settleBeating(p Paper) {
	together := measure.Hours(0)
	if p.BeatingHours != nil {
		together = measure.Hours(*p.BeatingHours)
	} else {
		said := true
		for _, part := range s.parts {
			if part.alone {
				continue
			}
			said = false
			v, ok := part.HoursFor(s.use)
			if !ok {
				v, _ = part.HoursFor("")
			}
			together = max(together, measure.Hours(v.Mid))
		}
		if !said {
			s.assume("%.2g h of beating", float64(together))
		}
	}
	for i := range s.parts {
		if !s.parts[i].alone {
			s.parts[i].hours = together
		}
		s.hours += measure.Hours(s.parts[i].share) * s.parts[i].hours
	}
}

func (s *settled) taken(v *float64, usual float64, words string) float64 {
	if v != nil {
		return *v
	}
	s.assume(words, usual)
	return usual
}

func (s *settled) assume(words string, args ...any) {
	s.assumed = append(s.assumed, fmt.Sprintf(words, args...))
}

// sign names the stock: fibres with shares, largest first, and the hours they
// are beaten, so that evidence is kept for the stock it came from.
func (s *settled) sign() string {
	names := make([]string, len(s.parts))
	order := append([]part(nil), s.parts...)
	sort.SliceStable(order, func(i, j int) bool { return order[i].share > order[j].share })
	for i, p := range order {
		names[i] = fmt.Sprintf("%s %.0f", p.Name, p.share*100)
		if p.alone {
			names[i] += fmt.Sprintf(" (%.3g h)", float64(p.hours))
		}
	}
	return fmt.Sprintf("%s, %.3g h", strings.Join(names, " + "), float64(s.hours))
}

// mix returns the mean of a value over the furnish by share.
func (s *settled) mix(of func(part) float64) float64 {
	sum := 0.0
	for _, p := range s.parts {
		sum += p.share * of(p)
	}
	return sum
}

func or(s, usual string) string {
	if strings.TrimSpace(s) == "" {
		return usual
	}
	return s
}

func deref[T any](v *T, usual T) T {
	if v == nil {
		return usual
	}
	return *v
}
