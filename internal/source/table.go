package source

import (
	"encoding/csv"
	"fmt"
	"io/fs"
	"strings"
)

// Table reads one table of the handbook, a CSV of so many columns, row by row
// without its heading. An error names the file and the line: a table that
// cannot be read is a defect of the program.
func Table(files fs.FS, name string, columns int, each func(row []string) error) error {
	f, err := files.Open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	rd := csv.NewReader(f)
	rd.FieldsPerRecord = columns
	all, err := rd.ReadAll()
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	if len(all) == 0 {
		return fmt.Errorf("%s is empty", name)
	}
	for i, r := range all[1:] {
		if err := each(r); err != nil {
			return fmt.Errorf("%s, line %d: %w", name, i+2, err)
		}
	}
	return nil
}

// Entries splits a cell of several entries at its bars; an empty cell has none.
func Entries(cell string) []string {
	if cell == "" {
		return nil
	}
	return strings.Split(cell, "|")
}
