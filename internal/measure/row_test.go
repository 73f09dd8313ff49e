package measure

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/fault"
)

// trueRow is one paper in whole pounds on every basis.
func trueRow(grammage float64) []Cell {
	var row []Cell
	for _, b := range bases {
		row = append(row, Cell{b, math.Round(grammage / b.PerPound())})
	}
	return row
}

// A row that is one paper has no doubts, and its grammage is within half a
// pound of the finest basis.
func TestTrueRowHasNoDoubts(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		want := rapid.Float64Range(30, 500).Draw(t, "grammage")
		got, doubts, err := CheckRow(trueRow(want))
		if err != nil || len(doubts) > 0 || math.Abs(got-want) > basisOf("book").PerPound()/2 {
			t.Fatalf("%g g/m² is taken for %g with %+v, %v", want, got, doubts, err)
		}
	})
}

// Two exchanged cells are found, each fits the basis of the other, and what
// they ought to be is within half a pound or so.
func TestExchangedCellsAreFound(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		want := rapid.Float64Range(60, 500).Draw(t, "grammage")
		i, j := rapid.IntRange(0, len(bases)-1).Draw(t, "one"), rapid.IntRange(0, len(bases)-1).Draw(t, "other")
		if ratio := bases[i].PerPound() / bases[j].PerPound(); ratio > 0.8 && ratio < 1.25 {
			return // too alike to tell
		}
		row := trueRow(want)
		right := []float64{row[i].Pounds, row[j].Pounds}
		row[i].Pounds, row[j].Pounds = row[j].Pounds, row[i].Pounds
		_, doubts, err := CheckRow(row)
		if err != nil || len(doubts) != 2 {
			t.Fatalf("%g g/m²: %+v, %v", want, doubts, err)
		}
		for _, d := range doubts {
			k, other := 0, j
			if d.At == j {
				k, other = 1, i
			}
			if math.Abs(d.Ought-right[k]) > 1.1 || !slices.Contains(d.Fits, bases[other].Name) {
				t.Fatalf("%g g/m²: %+v, want %g and %s", want, d, right[k], bases[other].Name)
			}
		}
	})
}

func basisOf(name string) Basis {
	return bases[slices.IndexFunc(bases, func(b Basis) bool { return b.Name == name })]
}

func TestCheckRowRefuses(t *testing.T) {
	t.Parallel()
	book, bond := basisOf("book"), basisOf("bond")
	for name, row := range map[string][]Cell{
		"too short":     {{book, 60}, {bond, 24}},
		"none agree":    {{book, 60}, {bond, 60}, {basisOf("tag"), 10}},
		"as many apart": {{book, 60}, {bond, 24}, {book, 100}, {bond, 39}},
		"NaN":           {{book, math.NaN()}, {bond, 24}, {book, 60}},
		"infinite":      {{book, math.Inf(1)}, {bond, 24}, {book, 60}},
		"nothing":       {{book, 0}, {bond, 24}, {book, 60}},
		"no sheet":      {{Basis{Sheets: 500}, 60}, {bond, 24}, {book, 60}},
		"no ream":       {{Basis{Long: 38, Short: 25}, 60}, {bond, 24}, {book, 60}},
	} {
		g, doubts, err := CheckRow(row)
		if kind := fault.KindOf(err); err == nil || g != 0 || doubts != nil || kind != fault.KindInvalid && kind != fault.KindOutOfRange {
			t.Errorf("%s: %g, %+v, %v", name, g, doubts, err)
		}
	}
}
