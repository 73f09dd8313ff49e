package studio

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/furnish"
	"vatside/internal/measure"
	"vatside/internal/plan"
)

// LotForm is how a lot lies on the shelf.
type LotForm string

// The forms.
const (
	AsBought LotForm = "as bought"
	WetStock LotForm = "stock"  // beaten, with its water
	Scraps   LotForm = "scraps" // beaten once: broke, trimmings
	Sheets   LotForm = "sheets" // finished, good
	Retree   LotForm = "retree" // finished, with small faults
)

// LotForms lists the forms.
func LotForms() []LotForm { return []LotForm{AsBought, WetStock, Scraps, Sheets, Retree} }

// Lot is fibre or an additive on the shelf, as it lies, or finished sheets. How
// much there is of it is the sum of its movements; nothing else changes it.
// Finished sheets are counted: each counts for what a sheet weighed when the
// first came, whatever it weighs today.
type Lot struct {
	ID          string
	Name        string // no two lots share one: the printed card names them
	What        string // the fibre or additive, by the handbook's or the studio's name where they have it; the paper
	Form        LotForm
	MoisturePct *float64 // water in what the scale says; nil: not known
	PriceKg     *float64 // as it lies
	Currency    string   // of the price
	Since       string   // the day it was bought or kept
	KeepBy      string   // the day it must be used by; empty: it keeps
	FromMaking  string   // what it was left from; empty: none
	Cooked      bool     // raw fibre that was cooked and not beaten yet
	Note        string
	SheetG      float64 // of finished sheets, what one counts for; 0: it is none
	GrammageG   float64 // of finished sheets, g/m²; 0: not known
	AmountG     float64 // of all movements; read, never written
	Revision    int
	By          string // the device or window that saved it
	Created     time.Time
	Changed     time.Time
}

// LotFilter narrows a list of lots; its zero value asks for all, oldest first.
type LotFilter struct {
	ID         string
	Name       string // in any case
	FromMaking string
	Open       bool // only those with something left
}

// Finished reports whether the lot is finished sheets, which are counted.
func (l Lot) Finished() bool { return l.Form == Sheets || l.Form == Retree }

// Count is how many finished sheets a mass of them is.
func (l Lot) Count(grams float64) int {
	if l.SheetG <= 0 {
		return 0
	}
	return int(math.Round(grams / l.SheetG))
}

// Dry is the lot's mass without its water; false where the moisture is not
// known.
func (l Lot) Dry() (measure.Mass, bool) {
	if l.MoisturePct == nil || l.AmountG <= 0 {
		return 0, false
	}
	// By definition of the wet basis; furnish.DryOfLot has no stock as thin.
	return measure.Mass(l.AmountG * (1 - *l.MoisturePct/100)), true
}

// PastKeepBy reports whether a day is after the last it should be used on.
func (l Lot) PastKeepBy(day time.Time) bool {
	return l.KeepBy != "" && day.Format(time.DateOnly) > l.KeepBy
}

// MostMoisture bounds the water in a lot, %: stock thinner than 10 g/L is no
// store of fibre, and plans take no more.
const MostMoisture = 99

func (l Lot) check() error {
	var faults fault.List
	if l.What == "" {
		faults.Add(fault.Invalid("what", "say which fibre or additive it is"))
	}
	checkText(&faults, "name", l.Name, shortText)
	checkText(&faults, "what", l.What, shortText)
	checkText(&faults, "note", l.Note, longText)
	if !slices.Contains(LotForms(), l.Form) {
		faults.Add(fault.Invalid("form", "a lot is as bought, stock, scraps or finished sheets"))
	}
	if l.Finished() && l.ID == "" && !(l.SheetG > 0) {
		faults.Add(fault.Invalid("form", "finished sheets are put on the shelf from the page of their making, once they are sorted"))
	}
	if l.MoisturePct != nil {
		checkNumber(&faults, "moisture", *l.MoisturePct, 0, MostMoisture, "% water")
	} else if l.Form == WetStock {
		faults.Add(fault.Invalid("moisture", "say how thick the stock is"))
	}
	if l.PriceKg != nil {
		checkNumber(&faults, "price", *l.PriceKg, 0, 10000, "a kilogram")
	}
	checkDay(&faults, "since", l.Since)
	if l.KeepBy != "" {
		checkDay(&faults, "keep_by", l.KeepBy)
	}
	return faults.OrNil()
}

func checkDay(faults *fault.List, field, day string) {
	t, err := time.Parse(time.DateOnly, day)
	if err != nil {
		faults.Add(fault.Invalid(field, "write the date as year-month-day, such as 2026-12-01"))
		return
	}
	checkTime(faults, field, t)
}

// Lots lists what lies on the shelf, the oldest first.
func (s *Service) Lots(ctx context.Context, f LotFilter) ([]Lot, error) {
	var list []Lot
	err := s.store.Read(ctx, func(tx Tx) (err error) {
		list, err = tx.Lots(ctx, f)
		return err
	})
	return list, err
}

// Lot returns one lot and its movements. Faults: NotFound.
func (s *Service) Lot(ctx context.Context, id string) (l Lot, moved []Movement, err error) {
	err = s.store.Read(ctx, func(tx Tx) error {
		list, err := tx.Lots(ctx, LotFilter{ID: id})
		if l, err = one(list, err, "there is no such lot"); err != nil {
			return err
		}
		moved, err = tx.Movements(ctx, MovementFilter{LotID: id})
		return err
	})
	return l, moved, err
}

// SaveLot saves what is said of a lot and returns it at its new revision; its
// amount stays as it is. Without an ID it is new, and first names the movement
// that brings it in; a first that was sent before returns the lot it made.
// Faults: Invalid, OutOfRange; NotFound; Conflict when it was saved by another
// in between, or when first was sent before with something else in it.
func (s *Service) SaveLot(ctx context.Context, l Lot, first Movement) (Lot, error) {
	l.Name, l.What = strings.TrimSpace(l.Name), strings.TrimSpace(l.What)
	if l.Since == "" {
		l.Since = s.now().Format(time.DateOnly)
	}
	err := l.check()
	if l.ID == "" {
		first.Kind, first.LotID = Received, "new"
		_, bad := first.tidy(s.now())
		err = fault.First(err, bad)
	}
	if err != nil {
		return Lot{}, err
	}
	err = s.store.Write(ctx, func(tx Tx) error { return s.putLot(ctx, tx, &l, first) })
	return l, err
}

// putLot writes a lot that was checked and, if it is new, what it comes in with.
func (s *Service) putLot(ctx context.Context, tx Tx, l *Lot, first Movement) error {
	profile, err := tx.Profile(ctx)
	if err != nil {
		return err
	}
	now := s.second()
	if l.ID == "" {
		there, err := tx.Movements(ctx, MovementFilter{ID: first.ID})
		if err != nil {
			return err
		}
		if len(there) > 0 {
			return again(ctx, tx, l, called(profile.Kit, l.What), first, there[0])
		}
		l.ID, l.Created, l.Currency, l.Revision = s.newID(), now, profile.Currency, 0
	} else {
		old, err := lotOf(ctx, tx, l.ID)
		if err != nil {
			return err
		}
		if old.Revision != l.Revision {
			return s.stale("this lot", old.By, old.Changed)
		}
		if l.Finished() != old.Finished() {
			return fault.Invalid("form", "finished sheets stay finished sheets, and nothing else becomes some")
		}
		l.Created, l.FromMaking, l.AmountG, l.Currency = old.Created, old.FromMaking, old.AmountG, old.Currency
		l.SheetG, l.GrammageG = old.SheetG, old.GrammageG
		if l.PriceKg != nil && (old.PriceKg == nil || *old.PriceKg != *l.PriceKg) {
			l.Currency = profile.Currency
		}
	}
	if !l.Finished() {
		l.What = called(profile.Kit, l.What)
	}
	if err := s.nameLot(ctx, tx, l); err != nil {
		return err
	}
	l.Revision, l.Changed = l.Revision+1, now
	if err := tx.PutLot(ctx, *l); err != nil || first.ID == "" || l.Revision > 1 {
		return err
	}
	first.LotID = l.ID
	l.AmountG = first.MassG
	return s.append(ctx, tx, first)
}

// again puts in l the lot that its first movement made when it was sent before;
// sent with something else in it, it is refused.
func again(ctx context.Context, tx Tx, l *Lot, what string, first, there Movement) error {
	old, err := lotOf(ctx, tx, there.LotID)
	if err != nil {
		return err
	}
	first.LotID = there.LotID
	if !first.sameAs(there) || old.What != what {
		return sentBefore()
	}
	*l = old
	return nil
}

func lotOf(ctx context.Context, tx Tx, id string) (Lot, error) {
	list, err := tx.Lots(ctx, LotFilter{ID: id})
	return one(list, err, "there is no such lot on the shelf")
}

// called is the name that plans know a fibre or additive by; what they do not
// know keeps the name it was given.
func called(kit plan.Studio, what string) string {
	if f, ok := shelfOf(kit).Get(what); ok {
		return f.Name
	}
	if a, ok := furnish.GetAdditive(what); ok {
		return a.Name
	}
	return what
}

// shelfOf is the handbook with the studio's own fibres; without those that
// cannot be read.
func shelfOf(kit plan.Studio) fibre.Shelf {
	shelf, err := fibre.NewShelf(kit.Fibres)
	if err != nil {
		return fibre.Shelf{}
	}
	return shelf
}

// nameLot gives a lot a name of its own: one that nobody gave is what it is,
// with the day.
func (s *Service) nameLot(ctx context.Context, tx Tx, l *Lot) error {
	given := l.Name
	if given == "" {
		l.Name = l.What
		if l.Cooked {
			l.Name += ", cooked"
		}
		if l.Form != AsBought {
			l.Name += " " + string(l.Form)
		}
		if day, err := time.Parse(time.DateOnly, l.Since); err == nil {
			l.Name += day.Format(", 2 Jan 2006")
		}
	}
	wanted := l.Name
	for n := 2; ; n++ {
		same, err := tx.Lots(ctx, LotFilter{Name: l.Name})
		if err != nil {
			return err
		}
		if len(same) == 0 || same[0].ID == l.ID {
			return nil
		}
		if given != "" {
			return fault.Invalid("name", "another lot is called so; the card must tell them apart")
		}
		l.Name = fmt.Sprintf("%s (%d)", wanted, n)
	}
}

// shelf is the lots that a plan may weigh out of: what has something left and
// is not past its day, the oldest first. A price in another currency is no
// price.
func shelf(lots []Lot, currency string, day time.Time) []plan.Lot {
	var list []plan.Lot
	for _, l := range lots {
		if l.AmountG <= 0 || l.PastKeepBy(day) || l.Finished() {
			continue
		}
		p := plan.Lot{Name: l.Name, What: l.What, WetG: l.AmountG, MoisturePct: l.MoisturePct, Beaten: l.Form != AsBought, Cooked: l.Cooked}
		if l.Currency == currency {
			p.PriceKg = l.PriceKg
		}
		list = append(list, p)
	}
	return list
}

// ReadLotAmount reads how much there is of a lot as people write it: "12 lb",
// "27 lb wet at 10 %", "20 L" of stock, "3 Tbsp" of an additive whose bulk the
// handbook has. Moisture is nil unless it was said. Faults: Invalid at field.
func ReadLotAmount(field, text string, sys measure.System, what string, form LotForm) (grams float64, moisturePct *float64, err error) {
	a, err := measure.ReadAmount(text, sys)
	if err != nil {
		return 0, nil, fault.Invalid(field, "%s", fault.All(err)[0].Text)
	}
	if a.SolidsHigh > 0 {
		wet := 100 * (1 - float64(a.SolidsLow+a.SolidsHigh)/2)
		wet = math.Round(wet*1e6) / 1e6 // what halving in binary leaves over
		moisturePct = &wet
	}
	if a.Kind == measure.OfMass {
		return a.Value, moisturePct, nil
	}
	if form == WetStock {
		return a.Value, moisturePct, nil // a litre of stock is taken as a litre of water
	}
	row, ok := furnish.GetAdditive(what)
	if !ok || !row.Bulk.Known() {
		return 0, nil, fault.Invalid(field, "the handbook does not know what a spoonful of it weighs; weigh it")
	}
	m, err := furnish.SpoonMass(measure.Milliliters(a.Value), measure.Density(row.Bulk.Mid))
	if err != nil {
		return 0, nil, fault.Invalid(field, "%s", fault.All(err)[0].Text)
	}
	return float64(m), moisturePct, nil
}

// MoistureOfStock is the water in stock of a consistency in g/L, % of its mass:
// a litre is taken as a kilogram.
func MoistureOfStock(consistency float64) *float64 {
	pct := 100 - consistency/10
	return &pct
}
