package studio

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"vatside/internal/belief"
	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/plan"
)

// ExchangeRecords keeps what came from outside, and how it was read.
type ExchangeRecords interface {
	ImportRecords
	TableRecords
}

// ImportRecords keeps imports, and of each what it wrote, so that it can be
// undone as a whole. An empty id lists all, the newest first.
type ImportRecords interface {
	Imports(ctx context.Context, id string) ([]Import, error)
	AppendImport(ctx context.Context, i Import) error
	// NoteImported remembers records as they are before an import writes them.
	NoteImported(ctx context.Context, importID string, what Imported, ids []string) error
	// UndoImport puts back what was, and returns the makings that were there
	// before and lost entries. Faults: NotFound; Conflict where something was
	// built upon it.
	UndoImport(ctx context.Context, id string) (makings []string, err error)
}

// TableRecords is all that a studio holds, table by table, as it is kept; and
// the remembered ways of reading a sheet, by its headings.
type TableRecords interface {
	Tables(ctx context.Context, each func(Table) error) error
	FillTable(ctx context.Context, t Table) error // into a studio that holds nothing
	Matching(ctx context.Context, headings string) (string, error)
	PutMatching(ctx context.Context, headings, matching string, at time.Time) error
}

// Imported is a kind of record that an import may write.
type Imported string

// The kinds, by the tables that hold them. A paper's revision has the id
// paper/revision.
const (
	ImportedProfile  Imported = "studio_profile"
	ImportedPaper    Imported = "paper_revision"
	ImportedPerson   Imported = "person"
	ImportedLot      Imported = "lot"
	ImportedMovement Imported = "lot_movement"
	ImportedBrief    Imported = "brief"
	ImportedMaking   Imported = "making"
	ImportedEvent    Imported = "making_event"
)

// Import is one file that was taken in.
type Import struct {
	ID      string
	File    string // its name
	Kind    string // what it held: makings, papers…
	Added   int    // rows
	Changed int
	At      time.Time
}

// Table is one table: the text of each cell, in the order of the columns.
type Table struct {
	Name    string
	Columns []string
	Text    []bool // columns of words, in which anything may stand
	Rows    [][]string
}

// Batch is records that come in together. A record with the id of one that is
// there changes it; its Revision is the one it was read at.
type Batch struct {
	Import  Import
	Papers  []Paper // Revision 0: new
	People  []Person
	Lots    []Lot
	Moves   []Movement
	Fibres  []fibre.Own // put in place of the studio's own of the same name
	Briefs  []Brief     // new ones only
	Makings []PastMaking
	Events  []Event // of makings that are there
}

// PastMaking is a making of which only the record is left: it was planned
// elsewhere, so its plan holds nothing but what the record says itself. Its
// tag is drawn when it is written.
type PastMaking struct {
	Making Making
	Events []Event
}

// CameIn is the code of the warning that marks the plan of a past making.
const CameIn = "imported"

// asSaid leaves of what a making tells only what may be learned of it: a past
// making teaches what its plan names, as no more than that was written down.
func asSaid(m Making, list []belief.Observation) []belief.Observation {
	if !slices.ContainsFunc(m.Plan.Warnings, func(w plan.Warning) bool { return w.Code == CameIn }) {
		return list
	}
	return slices.DeleteFunc(list, func(o belief.Observation) bool {
		return !slices.ContainsFunc(m.Plan.RestsOn, func(p plan.Prior) bool { return p.Belief == o.Belief })
	})
}

// Import takes a batch in, all of it or nothing. Faults: Invalid, OutOfRange;
// Conflict when the studio changed since the batch was made.
func (s *Service) Import(ctx context.Context, b Batch) (Import, error) {
	if err := b.check(); err != nil {
		return Import{}, err
	}
	b.Import.ID, b.Import.At = s.newID(), s.second()
	err := s.store.Write(ctx, func(tx Tx) error {
		in := importing{Service: s, tx: tx, id: b.Import.ID, now: b.Import.At}
		if err := tx.AppendImport(ctx, b.Import); err != nil {
			return err
		}
		for _, step := range []func(context.Context, Batch) error{in.fibres, in.people, in.papers, in.lots, in.briefs, in.makings, in.events} {
			if err := step(ctx, b); err != nil {
				return err
			}
		}
		return nil
	})
	return b.Import, err
}

func (b Batch) check() error {
	var faults fault.List
	checkAll(&faults, "papers", b.Papers)
	checkAll(&faults, "people", b.People)
	checkAll(&faults, "lots", b.Lots)
	checkAll(&faults, "briefs", b.Briefs)
	return faults.OrNil()
}

func checkAll[T interface{ check() error }](faults *fault.List, name string, list []T) {
	for i, one := range list {
		faults.Add(under(fmt.Sprintf("%s[%d]", name, i), one.check()))
	}
}

func (p Person) check() error {
	var faults fault.List
	if strings.TrimSpace(p.Name) == "" {
		faults.Add(fault.Invalid("name", "give a name"))
	}
	checkText(&faults, "name", p.Name, shortText)
	checkText(&faults, "contact", p.Contact, longText)
	return faults.OrNil()
}

// CheckRecord says whether a record could come in with a batch: a paper, a
// person, a lot, or an event.
func CheckRecord(record any) error {
	switch r := record.(type) {
	case interface{ check() error }:
		return r.check()
	case Event:
		_, err := tidy(r, r.MakingID)
		return err
	case Movement:
		_, err := r.tidy(r.At)
		return err
	}
	return fault.Invalid("", "this is no record that can come in")
}

// importing is one import on its way into the file.
type importing struct {
	*Service
	tx  Tx
	id  string
	now time.Time
}

// movedOn is the fault of an import that rests on what is no longer so.
func movedOn(what string) error {
	return fault.Conflict("%s changed since this was looked at; look at it again, then write it down", what)
}

func ids[T any](list []T, id func(T) string) []string {
	out := make([]string, len(list))
	for i, one := range list {
		out[i] = id(one)
	}
	return out
}

func (in importing) fibres(ctx context.Context, b Batch) error {
	if len(b.Fibres) == 0 {
		return nil
	}
	p, err := in.tx.Profile(ctx)
	if err != nil {
		return err
	}
	p.Kit.Fibres = slices.Clone(p.Kit.Fibres)
	for _, own := range b.Fibres {
		i := slices.IndexFunc(p.Kit.Fibres, func(o fibre.Own) bool { return strings.EqualFold(o.Name, own.Name) })
		if i < 0 {
			p.Kit.Fibres = append(p.Kit.Fibres, own)
		} else {
			p.Kit.Fibres[i] = own
		}
	}
	if _, err := fibre.NewShelf(p.Kit.Fibres); err != nil {
		return err
	}
	if err := in.tx.NoteImported(ctx, in.id, ImportedProfile, []string{"1"}); err != nil {
		return err
	}
	p.Revision, p.Changed = p.Revision+1, in.now
	return in.tx.PutProfile(ctx, p)
}

func (in importing) people(ctx context.Context, b Batch) error {
	if err := in.tx.NoteImported(ctx, in.id, ImportedPerson, ids(b.People, func(p Person) string { return p.ID })); err != nil {
		return err
	}
	for _, p := range b.People {
		p.Created = cmp.Or(p.Created, in.now)
		if err := in.tx.PutPerson(ctx, p); err != nil {
			return err
		}
	}
	return nil
}

func (in importing) papers(ctx context.Context, b Batch) error {
	for _, p := range b.Papers {
		there, err := in.tx.Papers(ctx, PaperFilter{ID: p.ID})
		switch {
		case err != nil:
			return err
		case len(there) == 0 && p.Revision > 0, len(there) > 0 && there[0].Revision != p.Revision:
			return movedOn("the paper " + p.Name)
		}
		p.Revision, p.Changed = p.Revision+1, in.now
		p.Created = cmp.Or(p.Created, in.now)
		if err := in.tx.NoteImported(ctx, in.id, ImportedPaper, []string{fmt.Sprintf("%s/%d", p.ID, p.Revision)}); err != nil {
			return err
		}
		if err := in.tx.AppendPaper(ctx, p); err != nil {
			return err
		}
	}
	return nil
}

func (in importing) lots(ctx context.Context, b Batch) error {
	if len(b.Lots)+len(b.Moves) == 0 {
		return nil
	}
	profile, err := in.tx.Profile(ctx)
	if err != nil {
		return err
	}
	if err := in.tx.NoteImported(ctx, in.id, ImportedLot, ids(b.Lots, func(l Lot) string { return l.ID })); err != nil {
		return err
	}
	if err := in.tx.NoteImported(ctx, in.id, ImportedMovement, ids(b.Moves, func(m Movement) string { return m.ID })); err != nil {
		return err
	}
	for _, l := range b.Lots {
		there, err := in.tx.Lots(ctx, LotFilter{ID: l.ID})
		switch {
		case err != nil:
			return err
		case len(there) == 0 && l.Revision > 0, len(there) > 0 && there[0].Revision != l.Revision:
			return movedOn("the lot " + l.Name)
		}
		l.Created = cmp.Or(l.Created, in.now)
		l.Currency = cmp.Or(l.Currency, profile.Currency)
		l.What = called(profile.Kit, l.What)
		l.Revision, l.Changed = l.Revision+1, in.now
		if err := in.tx.PutLot(ctx, l); err != nil {
			return err
		}
	}
	for _, m := range b.Moves {
		if err := in.append(ctx, in.tx, m); err != nil {
			return err
		}
	}
	return nil
}

func (in importing) briefs(ctx context.Context, b Batch) error {
	if err := in.tx.NoteImported(ctx, in.id, ImportedBrief, ids(b.Briefs, func(w Brief) string { return w.ID })); err != nil {
		return err
	}
	for _, w := range b.Briefs {
		w.Revision, w.Changed = 1, in.now
		w.Created = cmp.Or(w.Created, in.now)
		if err := in.tx.PutBrief(ctx, w); err != nil {
			return err
		}
	}
	return nil
}

func (in importing) makings(ctx context.Context, b Batch) error {
	if len(b.Makings) == 0 {
		return nil
	}
	there, err := in.tx.Makings(ctx, MakingFilter{Light: true})
	if err != nil {
		return err
	}
	tags, known := make(map[string]bool, len(there)), make(map[string]bool, len(there))
	for _, m := range there {
		tags[m.Tag], known[m.ID] = true, true
	}
	if err := in.tx.NoteImported(ctx, in.id, ImportedMaking, ids(b.Makings, func(m PastMaking) string { return m.Making.ID })); err != nil {
		return err
	}
	for _, past := range b.Makings {
		if known[past.Making.ID] {
			return movedOn("the list of makings")
		}
		if err := in.making(ctx, past, tags); err != nil {
			return err
		}
	}
	return nil
}

// making writes one past making with its record. Its tag is a long code: none
// was printed for it, and the short ones are few.
func (in importing) making(ctx context.Context, past PastMaking, tags map[string]bool) error {
	m := past.Making
	for m.Tag == "" || tags[m.Tag] {
		m.Tag = in.drawTag(true)
	}
	tags[m.Tag] = true
	events := make([]Event, len(past.Events))
	for i, e := range past.Events {
		var err error
		if events[i], err = tidy(e, m.ID); err != nil {
			return err
		}
		events[i].Received = in.now
	}
	state := Replay(m, events)
	m.Progress = progress(m, state)
	if err := in.tx.AppendMaking(ctx, m); err != nil {
		return err
	}
	for _, e := range events {
		if _, err := in.tx.AppendEvent(ctx, e); err != nil {
			return err
		}
	}
	if in.Learner == nil {
		return nil
	}
	return in.tx.ReplaceObservations(ctx, m.ID, in.Learner(m, state))
}

// events appends entries to makings that are there.
func (in importing) events(ctx context.Context, b Batch) error {
	if err := in.tx.NoteImported(ctx, in.id, ImportedEvent, ids(b.Events, func(e Event) string { return e.ID })); err != nil {
		return err
	}
	var order []string
	of := map[string][]Event{}
	for _, e := range b.Events {
		if of[e.MakingID] == nil {
			order = append(order, e.MakingID)
		}
		of[e.MakingID] = append(of[e.MakingID], e)
	}
	for _, id := range order {
		list, err := in.tx.Makings(ctx, MakingFilter{ID: id})
		m, err := one(list, err, "there is no such making")
		if err != nil {
			return err
		}
		old, err := in.tx.Events(ctx, id)
		if err != nil {
			return err
		}
		if _, err := in.add(ctx, in.tx, m, old, of[id]); err != nil {
			return err
		}
	}
	return nil
}

// Imports lists what was taken in, the newest first.
func (s *Service) Imports(ctx context.Context) ([]Import, error) {
	var list []Import
	err := s.store.Read(ctx, func(tx Tx) (err error) {
		list, err = tx.Imports(ctx, "")
		return err
	})
	return list, err
}

// UndoImport takes an import back: what it added is gone, what it changed is as
// it was. Faults: NotFound; Conflict where something was built upon it.
func (s *Service) UndoImport(ctx context.Context, id string) (Import, error) {
	var was Import
	err := s.store.Write(ctx, func(tx Tx) error {
		list, err := tx.Imports(ctx, id)
		if was, err = one(list, err, "there is no such import; perhaps it was undone already"); err != nil {
			return err
		}
		makings, err := tx.UndoImport(ctx, id)
		if err != nil {
			return err
		}
		return s.rebuild(ctx, tx, makings)
	})
	return was, err
}

// rebuild works out anew what is derived from makings, one after the other: a
// working life of plans is more than the memory holds.
func (s *Service) rebuild(ctx context.Context, tx Tx, makings []string) error {
	for _, id := range makings {
		list, err := tx.Makings(ctx, MakingFilter{ID: id, NoSums: true})
		m, err := one(list, err, "there is no such making")
		if err != nil {
			return err
		}
		events, err := tx.Events(ctx, id)
		if err != nil {
			return err
		}
		if _, err := s.derive(ctx, tx, m, events); err != nil {
			return err
		}
	}
	return nil
}

// Tables hands over every table of the studio, each as it was at one moment.
func (s *Service) Tables(ctx context.Context, each func(Table) error) error {
	return s.store.Read(ctx, func(tx Tx) error { return tx.Tables(ctx, each) })
}

// FillTables makes an empty studio one that was exported. Faults: Conflict
// where the studio holds something; Invalid where the tables are none of a
// studio's.
func (s *Service) FillTables(ctx context.Context, tables []Table) error {
	var makings []string
	return s.store.Write(ctx, func(tx Tx) error {
		for _, t := range tables {
			if err := tx.FillTable(ctx, t); err != nil {
				return err
			}
		}
		for _, t := range tables {
			if at := slices.Index(t.Columns, "id"); t.Name == string(ImportedMaking) && at >= 0 {
				makings = ids(t.Rows, func(row []string) string { return row[at] })
			}
		}
		for _, id := range makings { // a making is listed with its progress
			if err := tx.PutProgress(ctx, id, Progress{Stage: Preparing}); err != nil {
				return err
			}
		}
		return s.rebuild(ctx, tx, makings)
	})
}

// Matching returns how a sheet with those headings was read last into v; false
// where none was.
func (s *Service) Matching(ctx context.Context, headings string, v any) (found bool, err error) {
	var text string
	err = s.store.Read(ctx, func(tx Tx) (err error) {
		text, err = tx.Matching(ctx, headings)
		return err
	})
	if err != nil || text == "" {
		return false, err
	}
	return json.Unmarshal([]byte(text), v) == nil, nil
}

// KeepMatching remembers how a sheet with those headings is read.
func (s *Service) KeepMatching(ctx context.Context, headings string, v any) error {
	text, err := json.Marshal(v)
	if err != nil {
		return err
	}
	return s.store.Write(ctx, func(tx Tx) error { return tx.PutMatching(ctx, headings, string(text), s.second()) })
}
