package studio

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"

	"gonum.org/v1/gonum/stat"

	"vatside/internal/plan"
)

// restAtVat is how long after its last sheet a making counts as drying rather
// than at the vat, h. Ours: longer than any pause, shorter than a night and a
// morning.
const restAtVat = 12 * time.Hour

// Bench is what stands on the bench today.
type Bench struct {
	AtVat    []BenchItem
	Drying   []BenchItem
	Waiting  []BenchItem // to be begun, to be sorted, to be closed
	Promised []Promise   // the earliest first
}

// BenchItem is one making on the bench.
type BenchItem struct {
	Making Making
	State  State
	Stage  Stage
	Since  time.Time // the last thing that happened to it; before that, when it was begun
	Next   string    // what comes next, in words
}

// Promise is a brief that is not settled.
type Promise struct {
	Brief     Brief
	PaperName string
	Good      int  // good sheets graded so far
	DaysLeft  *int // nil: no date; negative: overdue
}

// progress is what lists show of a state; it does not depend on the time of day.
func progress(m Making, s State) Progress {
	p := Progress{Couched: s.Couched, Good: s.Grades.Good, Since: s.Last, Gist: gist(m, s)}
	planned := int(m.Plan.Figures["sheets_couched"].Value)
	switch {
	case s.Closed:
		p.Stage = Done
	case len(s.Dry) > 0 || s.Graded:
		p.Stage = Sorting
	case planned > 0 && s.Couched >= planned:
		p.Stage = Drying
	case !s.LastParting.IsZero() && s.LastParting.After(s.LastAtVat):
		p.Stage = Drying
	case !s.LastAtVat.IsZero():
		p.Stage = AtVat
	default:
		p.Stage = Preparing
	}
	return p
}

// Wanted is what a maker knows of a sheet in the hand. What is not known is
// zero.
type Wanted struct {
	Words     []string // found by their beginnings
	Colour    string   // by words: ColourWords
	Fibre     string
	Use       string
	Customer  string
	GrammageG float64 // g/m²
	CaliperMM float64
	From, To  time.Time // made between
	Limit     int
}

// Match is a making that may be the one, with how far it is off in each thing
// asked for: 0 fits, 1 does not at all.
type Match struct {
	Making Making // without request and plan
	Off    map[string]float64
	Total  float64
}

// What a match may be off in; a word of those asked for has "word " before it.
const (
	OffColour   = "colour"
	OffFibre    = "fibre"
	OffUse      = "use"
	OffCustomer = "customer"
	OffGrammage = "grammage"
	OffCaliper  = "caliper"
	OffDate     = "date"
	OffWord     = "word "
)

// Find lists makings that may be the one wanted, the nearest first; those that
// fit in nothing are left out.
func (s *Service) Find(ctx context.Context, w Wanted) ([]Match, error) {
	var list []Match
	err := s.readDerived(ctx, func(tx Tx) (err error) {
		list, err = tx.Nearest(ctx, w)
		return err
	})
	return list, err
}

// hues are other words for a colour: shades, and the dyes and pigments that
// usually give it (common practice). The list is ours, and short.
var hues = map[string]string{
	"white":  "bleached titanium chalk",
	"cream":  "ivory ecru natural unbleached buff",
	"yellow": "ochre weld turmeric gold saffron",
	"orange": "rust annatto terracotta",
	"red":    "madder cochineal crimson scarlet vermilion",
	"pink":   "rose blush",
	"purple": "violet lilac mauve logwood",
	"blue":   "indigo woad ultramarine navy azure denim",
	"green":  "olive moss sage verdigris",
	"brown":  "walnut umber sienna sepia coffee",
	"grey":   "gray slate graphite silver",
	"black":  "carbon soot charcoal",
}

// ColourWords are the words a colour is looked for by: itself and, of a colour
// that has a list of its own, shades of it and what usually gives it. Where one
// of the words is such a colour, the others ("dark", "pale") are left out.
func ColourWords(typed string) []string {
	words := strings.FieldsFunc(strings.ToLower(typed), func(r rune) bool { return !unicode.IsLetter(r) })
	var known []string
	for _, w := range words {
		if w == "gray" {
			w = "grey"
		}
		if more, ok := hues[w]; ok {
			known = append(append(known, w), strings.Fields(more)...)
		}
	}
	if len(known) > 0 {
		return known
	}
	return words
}

// gist is the short of a making.
func gist(m Making, s State) Gist {
	d := m.Request.Paper
	parts := slices.Clone(d.Furnish)
	slices.SortStableFunc(parts, func(a, b plan.Part) int { return cmp.Compare(b.SharePct, a.SharePct) })
	var fibres, words []string
	for _, p := range parts {
		fibres = append(fibres, p.Fibre)
	}
	for _, a := range d.Additives {
		words = append(words, a.Kind)
	}
	for _, r := range s.Remarks {
		words = append(words, r.Text)
	}
	for _, h := range s.Hands {
		words = append(words, h.Handle, h.Rattle, h.Tooth, h.Remark)
	}
	for _, a := range s.Added {
		words = append(words, a.What, a.When)
	}
	for _, w := range s.Spoilt {
		words = append(words, w.Why)
	}
	for _, l := range m.Plan.Weigh { // a lot's name often says its colour
		words = append(words, l.Lot)
	}
	for _, f := range m.Request.Studio.Fibres {
		if slices.Contains(fibres, f.Name) {
			words = append(words, f.Note)
		}
	}
	for _, p := range s.Photos {
		words = append(words, p.Caption)
	}
	g := Gist{Furnish: strings.Join(fibres, ", "), Use: d.Use}
	g.Words = strings.Join(append(words, m.Tag, m.PaperName, g.Furnish, d.Use, d.Finish, d.SurfaceSize, d.Drying, d.Forming), "\n")
	if w := d.GrammageConditioned; w > 0 {
		g.GrammageG = &w
	}
	if v, ok := Grammage(m, s); ok {
		g.GrammageG = new(float64(v))
	}
	g.measured(m, s)
	return g
}

// measured takes over what was measured of the dry sheets, and the hands.
func (g *Gist) measured(m Making, s State) {
	long, short := s.Size(m.Request.Sheet)
	if long > 0 && short > 0 {
		g.LongMM, g.ShortMM = &long, &short
	}
	if l, w := m.Plan.Figures["formed_long_mm"].Value, m.Plan.Figures["formed_short_mm"].Value; len(s.Sizes) > 0 && l > 0 && w > 0 {
		g.ShrinkPct = new(100 * (2 - long/l - short/w) / 2)
	}
	if caliper := s.Thicknesses(); len(caliper) > 0 {
		g.CaliperMM = new(stat.Mean(caliper, nil))
	}
	if s.Graded && s.Couched > 0 {
		g.GoodPct = new(100 * float64(s.Grades.Good) / float64(s.Couched))
	}
	if len(s.Minutes) > 0 {
		total := 0.0
		for _, v := range s.Minutes {
			total += v
		}
		g.HandsMin = &total
	}
}

// Bench returns what is at the vat, drying, waiting and promised, as the
// records have it now.
func (s *Service) Bench(ctx context.Context) (Bench, error) {
	var b Bench
	now := s.now()
	err := s.store.Read(ctx, func(tx Tx) error {
		b = Bench{}
		open, err := tx.Makings(ctx, MakingFilter{Open: true})
		if err != nil {
			return err
		}
		for _, m := range open {
			events, err := tx.Events(ctx, m.ID)
			if err != nil {
				return err
			}
			b.put(benchItem(m, Replay(m, events), now))
		}
		b.Promised, err = promises(ctx, tx, now)
		return err
	})
	return b, err
}

func (b *Bench) put(item BenchItem) {
	switch item.Stage {
	case AtVat:
		b.AtVat = append(b.AtVat, item)
	case Drying:
		b.Drying = append(b.Drying, item)
	default:
		b.Waiting = append(b.Waiting, item)
	}
}

func benchItem(m Making, s State, now time.Time) BenchItem {
	p := progress(m, s)
	item := BenchItem{Making: m, State: s, Stage: p.Stage, Since: p.Since}
	if item.Since.IsZero() {
		item.Since = m.Created
	}
	if item.Stage == AtVat && now.Sub(s.LastAtVat) > restAtVat {
		item.Stage = Drying
	}
	planned := int(m.Plan.Figures["sheets_couched"].Value)
	switch item.Stage {
	case Preparing:
		item.Next = "weigh out, beat and fill the vat"
	case AtVat:
		item.Next = fmt.Sprintf("%d sheets couched", s.Couched)
		if planned > 0 {
			item.Next = fmt.Sprintf("%d of %d sheets couched", s.Couched, planned)
		}
	case Drying:
		item.Next = "when dry: weigh, measure, grade"
	case Sorting:
		item.Next = "grade against the light"
		if s.Graded {
			item.Next = "close the record"
		}
	}
	return item
}

// promises lists the briefs not settled, the earliest wanted first.
func promises(ctx context.Context, tx Tx, now time.Time) ([]Promise, error) {
	briefs, err := tx.Briefs(ctx, BriefFilter{Open: true})
	if err != nil {
		return nil, err
	}
	papers, err := tx.Papers(ctx, PaperFilter{})
	if err != nil {
		return nil, err
	}
	var list []Promise
	for _, b := range briefs {
		p := Promise{Brief: b}
		if i := slices.IndexFunc(papers, func(q Paper) bool { return q.ID == b.PaperID }); i >= 0 {
			p.PaperName = papers[i].Name
		}
		makings, err := tx.Makings(ctx, MakingFilter{BriefID: b.ID, Light: true})
		if err != nil {
			return nil, err
		}
		for _, m := range makings {
			p.Good += m.Progress.Good
		}
		if day, err := time.Parse(time.DateOnly, b.WantedBy); err == nil {
			y, mo, d := now.Date() // the studio's own day
			left := int(day.Sub(time.Date(y, mo, d, 0, 0, 0, 0, time.UTC)) / (24 * time.Hour))
			p.DaysLeft = &left
		}
		list = append(list, p)
	}
	return list, nil
}
