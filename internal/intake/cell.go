package intake

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"sync"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/sheet"
)

// style is how a column is written, learned from all of it.
type style struct {
	comma    bool // 1,5 is one and a half
	dayFirst bool
	sure     bool // the order of day and month is known
}

// noValue is what people write where there is nothing to say.
var noValue = []string{"", "-", "–", "—", "?", "??", "n/a", "na", "n.a.", "none", "nil", "unknown", "tbd", "x", "not measured", "not weighed", "."}

// sameAs is what people write for the cell above.
var sameAs = []string{`"`, "''", "″", "”", "do", "do.", "ditto", "id.", "〃"}

// isSameAs reports whether a cell stands for the one above.
func isSameAs(text string) bool {
	return slices.Contains(sameAs, strings.ToLower(strings.TrimSpace(text)))
}

// about are the words and signs of what is not exact, before a number and
// after it.
var (
	about   = regexp.MustCompile(`^(?i)(?:(?:approx(?:\.|imately)?|about|circa|ca\.?|roughly|around|abt\.?|c\.|some|nearly|almost|ungefähr|env\.?)\s*|[~≈≃±]\s*)+`)
	orSo    = regexp.MustCompile(`(?i)\s*(?:\(?\s*(?:approx\.?|approximately|or so|about|ish|est\.?|estimated|estimate)\s*\)?|\?+|[~*])$`)
	between = regexp.MustCompile(`^(.*?\d[^\s\d]*|.*?[½¼¾⅓⅔⅛])\s*(?:-|–|—|−|\bto\b|\bbis\b|\.\.+|…)\s*(\S.*)$`)
	within  = regexp.MustCompile(`^(.*\d.*?)\s*(?:±|\+/-|\+-)\s*[\d.,/ ]+(.*)$`)
	plus    = regexp.MustCompile(`^(\d{1,5})\s*\+\s*(\d{1,5})$`)
	bare    = regexp.MustCompile(`^[-+]?[\d.,/\s½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]+$`)
	commas  = regexp.MustCompile(`\d,(?:\d{1,2}|\d{4,})(?:\D|$)`)
	triple  = regexp.MustCompile(`\d,\d{3}(?:\D|$)`)
	square  = regexp.MustCompile(`^(.*\d.*?)\s*(?:sq\.?|square)$`)
)

// nothing reports whether a cell says nothing.
func nothing(text string) bool {
	return slices.Contains(noValue, strings.ToLower(strings.TrimSpace(text)))
}

// roughly takes the words of doubt off a text, and says whether there were any.
func roughly(text string) (string, bool) {
	t := strings.TrimSpace(text)
	cut := orSo.ReplaceAllString(about.ReplaceAllString(t, ""), "")
	return strings.TrimSpace(cut), cut != t
}

// number reads one quantity. note says how a text was read that is not plain.
func (st style) number(kind measure.Kind, text, unit string, sys measure.System) (v float64, note string, err error) {
	t, rough := roughly(text)
	if v, err = st.plain(kind, t, unit, sys); err == nil {
		if rough {
			note = fmt.Sprintf("“%s” is read as %s", text, shown(v, kind))
		}
		return v, note, nil
	}
	if m := within.FindStringSubmatch(t); m != nil {
		if v, err2 := st.plain(kind, m[1]+m[2], unit, sys); err2 == nil {
			return v, fmt.Sprintf("“%s” is read as %s", text, shown(v, kind)), nil
		}
	}
	if m := plus.FindStringSubmatch(t); m != nil && (kind == measure.OfSheets || kind == measure.OfCount) {
		a, err1 := st.plain(kind, m[1], unit, sys)
		b, err2 := st.plain(kind, m[2], unit, sys)
		if err1 == nil && err2 == nil {
			return a + b, fmt.Sprintf("“%s” is read as %s", text, shown(a+b, kind)), nil
		}
	}
	if low, high, ok := st.ends(kind, t, unit, sys); ok {
		v = (low + high) / 2
		if kind == measure.OfSheets || kind == measure.OfCount {
			v = math.Floor(v)
		}
		return v, fmt.Sprintf("“%s” is read as its middle, %s", text, shown(v, kind)), nil
	}
	return 0, "", err
}

// ends reads a range. The first end may leave its unit to the second.
func (st style) ends(kind measure.Kind, t, unit string, sys measure.System) (low, high float64, ok bool) {
	m := between.FindStringSubmatch(t)
	if m == nil {
		return 0, 0, false
	}
	from, to := m[1], m[2]
	high, err := st.plain(kind, to, unit, sys)
	if err != nil {
		return 0, 0, false
	}
	if bare.MatchString(from) && !bare.MatchString(to) {
		from += " " + strings.TrimLeft(to, "0123456789.,/ ½⅓⅔¼¾⅛⅜⅝⅞")
	}
	low, err = st.plain(kind, from, unit, sys)
	return low, high, err == nil && low <= high
}

// plain reads a quantity as measure does; a bare number is in the column's
// unit.
func (st style) plain(kind measure.Kind, t, unit string, sys measure.System) (float64, error) {
	if st.comma && triple.MatchString(t) && !strings.Contains(t, ".") {
		t = strings.Replace(t, ",", ".", 1)
	}
	if bare.MatchString(t) && unit != "" {
		t += " " + unit
	}
	return measure.Parse(kind, t, sys)
}

// size reads two sides, the longer first.
func (st style) size(text, unit string, sys measure.System) (long, short float64, note string, err error) {
	t, rough := roughly(text)
	if m := square.FindStringSubmatch(strings.ToLower(t)); m != nil && !strings.ContainsAny(m[1], "x×*") {
		t = m[1] + " x " + m[1]
	}
	if n, ok := namedSizes()[sizeName(t)]; ok {
		return float64(n.Long), float64(n.Short), "", nil
	}
	if !strings.ContainsFunc(t, isUnitSign) && unit != "" {
		t += " " + unit
	}
	a, b, err := measure.ReadSize(t, sys)
	if err != nil {
		return 0, 0, "", err
	}
	long, short = float64(max(a, b)), float64(min(a, b))
	if rough {
		note = fmt.Sprintf("“%s” is read as %s", text, measure.ShowSize(measure.Length(long), measure.Length(short), sys))
	}
	return long, short, note, nil
}

// namedSizes are the sizes that have a name, by it.
var namedSizes = sync.OnceValue(func() map[string]sheet.NamedSize {
	by := map[string]sheet.NamedSize{}
	for _, n := range sheet.NamedSizes() {
		by[sizeName(n.Name)] = n
	}
	return by
})

func sizeName(s string) string { return strings.ToLower(strings.ReplaceAll(s, " ", "")) }

// isUnitSign reports whether a sign of a size belongs to a unit.
func isUnitSign(r rune) bool {
	return r == '"' || r == '\'' || r == '″' || r == '”' || r == '′' || r >= 'a' && r <= 'z' && r != 'x' && r != 'b' && r != 'y' || r >= 'A' && r <= 'Z' && r != 'X'
}

// owns are the units in which Parse returns what it reads.
var owns = map[measure.Kind]string{
	measure.OfSheets: "sheets", measure.OfPercent: "%", measure.OfLength: "mm", measure.OfCaliper: "mm", measure.OfMass: "g",
	measure.OfVolume: "L", measure.OfGrammage: "g/m²", measure.OfHours: "h",
}

// shown writes a number as it was understood.
func shown(v float64, kind measure.Kind) string {
	return strings.TrimSpace(fmt.Sprintf("%.5g %s", v, owns[kind]))
}

// learn looks a column through for how it is written.
func learn(s Sheet, from, column int, usual string) style {
	st := style{dayFirst: usual != MonthFirst}
	first, second := false, false // a figure above twelve in that place
	for _, row := range s.Rows[from:] {
		c := row.at(column)
		if commas.MatchString(c) {
			st.comma = true
		}
		if a, b, ok := figures(c); ok {
			first, second = first || a > 12, second || b > 12
		}
	}
	if first != second {
		st.dayFirst, st.sure = first, true
	}
	return st
}

// cannot makes a reason of a fault, with the cell it is about.
func cannot(line, column int, heading string, err error) string {
	text := fault.All(err)[0].Text
	return fmt.Sprintf("%s, %s: %s", Place(line, column), heading, text)
}
