package intake

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"vatside/internal/fault"
	"vatside/internal/studio"
)

// Names within the folder of a studio that was handed out.
const (
	tableExt  = ".csv"
	bookName  = "studio.xlsx"
	aboutName = "README.txt"
	longMark  = "file: " // before the name of such a file, in the cell
)

// PhotoFolder is where the photos lie in it, each under its hash; who hands a
// studio out or takes one in copies them.
const PhotoFolder = "photos"

// LongFolder is where the texts lie that are too long for a cell, each in a file.
const LongFolder = "long"

// longest is the most characters of a cell: what a spreadsheet holds is 32,767
// (ECMA-376 leaves it to programs; all keep to this).
const longest = 32_000

// fileNames are the tables whose file has another name than they.
var fileNames = map[string]string{
	"making": "makings", "making_event": "events", "paper": "papers", "paper_revision": "paper_revisions", "person": "customers",
	"brief": "briefs", "lot": "lots", "lot_movement": "movements", "belief_pin": "pins", "studio_profile": "profile",
	"observation_exclusion": "left_out",
}

func fileOf(table string) string {
	if name, ok := fileNames[table]; ok {
		return name
	}
	return table
}

func tableOf(file string) string {
	for table, name := range fileNames {
		if name == file {
			return table
		}
	}
	return file
}

const aboutText = `This folder is a whole studio, handed out by Vatside: one table to a file, each
with its headings, numbers in the unit that the heading ends in, times in UTC.
studio.xlsx holds the same tables to be read in a spreadsheet. A cell that says
"file: …" stands for a longer text in that file. Texts that a spreadsheet would
reckon with have an apostrophe before them. Photos are in the folder photos.

To make a studio of it again:  vatside import THIS-FOLDER --data NEW-FOLDER
`

// Tables hands over what a studio holds.
type Tables interface {
	Tables(ctx context.Context, each func(studio.Table) error) error
}

// Export writes all of a studio but its photos into a folder that is empty or
// not there. Faults: Invalid where the folder holds something; Storage.
func Export(ctx context.Context, s Tables, dir string) error {
	if list, err := os.ReadDir(dir); err == nil && len(list) > 0 {
		return fault.Invalid("DIR", "the folder %s is not empty: name a new one", dir)
	} else if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fault.Storage(err, "the folder %s cannot be used", dir)
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return fault.Storage(err, "the folder %s cannot be made", dir)
	}
	book := newBook()
	defer book.Close() //nolint:errcheck // what it wrote is flushed below
	err := s.Tables(ctx, func(t studio.Table) error {
		rows, err := cellsOf(dir, t)
		if err != nil {
			return err
		}
		if err := writeCSV(filepath.Join(dir, fileOf(t.Name)+tableExt), t.Columns, rows); err != nil {
			return err
		}
		return book.sheet(fileOf(t.Name), t, rows)
	})
	if err == nil {
		err = book.save(filepath.Join(dir, bookName))
	}
	if err == nil {
		err = writeFile(filepath.Join(dir, aboutName), []byte(aboutText))
	}
	var told *fault.Error
	if err != nil && !errors.As(err, &told) {
		return fault.Storage(err, "the studio could not be handed out")
	}
	return err
}

// cellsOf makes a table's rows fit to be cells: what is long goes into files,
// what a spreadsheet would reckon with is guarded.
func cellsOf(dir string, t studio.Table) ([][]string, error) {
	rows := make([][]string, len(t.Rows))
	for i, row := range t.Rows {
		rows[i] = slices.Clone(row)
		for j, c := range row {
			switch {
			case !t.Text[j]:
			case len(c) > longest:
				name := path.Join(LongFolder, t.Name, strconv.Itoa(i+1)+"-"+t.Columns[j]+".txt")
				if err := writeFile(filepath.Join(dir, filepath.FromSlash(name)), []byte(c)); err != nil {
					return nil, err
				}
				rows[i][j] = longMark + name
			default:
				rows[i][j] = guardCell(c)
			}
		}
	}
	return rows, nil
}

// guardCell is guard, of what would be taken for the name of a file too.
// Carriage returns are written out, as tables of text have no way to keep
// them apart from line ends.
func guardCell(c string) string {
	if strings.HasPrefix(c, longMark) {
		c = "'" + c
	} else {
		c = guard(c)
	}
	if strings.ContainsAny(c, "\r\x00") || strings.Contains(c, `\u`) {
		c = strings.NewReplacer(`\u`, `\u005cu`, "\r", `\u000d`, "\x00", `\u0000`).Replace(c)
	}
	return c
}

func unguardCell(c string) string {
	if strings.Contains(c, `\u`) {
		c = strings.NewReplacer(`\u005cu`, `\u`, `\u000d`, "\r", `\u0000`, "\x00").Replace(c)
	}
	if rest, ok := strings.CutPrefix(c, "'"); ok && strings.HasPrefix(rest, longMark) {
		return rest
	}
	return unguard(c)
}

func writeCSV(file string, columns []string, rows [][]string) error {
	var buf bytes.Buffer
	// The mark tells spreadsheets that what follows is UTF-8.
	buf.WriteString("\ufeff")
	w := csv.NewWriter(&buf)
	w.UseCRLF = false
	if err := w.Write(columns); err != nil {
		return err
	}
	if err := w.WriteAll(rows); err != nil {
		return err
	}
	return writeFile(file, buf.Bytes())
}

func writeFile(file string, data []byte) error {
	if err := os.MkdirAll(filepath.Dir(file), 0o700); err != nil {
		return err
	}
	return os.WriteFile(file, data, 0o600)
}

// book is the spreadsheet that is written beside the tables.
type book struct {
	*excelize.File
	sheets int
}

func newBook() *book { return &book{File: excelize.NewFile()} }

// mostBookRows is one less than the rows of a sheet (ECMA-376: 1,048,576).
const mostBookRows = 1_048_575

// sheet adds a table: numbers as numbers, words as words.
func (b *book) sheet(name string, t studio.Table, rows [][]string) error {
	if len(name) > 31 { // the most a sheet's name may have
		name = name[:31]
	}
	if b.sheets == 0 {
		if err := b.SetSheetName("Sheet1", name); err != nil {
			return err
		}
	} else if _, err := b.NewSheet(name); err != nil {
		return err
	}
	b.sheets++
	w, err := b.NewStreamWriter(name)
	if err != nil {
		return err
	}
	head := make([]any, len(t.Columns))
	for i, c := range t.Columns {
		head[i] = c
	}
	if err := w.SetRow("A1", head); err != nil {
		return err
	}
	for i, row := range rows[:min(len(rows), mostBookRows)] {
		cells := make([]any, len(row))
		for j, c := range row {
			if v, err := strconv.ParseFloat(c, 64); err == nil && !t.Text[j] {
				cells[j] = v
			} else if c != "" {
				cells[j] = c
			}
		}
		if err := w.SetRow("A"+strconv.Itoa(i+2), cells); err != nil {
			return err
		}
	}
	return w.Flush()
}

func (b *book) save(file string) error {
	if b.sheets == 0 {
		return nil
	}
	var buf bytes.Buffer
	if err := b.Write(&buf); err != nil {
		return err
	}
	return writeFile(file, buf.Bytes())
}
