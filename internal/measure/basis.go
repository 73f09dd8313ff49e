package measure

import (
	"fmt"
	"strings"
)

// Basis is what the pounds of a paper are the weight of: a ream of so many
// sheets of one size (source: us-basis-sizes). The same paper has as many
// weights in pounds as there are bases.
type Basis struct {
	Name        string
	Also        []string // other names of papers sold by it
	Long, Short float64  // in
	Sheets      int      // in the ream
}

var bases = []Basis{
	{Name: "bond", Also: []string{"writing", "ledger"}, Long: 22, Short: 17, Sheets: 500},
	{Name: "book", Also: []string{"text", "offset"}, Long: 38, Short: 25, Sheets: 500},
	{Name: "cover", Long: 26, Short: 20, Sheets: 500},
	{Name: "bristol", Long: 28.5, Short: 22.5, Sheets: 500},
	{Name: "index", Long: 30.5, Short: 25.5, Sheets: 500},
	{Name: "tag", Long: 36, Short: 24, Sheets: 500},
	{Name: "watercolour", Also: []string{"watercolor"}, Long: 30, Short: 22, Sheets: 500},
}

// Bases returns the bases that pounds are read on.
func Bases() []Basis { return append([]Basis(nil), bases...) }

// PerPound returns the grammage that one pound of the ream makes, g/m².
func (b Basis) PerPound() float64 {
	return pound / (float64(b.Sheets) * b.Long * b.Short * squareFt / 144)
}

// working is PerPound as arithmetic.
func (b Basis) working() string {
	return fmt.Sprintf("453.59237 / (%d × %s × %s × 0.00064516)", b.Sheets, shortNumber(b.Short), shortNumber(b.Long))
}

// basisUnits are pounds to the ream as units of grammage.
func basisUnits() []unit {
	var out []unit
	for _, b := range bases {
		for _, name := range append([]string{b.Name}, b.Also...) {
			out = append(out, unit{kind: OfGrammage, name: "lb " + name, factor: b.PerPound(), exact: b.working()})
		}
	}
	return out
}

// pounds are the further spellings of pounds to the ream: 80# cover, 80 lbs
// cover, 80 lb cover stock.
func pounds(u unit) []string {
	name, ok := strings.CutPrefix(u.name, "lb ")
	if u.kind != OfGrammage || !ok {
		return nil
	}
	var out []string
	for _, lb := range []string{"lb ", "lb. ", "lbs ", "lbs. ", "pound ", "pounds ", "# ", "#"} {
		for _, stuff := range []string{"", " paper", " stock"} {
			if spelt := lb + name + stuff; spelt != u.name {
				out = append(out, spelt)
			}
		}
	}
	return out
}

// Reams and quires as they are met (sources: quires-reams, ream-dictionary,
// modern-paper-making): 480 is twenty quires of 24; 472 a handmade mill's ream
// with its outsides; 516 a printer's perfect ream.
func sheetUnits() []unit {
	out := []unit{{kind: OfSheets, name: "sheets", factor: 1, words: "sheet"}}
	for _, n := range []int{472, 480, 500, 516} {
		out = append(out, bundle("ream", n))
	}
	for _, n := range []int{24, 25} {
		out = append(out, bundle("quire", n))
	}
	return out
}

func bundle(noun string, n int) unit {
	return unit{kind: OfSheets, name: fmt.Sprintf("%ss of %d", noun, n), factor: float64(n), words: fmt.Sprintf("%s of %d", noun, n)}
}
