package measure

import (
	"cmp"
	"slices"

	"vatside/internal/fault"
)

// Cell is one number of a row of a printed table of paper weights: whole
// pounds under the head of a basis.
type Cell struct {
	Basis  Basis
	Pounds float64
}

// Doubt is a cell that disagrees with the rest of its row.
type Doubt struct {
	At    int      // place in the row
	Ought float64  // the pounds that would agree, lb
	Fits  []string // the bases on which the printed number would agree
}

// mostCells is wider than any table of weights.
const mostCells = 40

// CheckRow finds what is wrong in a row whose cells ought to be one paper. It
// returns the grammage that most of them say, g/m², and the cells that say
// another. A printed number stands for half a pound either way, so each cell
// spans a range of grammage; the row is where most ranges meet. Two cells that
// fit each other's basis were exchanged; one that fits its basis under another
// size has a wrong head.
//
// Faults: Invalid where fewer than two cells agree, or two groups are as large.
func CheckRow(row []Cell) (grammage float64, doubts []Doubt, err error) {
	if len(row) < 3 || len(row) > mostCells {
		return 0, nil, fault.Invalid("", "a row of 3 to %d numbers can be checked against itself", mostCells)
	}
	for _, c := range row {
		if !Within(c.Pounds, 1, 2000) || !Within(c.Basis.Long, 1, 200) || !Within(c.Basis.Short, 1, 200) || c.Basis.Sheets < 1 {
			return 0, nil, fault.OutOfRange("", "a cell is 1 to 2000 lb to a ream of sheets of 1 to 200 in a side")
		}
	}
	low, high, many := meeting(row)
	if many < 2 {
		return 0, nil, fault.Invalid("", "no two numbers of this row say one paper, or as many say another")
	}
	grammage = (low + high) / 2
	for i, c := range row {
		if a, b := c.spans(c.Basis); a <= high && b >= low {
			continue
		}
		d := Doubt{At: i, Ought: grammage / c.Basis.PerPound()}
		for _, other := range bases {
			if a, b := c.spans(other); a <= high && b >= low {
				d.Fits = append(d.Fits, other.Name)
			}
		}
		doubts = append(doubts, d)
	}
	return grammage, doubts, nil
}

// spans is the grammage a whole number of pounds may stand for on a basis.
func (c Cell) spans(b Basis) (low, high float64) {
	return (c.Pounds - 0.5) * b.PerPound(), (c.Pounds + 0.5) * b.PerPound()
}

// meeting returns the range of grammage in which most cells meet and how many
// do; none when two ranges apart hold as many.
func meeting(row []Cell) (low, high float64, many int) {
	type end struct {
		at   float64
		step int
	}
	var ends []end
	for _, c := range row {
		a, b := c.spans(c.Basis)
		ends = append(ends, end{a, 1}, end{b, -1})
	}
	slices.SortFunc(ends, func(a, b end) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(b.step, a.step)) })
	here, ties := 0, 0
	for i, e := range ends {
		here += e.step
		switch {
		case e.step < 0:
		case here > many:
			low, high, many, ties = e.at, ends[i+1].at, here, 0
		case here == many:
			ties++
		}
	}
	if ties > 0 {
		return 0, 0, 0
	}
	return low, high, many
}
