package studio

import (
	"strconv"
	"strings"

	"vatside/internal/web/part"
)

// differing sets two versions of the studio side by side: blank by blank what
// there is one of, and of a list the things that are not the same in both, each
// in one piece.
func differing(mine, theirs []Group) []part.Row {
	var out []part.Row
	for i, g := range mine {
		out = append(out, part.Differing(g.Fields, theirs[i].Fields)...)
		rows, others := g.Rows, theirs[i].Rows
		for n := range max(len(rows), len(others)) {
			a, b := at(rows, n), at(others, n)
			if a != b {
				out = append(out, part.Row{Cells: []string{place(g, n), a, b}})
			}
		}
	}
	return out
}

func place(g Group, n int) string { return g.New.Title + " " + strconv.Itoa(n+1) }

// at is what the n-th row says in one piece.
func at(rows []Row, n int) string {
	if n >= len(rows) || rows[n].Gone {
		return "nothing"
	}
	var said []string
	for _, c := range append(rows[n].Cells, Cell{Field: rows[n].State}) {
		text := c.Value
		for _, o := range c.Options {
			if o.Value == c.Value {
				text = o.Label
			}
		}
		if c.Value != "" {
			said = append(said, text)
		}
	}
	if len(said) == 0 {
		return "nothing"
	}
	return strings.Join(said, ", ")
}
