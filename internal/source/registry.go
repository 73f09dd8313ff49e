package source

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"strings"
	"sync"
)

//go:embed sources.csv
var sourcesCSV string

// Source is one entry of the registry: what was read, where it stands, and how
// far to trust it. Year is text, because some sources only say "undated".
type Source struct {
	Key   string
	Title string
	Where string
	Year  string
	Grade Grade
	Note  string
}

// Keys that stand for a way of knowing rather than for a text.
const (
	KeyDefinition = "definition" // fixed by agreement
	KeyDerived    = "derived"    // arithmetic on inputs named beside it
	KeyBrief      = "brief"      // what was asked for
	KeyStudio     = "studio"     // this studio's record
	KeyMaker      = "maker"      // what the maker states
	KeyPractice   = "practice"   // common practice
	KeyMemory     = "memory"     // from memory, unverified
)

// Cite is the short form shown beside a number: the title, where it stands and
// the year, without what says nothing.
func (s Source) Cite() string {
	text := s.Title + ", " + s.Where
	if s.Year == "undated" || s.Year == "in force" || s.Year == "as given" || s.Year == "as recorded" {
		return text
	}
	return text + ", " + s.Year
}

type registry struct {
	order []Source
	byKey map[string]int
}

// load reads the embedded registry once. A malformed file is a defect of the
// program, found by the first test that cites anything, so it panics.
var load = sync.OnceValue(func() registry {
	order, err := parse(sourcesCSV)
	if err != nil {
		panic("source: " + err.Error())
	}
	r := registry{order: order, byKey: make(map[string]int, len(order))}
	for i, s := range order {
		r.byKey[s.Key] = i
	}
	return r
})

// columns of sources.csv.
var columns = []string{"key", "title", "where", "year", "grade", "note"}

// parse reads the registry and refuses doubled keys, unknown grades and empty
// fields.
func parse(text string) ([]Source, error) {
	rd := csv.NewReader(strings.NewReader(text))
	rd.FieldsPerRecord = len(columns)
	rows, err := rd.ReadAll()
	if err != nil {
		return nil, err
	}
	if len(rows) == 0 || strings.Join(rows[0], ",") != strings.Join(columns, ",") {
		return nil, fmt.Errorf("the first line must be %s", strings.Join(columns, ","))
	}
	seen := make(map[string]bool, len(rows))
	var out []Source
	for i, row := range rows[1:] {
		for c, field := range row {
			if strings.TrimSpace(field) == "" {
				return nil, fmt.Errorf("entry %d (%s): %s is empty", i+1, row[0], columns[c])
			}
		}
		if seen[row[0]] {
			return nil, fmt.Errorf("entry %d: the key %q stands twice", i+1, row[0])
		}
		seen[row[0]] = true
		grade, err := ParseGrade(row[4])
		if err != nil {
			return nil, fmt.Errorf("entry %d (%s): %w", i+1, row[0], err)
		}
		out = append(out, Source{Key: row[0], Title: row[1], Where: row[2], Year: row[3], Grade: grade, Note: row[5]})
	}
	return out, nil
}

// Get returns the source of that key.
func Get(key string) (Source, bool) {
	r := load()
	i, ok := r.byKey[key]
	if !ok {
		return Source{}, false
	}
	return r.order[i], true
}

// Must returns the source of that key and panics if there is none: for keys
// written in the program itself, where a missing one is a defect.
func Must(key string) Source {
	s, ok := Get(key)
	if !ok {
		panic(fmt.Sprintf("source: %q is not in the registry", key))
	}
	return s
}

// All returns every source in the order of the registry: ways of knowing
// first, then texts by trade step. The slice is the caller's own.
func All() []Source { return append([]Source(nil), load().order...) }
