package paperwork

import (
	"strings"
	"testing"
)

// A cook card says its cautions, each with its source and under the sentence on
// local rules, whom to call, and keeps lines to write on, on either paper.
func TestCookCard(t *testing.T) {
	t.Parallel()
	long := strings.Repeat("Never the water on the lye. ", 6)
	c := Cook{Fibre: "Iris leaf", About: "450 g dry", Day: labelDay, Call: []string{"Poison centre: 000"}, Amounts: []Entry{{Label: "Soda ash", Value: "90 g"}},
		Order: []string{"Weigh."}, Tests: []string{"Pull."}, Waste: []Heeded{{"No septic tank.", "A rule"}}, TempUnit: "°C"}
	for range 20 {
		c.Cautions = append(c.Cautions, Heeded{long, "A data sheet"})
	}
	for _, paper := range []Size{A4, Letter} {
		p, err := c.draw(paper)
		if err != nil {
			t.Fatal(err)
		}
		var all []string
		for _, w := range p.words {
			all = append(all, w.text)
			if w.x1 > paper.W-5 || w.y > paper.H-5 {
				t.Errorf("%q ends at %.0f, %.0f", w.text, w.x1, w.y)
			}
		}
		text := strings.Join(all, " ")
		for _, want := range []string{First, "Poison centre: 000", "Soda ash", "90 g", "A data sheet", "No septic tank.", "page 2 of"} {
			if !strings.Contains(strings.ToLower(text), strings.ToLower(want)) {
				t.Errorf("the card does not say %q", want)
			}
		}
		if n := strings.Count(text, "°C"); n < leastRows {
			t.Errorf("%d lines to log on", n)
		}
	}
}
