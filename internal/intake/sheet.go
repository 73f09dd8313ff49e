// Package intake takes records in from the sheets people keep them in, and
// hands all of a studio out again.
//
// A Sheet is rows of cells, wherever it comes from. A Matching says which
// column holds what, and in which unit; it is guessed from the headings and
// remembered by them. Propose reads every row by it and says what would be
// added, changed, passed over, and what cannot be read and why; nothing is
// written by that. What it proposes is one batch of the studio, taken in as
// one and undone as one.
//
// Standing assumptions: what is not certain is read in the plainest way and
// said (a range as its middle, "approx" as the number); a number with a unit
// of its own keeps it; what no column is matched to is kept in the remarks; a
// past making has no plan, so only what its row says itself is learned from.
// The same file taken in twice changes nothing. Missing: photos beside rows,
// minutes of single steps, weighings of several posts in one row.
package intake

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"vatside/internal/fault"
)

// Limits of what is taken in. Ours: far above twenty years of a notebook.
const (
	MostBytes = 50 << 20 // of a file
	mostRows  = 200_000
	mostCells = 4_000_000
	mostText  = 20_000 // characters of a cell
)

// Sheet is rows of cells.
type Sheet struct {
	Name     string
	Rows     []Cells
	Date1904 bool // days are counted from 1904, as some spreadsheets do
}

// Cells is one row; Line is where it stands in the file, from 1.
type Cells struct {
	Line  int
	Cells []string
}

// at is the cell of a column, without the space around it; "" past the end.
func (c Cells) at(column int) string {
	if column < 0 || column >= len(c.Cells) {
		return ""
	}
	return strings.TrimSpace(c.Cells[column])
}

func (c Cells) blank() bool {
	for i := range c.Cells {
		if c.at(i) != "" {
			return false
		}
	}
	return true
}

// Open reads the sheets of a file, by its name: .xlsx, or text with a mark
// between the cells. Faults: Invalid.
func Open(name string, r io.Reader) ([]Sheet, error) {
	data, err := io.ReadAll(io.LimitReader(r, MostBytes+1))
	if err != nil {
		return nil, err
	}
	if len(data) > MostBytes {
		return nil, fault.Invalid("file", "the file is larger than %d MB; take it in in parts", MostBytes>>20)
	}
	base := filepath.Base(name)
	switch {
	case len(bytes.TrimSpace(data)) == 0:
		return nil, fault.Invalid("file", "there is nothing in %s", base)
	case bytes.HasPrefix(data, []byte("PK\x03\x04")):
		return openXLSX(base, data)
	case bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0")):
		return nil, fault.Invalid("file", "%s is an old or a locked spreadsheet; open it and save it as .xlsx or .csv without a password", base)
	}
	s, err := readText(data)
	s.Name = strings.TrimSuffix(base, filepath.Ext(base))
	if err != nil {
		return nil, err
	}
	return []Sheet{s}, nil
}

// decode makes readable text of what was written: a byte-order mark says what
// it is; else what is no UTF-8 is taken as Windows-1252, in which every byte
// is a sign.
func decode(data []byte) (string, error) {
	switch {
	case bytes.HasPrefix(data, []byte("\xef\xbb\xbf")):
		data = data[3:]
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")):
		out, err := unicode.UTF16(unicode.LittleEndian, unicode.ExpectBOM).NewDecoder().Bytes(data)
		return string(out), err
	}
	if utf8.Valid(data) {
		return string(data), nil
	}
	out, err := charmap.Windows1252.NewDecoder().Bytes(data)
	return string(out), err
}

// readText reads text whose cells are parted by comma, semicolon or tab.
func readText(data []byte) (Sheet, error) {
	text, err := decode(data)
	if err != nil || strings.ContainsRune(text, 0) {
		return Sheet{}, fault.Invalid("file", "this is neither a spreadsheet nor text; save it as .xlsx or .csv")
	}
	// Old machines end lines with a carriage return alone.
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	r := csv.NewReader(bufio.NewReader(strings.NewReader(text)))
	r.Comma, r.FieldsPerRecord, r.LazyQuotes = delimiter(text), -1, true
	var s Sheet
	cells := 0
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			return s, nil
		}
		if err != nil {
			return s, fault.Invalid("file", "the text cannot be read as a table: %v", err)
		}
		line, _ := r.FieldPos(0)
		cells += len(row)
		if err := s.add(Cells{line, row}, cells); err != nil {
			return s, err
		}
	}
}

// add adds a row that says anything, within the limits.
func (s *Sheet) add(row Cells, cells int) error {
	if len(s.Rows) >= mostRows || cells > mostCells {
		return tooMany()
	}
	for i, c := range row.Cells {
		if len(c) > mostText && utf8.RuneCountInString(c) > mostText {
			return fault.Invalid("file", "cell %s holds more than %d characters", Place(row.Line, i), mostText)
		}
		row.Cells[i] = plainText(c)
	}
	if !row.blank() {
		s.Rows = append(s.Rows, row)
	}
	return nil
}

func tooMany() error {
	return fault.Invalid("file", "the sheet has more than %d rows or %d cells; take it in in parts", mostRows, mostCells)
}

// plainText takes out what cannot be seen, and the mark that keeps a
// spreadsheet from reckoning with a text.
func plainText(c string) string {
	c = strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t':
			return r
		case r < ' ' || r == 0x7f || r == '\ufeff' || r == '\u200b' || r == utf8.RuneError:
			return -1
		}
		return r
	}, c)
	if isSameAs(c) { // two apostrophes are a sign of their own
		return c
	}
	return unguard(c)
}

// delimiter is the mark that parts the cells: the one that the first lines
// have in the most even number, outside of quotes.
func delimiter(text string) rune {
	best, most := ',', 0
	for _, mark := range []rune{',', ';', '\t', '|'} {
		count := map[int]int{}
		inQuote, here, lines := false, 0, 0
		for _, c := range text {
			switch {
			case c == '"':
				inQuote = !inQuote
			case c == mark && !inQuote:
				here++
			case c == '\n' && !inQuote:
				if here > 0 {
					count[here]++
				}
				here = 0
				lines++
			}
			if lines > 50 {
				break
			}
		}
		if here > 0 {
			count[here]++
		}
		for n, times := range count {
			// as many columns in as many lines: both speak for the mark
			if n*times > most {
				best, most = mark, n*times
			}
		}
	}
	return best
}

// Place is a cell as spreadsheets name it, such as C12.
func Place(line, column int) string {
	name := ""
	for c := column + 1; c > 0; c = (c - 1) / 26 {
		name = string(rune('A'+(c-1)%26)) + name
	}
	return fmt.Sprintf("%s%d", name, line)
}

// Cells that begin so are reckoned with by spreadsheets.
const formulaMarks = "=+-@\t\r"

// guard writes a text so that no spreadsheet reckons with it; unguard reads it
// back. A text that begins with the mark itself gets it once more.
func guard(text string) string {
	if text != "" && (strings.IndexByte(formulaMarks, text[0]) >= 0 || text[0] == '\'') {
		return "'" + text
	}
	return text
}

func unguard(text string) string {
	if len(text) > 1 && text[0] == '\'' && (strings.IndexByte(formulaMarks, text[1]) >= 0 || text[1] == '\'') {
		return text[1:]
	}
	return text
}
