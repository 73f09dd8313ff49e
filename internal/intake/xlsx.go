package intake

import (
	"bytes"
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
	for line := 1; rows.Next(); line++ {
		cells, err := rows.Columns()
		if err != nil {
			return fault.Invalid("file", "row %d of the sheet %q cannot be read", line, s.Name)
		}
		for i, c := range cells {
			cells[i] = exact(c)
		}
		if len(all) >= mostRows {
			break // refused below
		}
		all = append(all, Cells{line, cells})
	}
	spread(f, s.Name, all)
	count := 0
	for _, row := range all {
		count += len(row.Cells)
		if err := s.add(row, count); err != nil {
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

// spread writes the text of merged cells into each of them: a day written once
// beside several rows holds for all of them.
func spread(f *excelize.File, sheet string, rows []Cells) {
	merged, err := f.GetMergeCells(sheet)
	if err != nil {
		return
	}
	for _, m := range merged {
		c1, r1, err1 := excelize.CellNameToCoordinates(m.GetStartAxis())
		c2, r2, err2 := excelize.CellNameToCoordinates(m.GetEndAxis())
		if err1 != nil || err2 != nil || r1 > len(rows) || c1 > len(rows[r1-1].Cells) {
			continue
		}
		if c2 > c1 { // a title over several columns is said once
			c2 = c1
		}
		text := rows[r1-1].Cells[c1-1]
		for r := r1; r <= min(r2, len(rows)); r++ {
			row := &rows[r-1]
			for len(row.Cells) < c2 {
				row.Cells = append(row.Cells, "")
			}
			row.Cells[c1-1] = text
		}
	}
}
