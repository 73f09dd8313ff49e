package intake

import (
	"slices"
	"strings"
	"unicode"

	"github.com/agnivade/levenshtein"

	"vatside/internal/measure"
)

// Matching says how a sheet is read: what its rows are, which row holds the
// headings, and what each column holds.
type Matching struct {
	Kind    Kind              `json:"kind"`
	Columns []Column          `json:"columns"`
	Usual   map[string]string `json:"usual,omitempty"` // by field: what holds where a row does not say

	head int // the row of the headings; -1: none
}

// Column is what one column holds, and in which unit a bare number of it is.
type Column struct {
	Heading string `json:"heading"`
	Field   string `json:"field"`
	Unit    string `json:"unit,omitempty"`
}

// of lists the columns that hold a field.
func (m Matching) of(key string) []int {
	var list []int
	for i, c := range m.Columns {
		if c.Field == key {
			list = append(list, i)
		}
	}
	return list
}

// plainHeading brings a heading to the form names are compared in.
func plainHeading(h string) string {
	h = strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || r == '%' || r == '²' {
			return unicode.ToLower(r)
		}
		return ' '
	}, h)
	return strings.Join(strings.Fields(h), " ")
}

// apart takes the unit off the end of a heading: "sheet weight g" is a sheet
// weight in grams. A heading that is nothing but a unit keeps it.
func apart(plain string, units []unitWord) (name, unit string) {
	name, long := plain, 0
	for _, u := range units {
		for _, w := range u.words {
			rest, ok := strings.CutSuffix(plain, " "+w)
			if ok && len(w) > long {
				name, unit, long = rest, u.unit, len(w)
			}
			if plain == w && long == 0 {
				unit = u.unit
			}
		}
	}
	return strings.TrimSuffix(strings.TrimSuffix(name, " in"), " per"), unit
}

// likeness is how well a heading stands for a field: 0 not at all.
func likeness(plain string, f Field) (score int, unit string) {
	name, unit := apart(plain, f.units())
	name = unshortened(name)
	for i, n := range append([]string{plainHeading(f.Label), f.Key}, f.Names...) {
		s := 0
		switch letters := len([]rune(n)); {
		case plain == n:
			s = 100
		case name == n:
			s = 95
		case letters >= 5 && levenshtein.ComputeDistance(name, n) <= letters/5:
			s = 70
		case letters >= 4 && strings.Contains(" "+name+" ", " "+n+" "):
			s = 40 + letters // the longer the name found in it the better
		}
		if s > 0 {
			s = s*100 - i // of equals, the name that stands first
		}
		score = max(score, s)
	}
	return score, unit
}

// short are words that headings have no room for.
var short = map[string]string{"wt": "weight", "wgt": "weight", "avg": "average", "qty": "quantity", "dims": "dimensions", "dim": "dimensions",
	"temp": "temperature", "thk": "thickness", "sh": "sheet", "shts": "sheets", "beat": "beating", "cust": "customer", "desc": "description"}

func unshortened(name string) string {
	words := strings.Fields(name)
	for i, w := range words {
		if full, ok := short[w]; ok {
			words[i] = full
		}
	}
	return strings.Join(words, " ")
}

// firstRows is how far down the headings may stand.
const firstRows = 30

// Guess says how a sheet is most probably read. With a kind, as that.
func Guess(s Sheet, kind Kind, sys measure.System) Matching {
	best, top := Matching{Kind: Makings, head: -1}, 0
	for _, k := range Kinds() {
		if kind != "" && k != kind {
			continue
		}
		for i := range min(firstRows, len(s.Rows)) {
			m, score := guessRow(s, k, i, sys)
			if score > top {
				best, top = m, score
			}
		}
	}
	if kind != "" {
		best.Kind = kind
	}
	if best.head < 0 {
		best.Columns = make([]Column, width(s))
		for i := range best.Columns {
			best.Columns[i] = Column{Heading: "Column " + letters(i), Field: Nothing}
		}
	}
	return best
}

func width(s Sheet) int {
	n := 0
	for _, r := range s.Rows {
		n = max(n, len(r.Cells))
	}
	return n
}

func letters(column int) string { return strings.TrimRight(Place(0, column), "0") }

// guessRow takes a row for the headings: each field goes to the column that
// stands for it best.
func guessRow(s Sheet, k Kind, row int, sys measure.System) (Matching, int) {
	type pair struct {
		column, score int
		field         Field
		unit          string
	}
	var pairs []pair
	cells := s.Rows[row]
	for i := range cells.Cells {
		plain := plainHeading(cells.at(i))
		if plain == "" || len(plain) > 60 {
			continue
		}
		for _, f := range fields[k] {
			if score, unit := likeness(plain, f); score > 0 {
				pairs = append(pairs, pair{i, score, f, unit})
			}
		}
	}
	slices.SortStableFunc(pairs, func(a, b pair) int { return b.score - a.score })
	m := Matching{Kind: k, head: row, Columns: make([]Column, width(s))}
	taken, total := map[string]bool{}, 0
	for _, p := range pairs {
		c := &m.Columns[p.column]
		if c.Field != "" || taken[p.field.Key] && !p.field.Many {
			continue
		}
		if p.unit == "" {
			p.unit = p.field.usualUnit(sys)
		}
		c.Field, c.Unit, taken[p.field.Key] = p.field.Key, p.unit, true
		total += p.score
	}
	for i := range m.Columns {
		c := &m.Columns[i]
		c.Heading = strings.Join(strings.Fields(cells.at(i)), " ")
		switch {
		case c.Field != "":
		case c.Heading == "":
			c.Heading, c.Field = "Column "+letters(i), Nothing
		default:
			c.Field = Remarks // nothing that was written is lost
		}
	}
	if len(taken) == 0 {
		return Matching{head: -1}, 0
	}
	return m, total
}

// Rows are the rows of a sheet below the headings.
func (m Matching) Rows(s Sheet) []Cells { return s.Rows[m.head+1:] }

// Headings is what a way of reading is remembered by.
func (m Matching) Headings() string {
	all := make([]string, len(m.Columns))
	for i, c := range m.Columns {
		all[i] = plainHeading(c.Heading)
	}
	return string(m.Kind) + "|" + strings.Join(all, "|")
}

// Like takes over how another sheet with the same columns was read. What no
// longer can be is left as it was guessed.
func (m Matching) Like(old Matching) Matching {
	if len(old.Columns) != len(m.Columns) || old.Kind != m.Kind {
		return m
	}
	m.Columns = slices.Clone(m.Columns)
	for i, c := range old.Columns {
		if _, ok := fieldOf(m.Kind, c.Field); ok || c.Field == Nothing {
			m.Columns[i].Field, m.Columns[i].Unit = c.Field, c.Unit
		}
	}
	m.Usual = old.Usual
	return m.tidy(measure.Metric)
}

// tidy gives each column a unit that its field has.
func (m Matching) tidy(sys measure.System) Matching {
	for i, c := range m.Columns {
		f, _ := fieldOf(m.Kind, c.Field)
		if !slices.Contains(f.Units(), c.Unit) {
			m.Columns[i].Unit = f.usualUnit(sys)
		}
	}
	return m
}

// Set says what the columns hold, in the order of the sheet.
func (m Matching) Set(fields, units []string, usual map[string]string, sys measure.System) Matching {
	m.Columns = slices.Clone(m.Columns)
	for i := range m.Columns {
		if i < len(fields) {
			if _, ok := fieldOf(m.Kind, fields[i]); ok || fields[i] == Nothing {
				m.Columns[i].Field = fields[i]
			}
		}
		if i < len(units) {
			m.Columns[i].Unit = units[i]
		}
	}
	m.Usual = usual
	return m.tidy(sys)
}
