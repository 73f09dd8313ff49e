package studio

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"vatside/internal/fault"
	"vatside/internal/plan"
)

// Making is one production run of a paper. What it was planned with is frozen,
// so that its card prints the same for ever; what happened is in its events.
type Making struct {
	ID            string
	Tag           string // short code on the printed tag, such as K7-3F
	BriefID       string
	PaperID       string
	PaperRevision int
	PaperName     string
	Request       plan.Request
	Plan          plan.Plan
	Progress      Progress
	Created       time.Time
}

// MakingFilter narrows a list of makings; its zero value asks for all, newest
// first.
type MakingFilter struct {
	ID      string
	Tag     string // as ReadTag returns it
	BriefID string
	PaperID string
	Open    bool // only those not closed
	With    Kind // only those of which something of this kind was written down
	Light   bool // leave Request and Plan empty: lists need neither
	NoSums  bool // leave out how the plan's figures were summed: most of it, and nothing is learned from that
	Limit   int  // at most so many; 0: all
	Skip    int  // pass over so many first; with a limit
}

// Stage is where a making stands.
type Stage string

// The stages, in order.
const (
	Preparing Stage = "preparing" // nothing pulled yet
	AtVat     Stage = "at the vat"
	Drying    Stage = "drying"
	Sorting   Stage = "sorting" // dry and weighed, or graded, not closed
	Done      Stage = "closed"
)

// Progress is the short of a State that lists are made from; it is kept beside
// the making and rebuilt with every event.
type Progress struct {
	Stage   Stage
	Couched int
	Good    int
	Since   time.Time // the last thing that happened; zero: nothing yet
	Gist
}

// Gist is what a making is found by and charted by: the short of its design
// and of what was measured. A number not known is nil.
type Gist struct {
	Furnish   string   // the fibres by name, the largest share first
	Use       string   //
	GrammageG *float64 // g/m² conditioned, as weighed; before that as wanted
	LongMM    *float64 // finished size
	ShortMM   *float64
	ShrinkPct *float64 // linear, the mean of both ways
	CaliperMM *float64
	GoodPct   *float64 // of the sheets couched
	HandsMin  *float64 // by hand, all steps noted
	Words     string   // all that was written of it, but no word about people; lists leave it empty
}

// Makings lists makings, newest first.
func (s *Service) Makings(ctx context.Context, f MakingFilter) ([]Making, error) {
	var list []Making
	err := s.readDerived(ctx, func(tx Tx) (err error) {
		list, err = tx.Makings(ctx, f)
		return err
	})
	return list, err
}

// Making returns one making. Faults: NotFound.
func (s *Service) Making(ctx context.Context, id string) (Making, error) {
	list, err := s.Makings(ctx, MakingFilter{ID: id})
	return one(list, err, "there is no such making")
}

// MakingByTag returns the making whose tag carries that code, however it was
// typed. Faults: Invalid, NotFound.
func (s *Service) MakingByTag(ctx context.Context, typed string) (Making, error) {
	tag, err := ReadTag(typed)
	if err != nil {
		return Making{}, err
	}
	list, err := s.Makings(ctx, MakingFilter{Tag: tag})
	return one(list, err, "no making carries the tag "+tag)
}

// StartMaking begins a making of a brief with the plan that was made for it.
// Faults: NotFound.
func (s *Service) StartMaking(ctx context.Context, briefID string, req plan.Request, p plan.Plan) (Making, error) {
	return s.StartAfter(ctx, briefID, -1, req, p)
}

// StartAfter begins a making of a brief that had so many makings when the
// maker asked; where it has more by now, the same button was pressed twice and
// the newest is returned instead. Fewer than 0 begins one in any case.
// Faults: NotFound.
func (s *Service) StartAfter(ctx context.Context, briefID string, begun int, req plan.Request, p plan.Plan) (Making, error) {
	m := Making{BriefID: briefID, Request: req, Plan: p}
	err := s.store.Write(ctx, func(tx Tx) error {
		if begun >= 0 {
			list, err := tx.Makings(ctx, MakingFilter{BriefID: briefID, Light: true})
			if err != nil {
				return err
			}
			if len(list) > begun {
				m = newest(list)
				return nil
			}
		}
		briefs, err := tx.Briefs(ctx, BriefFilter{ID: briefID})
		brief, err := one(briefs, err, "there is no such brief")
		if err != nil {
			return err
		}
		papers, err := tx.Papers(ctx, PaperFilter{ID: brief.PaperID, Revision: brief.PaperRevision})
		paper, err := one(papers, err, "the brief's paper is missing")
		if err != nil {
			return err
		}
		m.ID, m.Created = s.newID(), s.second()
		m.PaperID, m.PaperRevision, m.PaperName = paper.ID, paper.Revision, paper.Name
		m.Progress = progress(m, State{})
		if m.Tag, err = s.freeTag(ctx, tx); err != nil {
			return err
		}
		return tx.AppendMaking(ctx, m)
	})
	m.Progress.Words = "" // as a list has it
	return m, err
}

// newest is the making begun last.
func newest(list []Making) Making {
	return slices.MaxFunc(list, func(a, b Making) int { return a.Created.Compare(b.Created) })
}

// freeTag draws codes until one is not taken.
func (s *Service) freeTag(ctx context.Context, tx Tx) (string, error) {
	// With half of the short codes taken, 20 draws all fail once in a million.
	for try := range 40 {
		tag := s.drawTag(try >= 20)
		taken, err := tx.Makings(ctx, MakingFilter{Tag: tag, Light: true, Limit: 1})
		if err != nil {
			return "", err
		}
		if len(taken) == 0 {
			return tag, nil
		}
	}
	return "", &fault.Error{Kind: fault.KindInternal, Text: "no free tag code was found"}
}

// Tag codes are letter digit - digit letter, such as K7-3F, and once those run
// out letter digit digit - digit digit letter. What is easily taken for
// another sign in handwriting is left out: no 0 and 1; no B (8), D and O and Q
// (0), G (6), I and L (1), N (M), S (5), U and V (W), Z (2).
const (
	tagLetters = "ACEFHJKMPRTWXY"
	tagDigits  = "23456789"
)

// drawTag returns a random code: one of 12,544 short or of 802,816 long ones.
func (s *Service) drawTag(long bool) string {
	shape := "ad-da"
	if long {
		shape = "add-dda"
	}
	pick := func(from string) byte {
		var b [1]byte
		for {
			if _, err := io.ReadFull(s.Random, b[:]); err != nil {
				panic("studio: no random bytes: " + err.Error())
			}
			// Bytes past the last whole round would favour the first signs.
			if n := 256 / len(from) * len(from); int(b[0]) < n {
				return from[int(b[0])%len(from)]
			}
		}
	}
	var tag strings.Builder
	for _, sign := range shape {
		switch sign {
		case 'a':
			tag.WriteByte(pick(tagLetters))
		case 'd':
			tag.WriteByte(pick(tagDigits))
		default:
			tag.WriteByte('-')
		}
	}
	return tag.String()
}

// ReadTag returns a tag code as it is printed from what a person typed: in any
// case, with or without the dash. Faults: Invalid.
func ReadTag(typed string) (string, error) {
	bare := strings.Map(func(r rune) rune {
		if r == '-' || r == ' ' || r == '.' {
			return -1
		}
		return r
	}, strings.ToUpper(strings.TrimSpace(typed)))
	shape := map[int]string{4: "adda", 6: "adddda"}[len(bare)]
	for i := range len(shape) {
		set := tagLetters
		if shape[i] == 'd' {
			set = tagDigits
		}
		if !strings.Contains(set, bare[i:i+1]) {
			shape = ""
			break
		}
	}
	if shape == "" {
		return "", fault.Invalid("tag", "a tag code is a letter, a digit, a digit and a letter, such as K7-3F; it never has 0, 1, B, D, G, I, L, N, O, Q, S, U, V or Z in it")
	}
	return bare[:len(bare)/2] + "-" + bare[len(bare)/2:], nil
}

// Bounds of what an event may carry.
const (
	mostID   = 300       // characters of a client's id
	mostBody = 128 << 10 // bytes of a body; a remark of 20,000 characters fits
)

// Record appends events to a making and returns the state they lead to. An
// event that is already there is passed over. All are kept or none.
// Faults: Invalid, OutOfRange, with the field as events[i].…; NotFound;
// Conflict when an id is already used for something else.
func (s *Service) Record(ctx context.Context, makingID string, events ...Event) (State, error) {
	var state State
	err := s.store.Write(ctx, func(tx Tx) error {
		list, err := tx.Makings(ctx, MakingFilter{ID: makingID, NoSums: true})
		m, err := one(list, err, "there is no such making")
		if err != nil {
			return err
		}
		old, err := tx.Events(ctx, makingID)
		if err != nil {
			return err
		}
		state, err = s.add(ctx, tx, m, old, events)
		return err
	})
	if err != nil {
		return State{}, err
	}
	s.tell(makingID)
	return state, nil
}

// add checks the events, appends those that are new, and rebuilds what is
// derived from the making.
func (s *Service) add(ctx context.Context, tx Tx, m Making, old, events []Event) (State, error) {
	known := make(map[string]Event, len(old)+len(events))
	for _, e := range old {
		known[e.ID] = e
	}
	tidied := make([]Event, len(events))
	ids := make([]string, len(events))
	var faults fault.List
	for i, e := range events {
		e, err := tidy(e, m.ID)
		faults.Add(under(fmt.Sprintf("events[%d]", i), err))
		tidied[i], ids[i] = e, e.ID
		if _, ok := known[e.ID]; !ok {
			known[e.ID] = e // so that a correction finds what comes with it
		}
	}
	for i, e := range tidied {
		if e.Kind == KindCorrection {
			faults.Add(under(fmt.Sprintf("events[%d]", i), checkCorrection(e, known)))
		}
	}
	if err := faults.OrNil(); err != nil {
		return State{}, err
	}
	stored, err := tx.EventsByID(ctx, ids)
	if err != nil {
		return State{}, err
	}
	there := make(map[string]Event, len(stored))
	for _, e := range stored {
		there[e.ID] = e
	}
	all := old
	for _, e := range tidied {
		if same, ok := there[e.ID]; ok {
			if !e.sameAs(same) {
				return State{}, fault.Conflict("the entry id %q is already used for something else", e.ID)
			}
			continue
		}
		e.Received = s.second()
		if e.Seq, err = tx.AppendEvent(ctx, e); err != nil {
			return State{}, err
		}
		there[e.ID] = e
		all = append(all, e)
	}
	state, err := s.derive(ctx, tx, m, all)
	if err != nil {
		return State{}, err
	}
	return state, s.use(ctx, tx, m, state)
}

// derive rebuilds what lists and beliefs read of a making.
func (s *Service) derive(ctx context.Context, tx Tx, m Making, events []Event) (State, error) {
	state := Replay(m, events)
	if err := tx.PutProgress(ctx, m.ID, progress(m, state)); err != nil {
		return State{}, err
	}
	if s.Learner != nil {
		if err := tx.ReplaceObservations(ctx, m.ID, s.Learner(m, state)); err != nil {
			return State{}, err
		}
	}
	return state, nil
}

// Events returns the events of a making in the order of their arrival.
// Faults: NotFound.
func (s *Service) Events(ctx context.Context, makingID string) ([]Event, error) {
	_, events, err := s.making(ctx, makingID)
	return events, err
}

// State returns what the events of a making amount to. Faults: NotFound.
func (s *Service) State(ctx context.Context, makingID string) (State, error) {
	m, events, err := s.making(ctx, makingID)
	if err != nil {
		return State{}, err
	}
	return Replay(m, events), nil
}

func (s *Service) making(ctx context.Context, id string) (m Making, events []Event, err error) {
	err = s.store.Read(ctx, func(tx Tx) error {
		list, err := tx.Makings(ctx, MakingFilter{ID: id, NoSums: true})
		if m, err = one(list, err, "there is no such making"); err != nil {
			return err
		}
		events, err = tx.Events(ctx, id)
		return err
	})
	return m, events, err
}

// tidy checks an event and returns it as it is stored.
func tidy(e Event, makingID string) (Event, error) {
	var faults fault.List
	if e.MakingID != "" && e.MakingID != makingID {
		faults.Add(fault.Invalid("making", "this entry belongs to another making"))
	}
	e.MakingID, e.Seq, e.Received = makingID, 0, time.Time{}
	if e.ID == "" {
		faults.Add(fault.Invalid("id", "an entry carries an id that its maker gave it"))
	}
	checkText(&faults, "id", e.ID, mostID)
	e.At = e.At.UTC().Truncate(time.Millisecond)
	checkTime(&faults, "at", e.At)
	if len(e.Body) > mostBody {
		faults.Add(fault.OutOfRange("body", "at most %d bytes", mostBody))
		return e, faults.OrNil()
	}
	if len(e.Body) == 0 {
		e.Body = json.RawMessage(`{}`)
	}
	var compact bytes.Buffer
	if err := json.Compact(&compact, e.Body); err != nil {
		faults.Add(fault.Invalid("body", "the body is a JSON object"))
		return e, faults.OrNil()
	}
	e.Body = compact.Bytes()
	if e.Kind == KindCorrection {
		checkText(&faults, "corrects", e.Corrects, mostID)
		if e.Corrects == "" || e.Corrects == e.ID {
			faults.Add(fault.Invalid("corrects", "a correction names the entry it corrects"))
		}
		if e.Body[0] != '{' {
			faults.Add(fault.Invalid("body", "the body is a JSON object"))
		}
		return e, faults.OrNil()
	}
	if e.Corrects != "" {
		faults.Add(fault.Invalid("corrects", "only a correction points at another entry"))
	}
	_, err := ReadBody(e.Kind, e.Body)
	faults.Add(err)
	return e, faults.OrNil()
}

// checkCorrection checks a correction's body as one of the kind it comes down
// to. What has not arrived cannot be checked against; the replay will.
func checkCorrection(e Event, known map[string]Event) error {
	if isVoid(e.Body) {
		return nil
	}
	root := e
	for range len(known) + 1 { // a ring ends here
		next, ok := known[root.Corrects]
		if !ok {
			return nil
		}
		if next.Kind != KindCorrection {
			_, err := ReadBody(next.Kind, e.Body)
			return err
		}
		root = next
	}
	return fault.Invalid("corrects", "corrections point at each other in a ring")
}

// sameAs reports whether two events tell the same.
func (e Event) sameAs(o Event) bool {
	return e.ID == o.ID && e.MakingID == o.MakingID && e.Kind == o.Kind && e.At.Equal(o.At) &&
		e.Corrects == o.Corrects && bytes.Equal(e.Body, o.Body)
}

// under puts a path before the fields of err.
func under(path string, err error) error {
	list := fault.All(err)
	for i, f := range list {
		moved := *f
		moved.Field = path
		if f.Field != "" {
			moved.Field += "." + f.Field
		}
		list[i] = &moved
	}
	return list.OrNil()
}
