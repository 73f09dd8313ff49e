package intake

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base32"
	"fmt"
	"slices"
	"strings"
	"time"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/studio"
)

// Records is what a proposal asks of the studio. It only reads.
type Records interface {
	Profile(ctx context.Context) (studio.Profile, error)
	Papers(ctx context.Context, f studio.PaperFilter) ([]studio.Paper, error)
	People(ctx context.Context) ([]studio.Person, error)
	Lots(ctx context.Context, f studio.LotFilter) ([]studio.Lot, error)
	Past
}

// Past is the makings that are there, and what moved a lot.
type Past interface {
	Lot(ctx context.Context, id string) (studio.Lot, []studio.Movement, error)
	Makings(ctx context.Context, f studio.MakingFilter) ([]studio.Making, error)
	Events(ctx context.Context, makingID string) ([]studio.Event, error)
}

// Does is what a row does to the studio.
type Does string

// What a row may do.
const (
	Adds    Does = "will be added"
	Changes Does = "will be changed"
	Skips   Does = "is there already"
	Cannot  Does = "cannot be read"
)

// Row is what becomes of one row.
type Row struct {
	Line  int
	Name  string // what it is of, short
	Does  Does
	Says  []string // what it adds or changes
	Notes []string // what was read in some way that is not plain
	Why   string   // of one that cannot be read: the reason, and where
}

// Proposal is what a sheet would do. Nothing of it is written.
type Proposal struct {
	Kind  Kind
	Rows  []Row
	Batch studio.Batch
}

// Of lists the rows that do so.
func (p Proposal) Of(d Does) []Row {
	var list []Row
	for _, r := range p.Rows {
		if r.Does == d {
			list = append(list, r)
		}
	}
	return list
}

// Source is a sheet on its way in: what it is called, how it is read, in which
// units people here write, and what day it is.
type Source struct {
	File     string
	Sheet    Sheet
	Matching Matching
	System   measure.System
	Now      time.Time
}

// proposer reads a sheet row by row.
type proposer struct {
	Source
	styles []style
	above  []string // the last cell of each column that said something
	shelf  fibre.Shelf
	kit    studio.Profile
	past   Past
	papers map[string]*paperOf // by plain name
	people map[string]studio.Person
	lots   map[string]studio.Lot // by plain name and by id
	rows   map[string]bool       // lots by id that a row told of
	there  map[string]bool       // makings by id
	seen   map[string]int        // how often a key came
	keys   map[string]teaches    // what a paper's makings may teach, by its design
	blends map[string]blend      // furnishes that were read, by their text
	batch  studio.Batch
	out    []Row
}

// Propose says what a sheet would do. Faults: Invalid where no column holds
// what a row cannot do without; those of the records.
func Propose(ctx context.Context, r Records, s Source) (Proposal, error) {
	p := &proposer{Source: s, past: r, papers: map[string]*paperOf{}, people: map[string]studio.Person{}, lots: map[string]studio.Lot{},
		rows: map[string]bool{}, there: map[string]bool{}, seen: map[string]int{}, keys: map[string]teaches{}, blends: map[string]blend{}}
	if err := p.load(ctx, r); err != nil {
		return Proposal{}, err
	}
	if err := p.needs(); err != nil {
		return Proposal{}, err
	}
	p.styles, p.above = make([]style, len(s.Matching.Columns)), make([]string, len(s.Matching.Columns))
	from := s.Matching.head + 1
	for i, c := range s.Matching.Columns {
		p.styles[i] = learn(s.Sheet, from, i, c.Unit)
	}
	read := map[Kind]func(context.Context, *line) error{Makings: p.making, Papers: p.paper, Lots: p.lot, People: p.person, Fibres: p.fibre}[s.Matching.Kind]
	if s.Matching.Kind == Makings {
		p.gather(from)
	}
	for _, row := range s.Sheet.Rows[from:] {
		l := &line{p: p, row: p.ditto(row)}
		l.Line = row.Line
		if err := read(ctx, l); err != nil {
			return Proposal{}, err
		}
		p.out = append(p.out, l.Row)
	}
	out := Proposal{Kind: s.Matching.Kind, Rows: p.out, Batch: p.batch}
	out.Batch.Import = studio.Import{File: s.File, Kind: string(s.Matching.Kind), Added: len(out.Of(Adds)), Changed: len(out.Of(Changes))}
	return out, nil
}

func (p *proposer) load(ctx context.Context, r Records) error {
	var err error
	if p.kit, err = r.Profile(ctx); err != nil {
		return err
	}
	if p.shelf, err = fibre.NewShelf(p.kit.Kit.Fibres); err != nil {
		p.shelf = fibre.Shelf{}
	}
	papers, err := r.Papers(ctx, studio.PaperFilter{})
	if err != nil {
		return err
	}
	for _, one := range papers {
		p.papers[source.Plain(one.Name)] = &paperOf{Paper: one, there: true}
	}
	people, err := r.People(ctx)
	if err != nil {
		return err
	}
	for _, one := range people {
		p.people[source.Plain(one.Name)] = one
	}
	lots, err := r.Lots(ctx, studio.LotFilter{})
	if err != nil {
		return err
	}
	for _, one := range lots {
		p.lots[source.Plain(one.Name)], p.lots["id "+one.ID] = one, one
	}
	makings, err := r.Makings(ctx, studio.MakingFilter{Light: true})
	for _, m := range makings {
		p.there[m.ID] = true
	}
	return err
}

// needed are the fields without which no row of a kind can be read: one of
// each group.
var needed = map[Kind][][]string{
	Makings: {{"date"}, {"paper", "furnish"}},
	Papers:  {{"paper"}},
	Lots:    {{"what", "name"}},
	People:  {{"name", "first", "last"}},
	Fibres:  {{"name"}, {"like"}},
}

func (p *proposer) needs() error {
	var faults fault.List
	for _, group := range needed[p.Matching.Kind] {
		var names []string
		have := false
		for _, key := range group {
			f, _ := fieldOf(p.Matching.Kind, key)
			names = append(names, strings.ToLower(f.Label))
			have = have || len(p.Matching.of(key)) > 0 || p.Matching.Usual[key] != ""
		}
		if !have {
			faults.Add(fault.Invalid("columns", "no column holds the %s: say which one does", strings.Join(names, " or the ")))
		}
	}
	return faults.OrNil()
}

// ditto writes out what stands for the cell above.
func (p *proposer) ditto(row Cells) Cells {
	for i := range p.above {
		c := row.at(i)
		switch {
		case isSameAs(c) && p.above[i] != "":
			row.Cells = slices.Clone(row.Cells)
			row.Cells[i] = p.above[i]
		case c != "":
			p.above[i] = c
		}
	}
	return row
}

// line is one row as it is read.
type line struct {
	Row
	p    *proposer
	row  Cells
	kept []string // cells that go into the remarks
}

// cell is what a row says of a field: the first of its columns that says
// anything, else what usually holds; column -1: it was not the row.
func (l *line) cell(key string) (text string, column int) {
	for _, i := range l.p.Matching.of(key) {
		if c := l.row.at(i); !nothing(c) {
			return c, i
		}
	}
	return strings.TrimSpace(l.p.Matching.Usual[key]), -1
}

// text is what a row says of a field in words.
func (l *line) text(key string) string {
	t, _ := l.cell(key)
	return t
}

// how is the unit, the style and the heading of a column; of none, the usual.
func (l *line) how(key string, column int) (unit string, st style, heading string) {
	f, _ := fieldOf(l.p.Matching.Kind, key)
	if column < 0 {
		return f.usualUnit(l.p.System), style{dayFirst: l.p.System != measure.US}, f.Label
	}
	c := l.p.Matching.Columns[column]
	return c.Unit, l.p.styles[column], c.Heading
}

// note remembers a way of reading that is not plain; "" is none.
func (l *line) note(heading, text string) {
	if text != "" {
		l.Notes = append(l.Notes, heading+": "+text)
	}
}

// keep puts a cell that cannot be read into the remarks.
func (l *line) keep(heading, text string, err error) {
	l.kept = append(l.kept, heading+": "+text)
	l.Notes = append(l.Notes, fmt.Sprintf("%s: “%s” is kept in the remarks, as %s", heading, text, fault.All(err)[0].Text))
}

// quantity reads a number; what cannot be read goes into the remarks.
func (l *line) quantity(key string) (v float64, ok bool) {
	text, column := l.cell(key)
	if text == "" {
		return 0, false
	}
	f, _ := fieldOf(l.p.Matching.Kind, key)
	unit, st, heading := l.how(key, column)
	v, note, err := st.number(f.Of, text, unit, l.p.System)
	if err != nil {
		l.keep(heading, text, err)
		return 0, false
	}
	l.note(heading, note)
	return v, true
}

func (l *line) count(key string) (n int, ok bool) {
	v, ok := l.quantity(key)
	if v > mostCount {
		l.keep(key, l.text(key), fault.Invalid("", "it is more than anybody pulls"))
		return 0, false
	}
	return int(v), ok
}

// mostCount bounds a count of sheets, as the records do.
const mostCount = 100_000

// size reads two sides, from one column or from two.
func (l *line) size(both, long, short string) (a, b float64, ok bool) {
	if text, column := l.cell(both); text != "" {
		unit, st, heading := l.how(both, column)
		a, b, note, err := st.size(text, unit, l.p.System)
		if err != nil {
			l.keep(heading, text, err)
			return 0, 0, false
		}
		l.note(heading, note)
		return a, b, true
	}
	if long == "" {
		return 0, 0, false
	}
	a, okA := l.quantity(long)
	b, okB := l.quantity(short)
	return max(a, b), min(a, b), okA && okB && a > 0 && b > 0
}

// day reads a day. Faults: Invalid.
func (l *line) day(key string) (time.Time, error) {
	text, column := l.cell(key)
	_, st, heading := l.how(key, column)
	if text == "" {
		return time.Time{}, fault.Invalid("", "there is no day")
	}
	d, note, err := st.day(text, l.p.Sheet.Date1904, l.p.Now)
	if err != nil {
		return d, fault.Invalid("", "%s", cannot(l.Line, max(column, 0), heading, err))
	}
	l.note(heading, note)
	return d, nil
}

// refuse says that a row cannot be read.
func (l *line) refuse(err error) error {
	l.Does, l.Why, l.Says = Cannot, fault.All(err)[0].Text, nil
	return nil
}

// remarks are what goes into the remarks: what the row says there, columns
// that hold nothing else, and cells that could not be read.
func (l *line) remarks() []string {
	var list []string
	for _, i := range l.p.Matching.of(Remarks) {
		c, heading := l.row.at(i), l.p.Matching.Columns[i].Heading
		if nothing(c) {
			continue
		}
		if !slices.Contains(remarks.Names, plainHeading(heading)) {
			c = heading + ": " + c
		}
		list = append(list, c)
	}
	return append(list, l.kept...)
}

func (l *line) say(format string, args ...any) { l.Says = append(l.Says, fmt.Sprintf(format, args...)) }

var idLetters = base32.NewEncoding("abcdefghijkmnpqrstuvwxyz23456789").WithPadding(base32.NoPadding)

// idOf is the id of what a row tells of: it follows from what the row says, so
// that the same row is the same record. A key that comes again is another one.
func (p *proposer) idOf(parts ...string) string {
	key := strings.Join(parts, "\x1f")
	p.seen[key]++
	sum := sha256.Sum256(fmt.Appendf(nil, "%s\x1f%d", key, p.seen[key]))
	return idLetters.EncodeToString(sum[:10])
}

// newID is an id that follows from nothing: of people, whose names must not be
// found out from it.
func newID() string {
	var b [10]byte
	rand.Read(b[:]) //nolint:errcheck // it does not fail
	return idLetters.EncodeToString(b[:])
}
