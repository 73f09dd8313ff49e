package studio

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"time"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/sheet"
)

// MovementKind is what changed the amount of a lot.
type MovementKind string

// The kinds.
const (
	Received MovementKind = "received" // bought, kept
	Used     MovementKind = "used"     // in a making; less than nothing was given back
	Counted  MovementKind = "corrected"
	Thrown   MovementKind = "thrown away"
	GoneOut  MovementKind = "gone out" // finished sheets, sold, given or used
)

// Movement is a change of a lot's amount. It is appended and never edited; its
// maker gives it its id, so that sending it twice stores it once.
type Movement struct {
	ID       string
	LotID    string
	Seq      int64 // order of arrival
	Kind     MovementKind
	MassG    float64 // what it adds to the lot; what is used, thrown away or gone is less than 0
	MakingID string  // where it was used; empty: in none
	CookID   string  // the cook that took it, or that it comes from; empty: none
	Note     string
	At       time.Time // the maker's time, to the millisecond
	Received time.Time
}

// MovementFilter narrows a list of movements; its zero value asks for all.
type MovementFilter struct {
	ID       string
	LotID    string
	MakingID string
}

// tidy checks a movement and returns it as it is stored.
func (m Movement) tidy(now time.Time) (Movement, error) {
	var faults fault.List
	if m.ID == "" {
		faults.Add(fault.Invalid("id", "an entry carries an id that its maker gave it"))
	}
	checkText(&faults, "id", m.ID, mostID)
	checkText(&faults, "note", m.Note, longText)
	if m.At.IsZero() {
		m.At = now
	}
	m.At = m.At.UTC().Truncate(time.Millisecond)
	checkTime(&faults, "at", m.At)
	switch m.Kind {
	case Received:
		checkOver(&faults, "mass", m.MassG, mostGrams, "g")
	case Thrown, GoneOut:
		checkOver(&faults, "mass", -m.MassG, mostGrams, "g")
	case Used:
		checkNumber(&faults, "mass", m.MassG, -mostGrams, mostGrams, "g")
	case Counted:
		checkNumber(&faults, "mass", m.MassG, -2*mostGrams, 2*mostGrams, "g")
	default:
		faults.Add(fault.Invalid("kind", "%q is not a kind of movement", string(m.Kind)))
	}
	m.Note = strings.TrimSpace(m.Note)
	return m, faults.OrNil()
}

// dust is what adding in binary leaves over, g; less than it is nothing.
const dust = 1e-6

// sameAs reports whether two movements tell the same.
func (m Movement) sameAs(o Movement) bool {
	return m.LotID == o.LotID && m.Kind == o.Kind && m.MakingID == o.MakingID && m.CookID == o.CookID && math.Abs(m.MassG-o.MassG) < dust
}

// append stores a movement that is not there yet; one that says otherwise under
// the same id is refused.
func (s *Service) append(ctx context.Context, tx Tx, m Movement) error {
	m, err := m.tidy(s.now())
	if err != nil {
		return err
	}
	there, err := tx.Movements(ctx, MovementFilter{ID: m.ID})
	switch {
	case err != nil:
		return err
	case len(there) > 0 && !m.sameAs(there[0]):
		return sentBefore()
	case len(there) > 0 || math.Abs(m.MassG) < dust:
		return nil
	}
	m.Received = s.second()
	return tx.AppendMovement(ctx, m)
}

// sentBefore tells that an entry id stands for something else already.
func sentBefore() error {
	return fault.Conflict("this was sent before and said otherwise then; what was written first stands")
}

// Receive adds to a lot what came. Faults: Conflict, Invalid, OutOfRange, NotFound.
func (s *Service) Receive(ctx context.Context, lot string, m Movement) error {
	m.Kind = Received
	return s.move(ctx, lot, m)
}

// ThrowAway takes off a lot what was thrown away, MassG grams of it. Faults:
// Conflict, Invalid, OutOfRange, NotFound.
func (s *Service) ThrowAway(ctx context.Context, lot string, m Movement) error {
	m.Kind, m.MassG = Thrown, -m.MassG
	return s.move(ctx, lot, m)
}

// GoOut takes finished sheets off a lot that were sold, given or used, MassG
// grams of them. Faults: Conflict, Invalid, OutOfRange, NotFound.
func (s *Service) GoOut(ctx context.Context, lot string, m Movement) error {
	m.Kind, m.MassG = GoneOut, -m.MassG
	return s.move(ctx, lot, m)
}

// TakeToCook takes off a lot what goes into a cook, MassG grams of it. Faults:
// Conflict, Invalid, OutOfRange, NotFound.
func (s *Service) TakeToCook(ctx context.Context, lot string, m Movement) error {
	var faults fault.List
	checkOver(&faults, "mass", m.MassG, mostGrams, "g")
	if m.CookID == "" {
		faults.Add(fault.Invalid("mass", "say which cook it goes into"))
	}
	if err := faults.OrNil(); err != nil {
		return err
	}
	m.Kind, m.MassG = Counted, -m.MassG
	return s.move(ctx, lot, m)
}

func (s *Service) move(ctx context.Context, lot string, m Movement) error {
	m.LotID, m.MakingID = lot, ""
	return s.store.Write(ctx, func(tx Tx) error {
		l, err := lotOf(ctx, tx, lot)
		switch {
		case err != nil:
			return err
		case m.Kind == GoneOut && !l.Finished():
			return fault.Invalid("act", "only finished sheets go out")
		}
		return s.append(ctx, tx, m)
	})
}

// Count puts a lot right: MassG is what really lies there, and the movement is
// what is between. Faults: Invalid, OutOfRange, NotFound.
func (s *Service) Count(ctx context.Context, lot string, m Movement) error {
	var faults fault.List
	checkNumber(&faults, "mass", m.MassG, 0, mostGrams, "g")
	if err := faults.OrNil(); err != nil {
		return err
	}
	return s.store.Write(ctx, func(tx Tx) error {
		if _, err := lotOf(ctx, tx, lot); err != nil {
			return err
		}
		moved, err := tx.Movements(ctx, MovementFilter{LotID: lot})
		if err != nil {
			return err
		}
		m.Kind, m.LotID, m.MakingID = Counted, lot, ""
		for _, v := range moved {
			if v.ID == m.ID {
				break
			}
			m.MassG -= v.MassG
		}
		return s.append(ctx, tx, m)
	})
}

// use makes what a making took from the shelf agree with its events: what the
// events say now, less what was written before, is written as one movement a
// lot. So a correction of the events gives back.
func (s *Service) use(ctx context.Context, tx Tx, m Making, st State) error {
	there, err := tx.Movements(ctx, MovementFilter{MakingID: m.ID})
	if err != nil || len(there)+len(st.FibreLots) == 0 {
		return err
	}
	open, count := map[string]float64{}, map[string]int{}
	maps.Copy(open, st.FibreLots)
	for _, v := range there {
		open[v.LotID] += v.MassG // what is used is less than 0
		count[v.LotID]++
	}
	for _, lot := range slices.Sorted(maps.Keys(open)) {
		if math.Abs(open[lot]) < dust {
			continue
		}
		if _, err := lotOf(ctx, tx, lot); err != nil {
			return err
		}
		err := s.append(ctx, tx, Movement{ID: fmt.Sprintf("making/%s/%s/%d", m.ID, lot, count[lot]+1),
			LotID: lot, Kind: Used, MassG: -open[lot], MakingID: m.ID, At: st.Last})
		if err != nil {
			return err
		}
	}
	return nil
}

// keepsWet is how long wet stock keeps cool, in days: common practice, as the
// plan's steps have it.
const keepsWet = 5

// usualScrapMoisture is the water in dry scraps, %: paper in a room at 50 % RH,
// where the plan does not say.
const usualScrapMoisture = 6.0

// Leftover is what a making left that can be kept.
type Leftover struct {
	Form   LotForm
	MassG  float64
	Sheets int  // finished ones; 0: it is something else
	Kept   *Lot // nil: not kept
}

// Leftovers returns what a making's record says is there to keep: its good and
// its retree sheets, stock, and broke.
func Leftovers(m Making, st State, kept []Lot) []Leftover {
	var list []Leftover
	add := func(form LotForm, grams float64, sheets int) {
		o := Leftover{Form: form, MassG: grams, Sheets: sheets}
		if i := slices.IndexFunc(kept, func(l Lot) bool { return l.Form == form && l.FromMaking == m.ID }); i >= 0 {
			o.Kept = &kept[i]
		}
		if grams > 0 || sheets > 0 || o.Kept != nil {
			list = append(list, o)
		}
	}
	each := sheetMass(m, st)
	add(Sheets, each*float64(st.Grades.Good), st.Grades.Good)
	add(Retree, each*float64(st.Grades.Retree), st.Grades.Retree)
	if st.StockLeftL != nil {
		add(WetStock, *st.StockLeftL*1000, 0) // g of a litre, taken as water
	}
	add(Scraps, each*float64(st.Grades.Broke), 0)
	return list
}

// sheetMass is what a sheet weighs, g, as weighed, else as planned; 0 where
// neither is known.
func sheetMass(m Making, st State) float64 {
	each, sheets := (&lesson{m: m, s: st}).dryMass()
	if sheets == 0 {
		return m.Plan.Figures["conditioned_mass_per_sheet_g"].Value
	}
	return each
}

// KeepLeft keeps what a making left as a lot, once: asked again it returns the
// lot there is. Faults: NotFound; Infeasible where nothing is left.
func (s *Service) KeepLeft(ctx context.Context, makingID string, form LotForm) (Lot, error) {
	m, events, err := s.making(ctx, makingID)
	if err != nil {
		return Lot{}, err
	}
	st := Replay(m, events)
	i := slices.IndexFunc(Leftovers(m, st, nil), func(o Leftover) bool { return o.Form == form })
	if i < 0 {
		return Lot{}, fault.Infeasible("", "nothing is left to keep, by the record of this making")
	}
	left := Leftovers(m, st, nil)[i]
	l := Lot{Form: form, What: furnishName(m.Request.Paper), FromMaking: m.ID, Note: "left from making " + m.Tag,
		Since: s.now().Format(time.DateOnly), MoisturePct: moistureLeft(m, form)}
	switch {
	case form == WetStock:
		l.KeepBy = s.now().AddDate(0, 0, keepsWet).Format(time.DateOnly)
	case l.Finished():
		if left.MassG <= 0 {
			return Lot{}, fault.Infeasible("", "nobody knows what one of these sheets weighs; weigh some, write it down, and keep them then")
		}
		l.What, l.Note, l.MoisturePct, l.SheetG = m.PaperName, "", nil, sheetMass(m, st)
		if g, ok := Grammage(m, st); ok {
			l.GrammageG = float64(g)
		}
	}
	if err := l.check(); err != nil {
		return Lot{}, err
	}
	first := Movement{ID: "kept/" + m.ID + "/" + string(form), Kind: Received, MassG: left.MassG}
	err = s.store.Write(ctx, func(tx Tx) error {
		there, err := tx.Movements(ctx, MovementFilter{ID: first.ID})
		switch {
		case err != nil:
			return err
		case len(there) > 0:
			l, err = lotOf(ctx, tx, there[0].LotID)
			return err
		}
		return s.putLot(ctx, tx, &l, first)
	})
	return l, err
}

// moistureLeft is the water in what a making left: of stock by how thick the
// studio makes it, of scraps by the room.
func moistureLeft(m Making, form LotForm) *float64 {
	pct := usualScrapMoisture
	if form == WetStock {
		thick := plan.UsualStock
		if m.Request.Studio.StockGL != nil {
			thick = *m.Request.Studio.StockGL
		}
		return MoistureOfStock(thick)
	}
	for _, p := range m.Plan.RestsOn {
		if p.Key == "moisture_conditioned_pct_dry_basis" {
			if wet, err := sheet.WetBasis(measure.MoistureDry(p.Value / 100)); err == nil {
				pct = 100 * float64(wet)
			}
		}
	}
	return &pct
}

// furnishName is what a making's stock is: its fibre, or the blend in words.
func furnishName(p plan.Paper) string {
	if len(p.Furnish) == 1 {
		return p.Furnish[0].Fibre
	}
	parts := make([]string, len(p.Furnish))
	for i, f := range p.Furnish {
		parts[i] = fmt.Sprintf("%s %.3g %%", f.Fibre, f.SharePct)
	}
	return strings.Join(parts, ", ")
}
