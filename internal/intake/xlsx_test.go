package intake

import (
	"bytes"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"vatside/internal/fault"
)

// filled is an invented spreadsheet of one sheet, filled row by row.
func filled(t *testing.T, fill func(w *excelize.StreamWriter) error) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close() //nolint:errcheck // it was never on a disk
	w, err := f.NewStreamWriter("Sheet1")
	if err != nil {
		t.Fatal(err)
	}
	if err := fill(w); err != nil {
		t.Fatal(err)
	}
	if err := w.Flush(); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// What binary arithmetic left over is taken off numbers; figures that were kept
// as words stay as they are.
func TestOnlyNumbersAreRounded(t *testing.T) {
	t.Parallel()
	third := 0.1
	row := []any{third + 0.2, "4915112345678901", "0.30000000000000004", "1e3"}
	list, err := Open("x.xlsx", bytes.NewReader(filled(t, func(w *excelize.StreamWriter) error { return w.SetRow("A1", row) })))
	if err != nil {
		t.Fatal(err)
	}
	if got, want := strings.Join(list[0].Rows[0].Cells, " "), "0.3 4915112345678901 0.30000000000000004 1e3"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// A small file that unpacks to more cells than are taken in is refused before
// they fill the machine.
func TestSheetsThatSwell(t *testing.T) {
	t.Parallel()
	for name, fill := range map[string]func(w *excelize.StreamWriter) error{
		"one cell far to the right in many rows": func(w *excelize.StreamWriter) error {
			for line := 1; line <= 300; line++ {
				if err := w.SetRow(Place(line, 16_383), []any{1}); err != nil {
					return err
				}
			}
			return nil
		},
		"one cell merged far down": func(w *excelize.StreamWriter) error {
			if err := w.SetRow("XFD1", []any{1}); err != nil {
				return err
			}
			for line := 2; line <= 300; line++ {
				if err := w.SetRow(Place(line, 0), []any{1}); err != nil {
					return err
				}
			}
			return w.MergeCell("XFD1", "XFD300")
		},
		"merged all over": func(w *excelize.StreamWriter) error {
			if err := w.SetRow("A1", []any{1}); err != nil {
				return err
			}
			for line := 1; line <= mostMerged+1; line++ {
				if err := w.MergeCell(Place(line, 0), Place(line, 1)); err != nil {
					return err
				}
			}
			return nil
		},
	} {
		if _, err := Open("x.xlsx", bytes.NewReader(filled(t, fill))); fault.KindOf(err) != fault.KindInvalid {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Every sign for the cell above is read as that, two apostrophes among them.
func TestSignsForTheCellAbove(t *testing.T) {
	t.Parallel()
	u, _ := newStudio(t)
	for _, sign := range sameAs {
		cell := `"` + strings.ReplaceAll(sign, `"`, `""`) + `"`
		p := propose(t, u, open(t, "Date,Paper,Fibre,g/m2\n2019-05-03,Heron text,abaca,100\n2019-05-04,"+cell+",abaca,100\n"), Makings)
		if len(p.Rows) != 2 || p.Rows[1].Does != Adds || !strings.Contains(p.Rows[1].Name, "Heron text") {
			t.Errorf("%s: %+v", sign, p.Rows)
		}
	}
}
