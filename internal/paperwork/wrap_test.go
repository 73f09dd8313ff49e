package paperwork

import (
	"strings"
	"testing"
)

// A number and its unit stand on one line, however narrow the place; nothing is
// lost, and no line is wider.
func TestNumberAndUnitStayTogether(t *testing.T) {
	t.Parallel()
	p, err := sampleCard(3, 3).newPen(A4)
	if err != nil {
		t.Fatal(err)
	}
	const said = "Fill the vat with 17.5 L of water, then 1,200\u00a0mL of stock; 60 sheets at 50\u202f% and 3/4 US gal"
	for w := 25.0; w < 120; w++ {
		lines := p.wrap(plain, 9, said, w)
		for i, line := range lines {
			if p.width(plain, 9, line) > w {
				t.Errorf("%q is wider than %.0f mm", line, w)
			}
			words := strings.Fields(line)
			if last := words[len(words)-1]; i < len(lines)-1 && strings.Trim(last, "0123456789.,/") == "" {
				t.Errorf("in %.0f mm %q ends in a number whose unit is on the next line", w, line)
			}
		}
		if got := strings.Join(lines, " "); got != strings.Join(strings.Fields(said), " ") {
			t.Errorf("in %.0f mm it says %q", w, got)
		}
	}
}
