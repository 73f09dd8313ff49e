package intake

import (
	"archive/zip"
	"bytes"
	"io"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"vatside/internal/fault"
)

// mostUnpacked is the most a spreadsheet may unpack to: far above what 50 MB
// of cells are, far below what fills a machine.
const mostUnpacked = 600 << 20

// openXLSX reads the sheets of a spreadsheet that hold anything.
func openXLSX(name string, data []byte) ([]Sheet, error) {
	f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{RawCellValue: true, UnzipSizeLimit: mostUnpacked, UnzipXMLSizeLimit: mostUnpacked})
	if err != nil {
		return nil, fault.Invalid("file", "%s cannot be read as a spreadsheet; open it and save it anew as .xlsx or .csv", name)
	}
	defer f.Close() //nolint:errcheck // it is only read
	if err := fewMerged(data); err != nil {
		return nil, err
	}
	props, err := f.GetWorkbookProps()
	epoch := err == nil && props.Date1904 != nil && *props.Date1904
	var list []Sheet
	for _, sheet := range f.GetSheetList() {
		s := Sheet{Name: sheet, Date1904: epoch}
		if err := readSheet(f, &s); err != nil {
			return nil, err
		}
		if len(s.Rows) > 0 {
			list = append(list, s)
		}
	}
	if len(list) == 0 {
		return nil, fault.Invalid("file", "there is nothing in %s", name)
	}
	return list, nil
}

func readSheet(f *excelize.File, s *Sheet) error {
	rows, err := f.Rows(s.Name)
	if err != nil {
		return fault.Invalid("file", "the sheet %q cannot be read: it holds no cells", s.Name)
	}
	defer rows.Close() //nolint:errcheck // it is only read
	var all []Cells
	said, count := 0, 0
	for line := 1; rows.Next(); line++ {
		cells, err := rows.Columns()
		if err != nil {
			return fault.Invalid("file", "row %d of the sheet %q cannot be read", line, s.Name)
		}
		row := Cells{line, cells}
		if !row.blank() {
			said++
		}
		count += len(cells)
		if said > mostRows || count > mostCells || line > mostBookRows+1 {
			return tooMany()
		}
		all = append(all, row)
	}
	if rows.Error() != nil {
		return fault.Invalid("file", "the sheet %q cannot be read to its end", s.Name)
	}
	for _, row := range all {
		for i, c := range row.Cells {
			if short := exact(c); short != c && isNumber(f, s.Name, Place(row.Line, i)) {
				row.Cells[i] = short
			}
		}
	}
	if spread(f, s.Name, all, count) > mostCells {
		return tooMany()
	}
	for _, row := range all {
		if err := s.add(row, 0); err != nil {
			return err
		}
	}
	return nil
}

// exact takes off a number what binary arithmetic left over: spreadsheets keep
// 0.1 + 0.2 as 0.30000000000000004.
func exact(cell string) string {
	if len(cell) < 16 && !strings.ContainsAny(cell, "eE") {
		return cell
	}
	v, err := strconv.ParseFloat(cell, 64)
	if err != nil || strings.ContainsAny(cell, "xXpPnN") {
		return cell
	}
	short, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 12, 64), 64)
	if err != nil {
		return cell
	}
	return strconv.FormatFloat(short, 'f', -1, 64)
}

// isNumber reports whether a cell was kept as a number: figures kept as words,
// such as those of a telephone, are words.
func isNumber(f *excelize.File, sheet, cell string) bool {
	kind, err := f.GetCellType(sheet, cell)
	return err == nil && (kind == excelize.CellTypeNumber || kind == excelize.CellTypeUnset)
}

// mostMerged is the most merged ranges that are taken in: who reads them
// compares each with each. Ours: far above what one ties together by hand.
const mostMerged = 5_000

// fewMerged refuses a spreadsheet with more merged ranges than that.
func fewMerged(data []byte) error {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return fault.Invalid("file", "the spreadsheet cannot be unpacked")
	}
	for _, part := range z.File {
		if !strings.HasPrefix(strings.ToLower(part.Name), "xl/worksheets/") {
			continue
		}
		text, err := readPart(part)
		if err != nil {
			return fault.Invalid("file", "the spreadsheet cannot be unpacked")
		}
		if bytes.Count(text, []byte("mergeCell")) > mostMerged {
			return fault.Invalid("file", "the spreadsheet has more than %d merged ranges; take them apart, or save it as .csv", mostMerged)
		}
	}
	return nil
}

func readPart(part *zip.File) ([]byte, error) {
	r, err := part.Open()
	if err != nil {
		return nil, err
	}
	defer r.Close() //nolint:errcheck // it is only read
	return io.ReadAll(io.LimitReader(r, mostUnpacked))
}

// spread writes the text of merged cells into each of them: a day written once
// beside several rows holds for all of them. It returns the count of cells with
// those it added, and stops where they are too many.
func spread(f *excelize.File, sheet string, rows []Cells, count int) int {
	merged, err := f.GetMergeCells(sheet, true)
	if err != nil {
		return count
	}
	for _, m := range merged {
		c1, r1, err1 := excelize.CellNameToCoordinates(m.GetStartAxis())
		_, r2, err2 := excelize.CellNameToCoordinates(m.GetEndAxis())
		if err1 != nil || err2 != nil || r1 > len(rows) || c1 > len(rows[r1-1].Cells) {
			continue
		}
		text := rows[r1-1].Cells[c1-1] // over several columns it is a title, and said once
		for r := r1; r <= min(r2, len(rows)) && count <= mostCells; r++ {
			row := &rows[r-1]
			if more := c1 - len(row.Cells); more > 0 {
				row.Cells = append(row.Cells, make([]string, more)...)
				count += more
			}
			row.Cells[c1-1] = text
		}
	}
	return count
}
