// Package studio holds the records of one studio and the use cases on them:
// papers and their revisions, briefs, makings, what happened in a making, and
// what was learned from it.
//
// Standing assumptions: what is counted and weighed is appended as it happened
// and never edited (a correction points at what it corrects); the state of a
// making is nothing but the replay of its events; personal data of customers
// stands apart, so that it can be erased; the clock is passed in. The rules
// are written down in docs/models/record.md. Missing: orders with money, days
// and classes.
package studio

import (
	"context"
	"crypto/rand"
	"encoding/base32"
	"io"
	"math"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"vatside/internal/belief"
	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/plan"
	"vatside/internal/source"
)

// Store keeps the records. All that do writes in one call of Write is kept, or
// none of it; an error it returns undoes it.
type Store interface {
	Write(ctx context.Context, do func(Tx) error) error
	Read(ctx context.Context, do func(Tx) error) error
}

// Tx is one transaction on the records.
type Tx interface {
	ProfileRecords
	PaperRecords
	BriefRecords
	MakingRecords
	EventRecords
	LearnedRecords
	PinRecords
	LotRecords
	ExchangeRecords
}

// ProfileRecords keeps the one profile; a studio without one has NewProfile.
type ProfileRecords interface {
	Profile(ctx context.Context) (Profile, error)
	PutProfile(ctx context.Context, p Profile) error
}

// PaperRecords keeps papers, every revision of them.
type PaperRecords interface {
	Papers(ctx context.Context, f PaperFilter) ([]Paper, error)
	AppendPaper(ctx context.Context, p Paper) error
}

// BriefRecords keeps briefs and, apart from them, people. An empty id lists
// all people.
type BriefRecords interface {
	Briefs(ctx context.Context, f BriefFilter) ([]Brief, error)
	PutBrief(ctx context.Context, b Brief) error
	People(ctx context.Context, id string) ([]Person, error)
	PutPerson(ctx context.Context, p Person) error
	ErasePerson(ctx context.Context, id string) error
}

// MakingRecords keeps makings, and how far each has come, so that lists need
// no replay.
type MakingRecords interface {
	Makings(ctx context.Context, f MakingFilter) ([]Making, error)
	AppendMaking(ctx context.Context, m Making) error
	PutProgress(ctx context.Context, makingID string, p Progress) error
	Nearest(ctx context.Context, w Wanted) ([]Match, error)
}

// EventRecords appends what happened. Events come back in the order of their
// arrival.
type EventRecords interface {
	Events(ctx context.Context, makingID string) ([]Event, error)
	EventsByID(ctx context.Context, ids []string) ([]Event, error)
	AppendEvent(ctx context.Context, e Event) (seq int64, err error)
}

// LearnedRecords keeps what was learned from each making, and which
// observations the maker left out.
type LearnedRecords interface {
	Observations(ctx context.Context, f ObservationFilter) ([]belief.Observation, error)
	ReplaceObservations(ctx context.Context, makingID string, list []belief.Observation) error
	ExcludeObservation(ctx context.Context, makingID, id, reason string, at time.Time) error
	Learner(ctx context.Context) (version int, at Revision, err error) // that made the observations; of what is known
	SetLearner(ctx context.Context, version int) error
}

// PinRecords keeps the values the maker fixed, by belief.
type PinRecords interface {
	Pins(ctx context.Context) (map[string]belief.Pin, error)
	PutPin(ctx context.Context, key string, p belief.Pin, at time.Time) error
	ErasePin(ctx context.Context, key string) error
}

// LotRecords keeps what lies on the shelf, and every change of its amount in the
// order of its arrival.
type LotRecords interface {
	Lots(ctx context.Context, f LotFilter) ([]Lot, error)
	PutLot(ctx context.Context, l Lot) error
	Movements(ctx context.Context, f MovementFilter) ([]Movement, error)
	AppendMovement(ctx context.Context, m Movement) error
}

// Learner reads from a making what it says of each belief. The ids of the
// observations must follow from the making alone, so that a rebuilt
// observation is the same one.
type Learner func(Making, State) []belief.Observation

// Service is the use cases of one studio.
type Service struct {
	Learner Learner               // nil: nothing is learned; New sets Learn
	Random  io.Reader             // where ids and tag codes come from; New sets crypto/rand
	Told    func(makingID string) // nil: nobody listens; called after entries of a making are kept

	store Store
	now   func() time.Time
	last  lastKnown
}

// New returns the use cases on a store, with the clock they go by.
func New(store Store, now func() time.Time) *Service {
	return &Service{store: store, now: now, Random: rand.Reader, Learner: Learn}
}

// tell says that entries of a making were kept.
func (s *Service) tell(makingID string) {
	if s.Told != nil {
		s.Told(makingID)
	}
}

// second returns the present time as records hold it: UTC, whole seconds.
func (s *Service) second() time.Time { return s.now().UTC().Truncate(time.Second) }

var idLetters = base32.NewEncoding("abcdefghijkmnpqrstuvwxyz23456789").WithPadding(base32.NoPadding)

// newID returns an id of 16 letters: 80 random bits never meet by chance.
func (s *Service) newID() string {
	var b [10]byte
	if _, err := io.ReadFull(s.Random, b[:]); err != nil {
		// crypto/rand does not fail; a test's reader that runs dry is a defect.
		panic("studio: no random bytes: " + err.Error())
	}
	return idLetters.EncodeToString(b[:])
}

// Current works out anew, once, what another version of the program worked out
// otherwise: what the makings teach, and what they are found by.
func (s *Service) Current(ctx context.Context) error {
	return s.readDerived(ctx, func(Tx) error { return nil })
}

// readDerived reads what is worked out from the makings, as this program works
// it out: a file of an older one may have come in at any time.
func (s *Service) readDerived(ctx context.Context, read func(Tx) error) error {
	by := learner
	current := func(tx Tx) (err error) {
		if by, _, err = tx.Learner(ctx); err != nil || by != learner {
			return err
		}
		return read(tx)
	}
	if err := s.store.Read(ctx, current); err != nil || by == learner {
		return err
	}
	err := s.store.Write(ctx, func(tx Tx) (err error) {
		if by, _, err = tx.Learner(ctx); err != nil || by == learner { // another was first
			return err
		}
		return s.relearn(ctx, tx)
	})
	if err != nil {
		return err
	}
	return s.store.Read(ctx, current)
}

// Relearn works out anew what is worked out from every making.
func (s *Service) Relearn(ctx context.Context) error {
	return s.store.Write(ctx, func(tx Tx) error { return s.relearn(ctx, tx) })
}

func (s *Service) relearn(ctx context.Context, tx Tx) error {
	makings, err := tx.Makings(ctx, MakingFilter{Light: true})
	if err != nil {
		return err
	}
	ids := make([]string, len(makings))
	for i, m := range makings {
		ids[i] = m.ID
	}
	if err := s.rebuild(ctx, tx, ids); err != nil {
		return err
	}
	return tx.SetLearner(ctx, learner)
}

// stale is the fault of saving from an old revision: it says who and when, on
// the studio's own clock.
func (s *Service) stale(what, by string, at time.Time) error {
	where := "in another window"
	if by != "" {
		where = "by " + by
	}
	now := s.now()
	at = at.In(now.Location())
	when := "at " + at.Format("15:04")
	if at.Format(time.DateOnly) != now.Format(time.DateOnly) {
		when = "on " + at.Format("2006-01-02 at 15:04")
	}
	return fault.Conflict("%s was changed %s %s; look at it as it is now, then save again", what, when, where)
}

// one returns the only record of a list: find-one is find-many with a filter.
func one[T any](list []T, err error, missing string) (T, error) {
	var none T
	switch {
	case err != nil:
		return none, err
	case len(list) == 0:
		return none, fault.NotFound("%s", missing)
	}
	return list[0], nil
}

// Bounds of what can be meant; what only looks odd is flagged, not refused.
const (
	mostSheets  = 100_000 // sheets in one brief or making; ours: far above a lifetime's edition
	mostMM      = 10_000  // mm of one side; ours: larger than any mould two people hold
	mostGrams   = 1e6     // g in one weighing; ours: a tonne
	mostMinutes = 10_000  // min of one step; ours: a week
	shortText   = 200     // characters of a name
	longText    = 20_000  // characters of a note
	firstYear   = 2000    // a time before it comes from a clock never set
	lastYear    = 2199
)

// checkNumber adds a fault unless lo ≤ v ≤ hi; NaN and Inf are outside.
func checkNumber(faults *fault.List, field string, v, lo, hi float64, unit string) {
	if !(v >= lo && v <= hi) || math.IsNaN(v) {
		faults.Add(fault.OutOfRange(field, "between %g and %g %s", lo, hi, unit))
	}
}

// checkOver is checkNumber with the lower end left out: 0 < v ≤ hi.
func checkOver(faults *fault.List, field string, v, hi float64, unit string) {
	if !(v > 0 && v <= hi) {
		faults.Add(fault.OutOfRange(field, "more than 0 and at most %g %s", hi, unit))
	}
}

func checkInt(faults *fault.List, field string, v, lo, hi int, unit string) {
	if v < lo || v > hi {
		faults.Add(fault.OutOfRange(field, "between %d and %d %s", lo, hi, unit))
	}
}

func checkText(faults *fault.List, field, s string, most int) {
	if !utf8.ValidString(s) {
		faults.Add(fault.Invalid(field, "this is not readable text"))
	} else if n := utf8.RuneCountInString(s); n > most {
		faults.Add(fault.OutOfRange(field, "at most %d characters, not %d", most, n))
	}
}

func checkSheet(faults *fault.List, field string, s plan.Sheet) {
	checkOver(faults, field+".long_mm", s.LongMM, mostMM, "mm")
	checkOver(faults, field+".short_mm", s.ShortMM, mostMM, "mm")
	switch s.Edges {
	case "", "deckle", "trimmed":
	default:
		faults.Add(fault.Invalid(field+".edges", "edges are deckle or trimmed"))
	}
}

func checkConfidence(faults *fault.List, pct float64) {
	// Below one half a promise is none; at 100 % no number of sheets is enough.
	checkNumber(faults, "confidence_pct", pct, 50, 99.9, "%")
}

func checkTime(faults *fault.List, field string, t time.Time) {
	if y := t.Year(); y < firstYear || y > lastYear {
		faults.Add(fault.OutOfRange(field, "a time between the years %d and %d", firstYear, lastYear))
	}
}

// The measure systems a studio may read and type in.
const (
	Metric = "metric"
	US     = "us"
)

// Profile is the studio itself. A studio that has saved nothing yet has the
// profile of NewProfile, at revision 0.
type Profile struct {
	Name          string
	System        string // Metric or US: how pages show and read quantities
	Currency      string // ISO 4217 code, such as EUR
	Kit           plan.Studio
	DefaultSheet  plan.Sheet // what a new brief starts from
	ConfidencePct float64    // what a new brief starts from
	Answered      bool       // the questions of the first evening are answered
	Revision      int
	By            string // the device or window that saved it
	Changed       time.Time
}

// NewProfile returns the profile of a studio that has answered nothing.
func NewProfile() Profile {
	return Profile{
		System: Metric, Currency: "EUR", ConfidencePct: 90,
		// A4, ISO 216: a finished size every reader knows.
		DefaultSheet: plan.Sheet{LongMM: 297, ShortMM: 210, Edges: "deckle"},
	}
}

// check reports what cannot be meant; the equipment's ranges are the plan's.
func (p Profile) check() error {
	var faults fault.List
	if p.System != Metric && p.System != US {
		faults.Add(fault.Invalid("system", "the measure system is metric or us"))
	}
	if len(p.Currency) != 3 || strings.ToUpper(p.Currency) != p.Currency {
		faults.Add(fault.Invalid("currency", "a currency is three capital letters, such as EUR or USD"))
	}
	checkConfidence(&faults, p.ConfidencePct)
	checkSheet(&faults, "default_sheet", p.DefaultSheet)
	return faults.OrNil()
}

// Profile returns the studio's profile.
func (s *Service) Profile(ctx context.Context) (Profile, error) {
	var p Profile
	err := s.store.Read(ctx, func(tx Tx) (err error) {
		p, err = tx.Profile(ctx)
		return err
	})
	return p, err
}

// SaveProfile saves the profile and returns it at its new revision.
// Faults: Invalid, OutOfRange; Conflict when it was saved by another in between,
// and, of the field kit.fibres, when an own fibre would go that papers are made
// with.
func (s *Service) SaveProfile(ctx context.Context, p Profile) (Profile, error) {
	p.Currency = strings.TrimSpace(p.Currency)
	if err := p.check(); err != nil {
		return Profile{}, err
	}
	p.Kit.Currency = p.Currency
	err := s.store.Write(ctx, func(tx Tx) error {
		old, err := tx.Profile(ctx)
		if err != nil {
			return err
		}
		if old.Revision != p.Revision {
			return s.stale("the studio's profile", old.By, old.Changed)
		}
		if err := keepFibres(ctx, tx, old.Kit.Fibres, p.Kit.Fibres); err != nil {
			return err
		}
		p.Revision, p.Changed = old.Revision+1, s.second()
		return tx.PutProfile(ctx, p)
	})
	return p, err
}

// keepFibres refuses that an own fibre goes, or gets another name, while papers
// are made with it: they have it by its name.
func keepFibres(ctx context.Context, tx Tx, was, now []fibre.Own) error {
	for _, gone := range was {
		if slices.ContainsFunc(now, func(o fibre.Own) bool { return source.Plain(o.Name) == source.Plain(gone.Name) }) {
			continue
		}
		papers, err := madeWith(ctx, tx, gone.Name)
		if err != nil {
			return err
		}
		if len(papers) > 0 {
			var names []string
			for _, p := range papers {
				names = append(names, p.Name)
			}
			return &fault.Error{Kind: fault.KindConflict, Field: "kit.fibres",
				Text: gone.Name + " stays, under this name, while papers are made with it: " + strings.Join(names, ", ")}
		}
	}
	return nil
}

// MadeWith returns the papers made with a fibre: as they are now, or in the
// revision that a brief asks for which is not settled.
func (s *Service) MadeWith(ctx context.Context, fibre string) ([]Paper, error) {
	var list []Paper
	err := s.store.Read(ctx, func(tx Tx) (err error) {
		list, err = madeWith(ctx, tx, fibre)
		return err
	})
	return list, err
}

func madeWith(ctx context.Context, tx Tx, fibre string) ([]Paper, error) {
	papers, err := tx.Papers(ctx, PaperFilter{})
	if err != nil {
		return nil, err
	}
	briefs, err := tx.Briefs(ctx, BriefFilter{Open: true})
	if err != nil {
		return nil, err
	}
	for _, b := range briefs {
		asked, err := tx.Papers(ctx, PaperFilter{ID: b.PaperID, Revision: b.PaperRevision})
		if err != nil {
			return nil, err
		}
		papers = append(papers, asked...)
	}
	var list []Paper
	for _, p := range papers {
		has := func(part plan.Part) bool { return source.Plain(part.Fibre) == source.Plain(fibre) }
		known := func(o Paper) bool { return o.ID == p.ID }
		if slices.ContainsFunc(p.Design.Furnish, has) && !slices.ContainsFunc(list, known) {
			list = append(list, p)
		}
	}
	return list, nil
}
