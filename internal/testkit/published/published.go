// Package published reads the check values of published/ for the tests of the
// formulas: tables typed from print, each with its source in the header.
package published

import (
	"encoding/csv"
	"os"
	"strconv"
	"testing"
)

// folder is published/ seen from a package directly below internal/.
const folder = "../../published/"

// Rows returns the rows of a table, comments and heading left out. A table
// without rows fails the test: it would check nothing.
func Rows(t testing.TB, name string) [][]string {
	t.Helper()
	return File(t, folder+name)[1:]
}

// Table returns the rows of a table by the names of its columns.
func Table(t testing.TB, name string) []map[string]string {
	t.Helper()
	all := File(t, folder+name)
	out := make([]map[string]string, 0, len(all)-1)
	for _, row := range all[1:] {
		m := make(map[string]string, len(row))
		for i, column := range all[0] {
			m[column] = row[i]
		}
		out = append(out, m)
	}
	return out
}

// Number returns the number of a cell.
func Number(t testing.TB, cell string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// File returns the rows of a table anywhere, its heading first.
func File(t testing.TB, path string) [][]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rd := csv.NewReader(f)
	rd.Comment = '#'
	all, err := rd.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 2 {
		t.Fatalf("%s holds no rows", path)
	}
	return all
}
