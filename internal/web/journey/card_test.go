package journey_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// card is what the plan's page and the printed card say.
type card struct {
	*testing.T
	figures     row
	page, print string
}

// quantity is a number and its unit.
var quantity = regexp.MustCompile(`^([0-9][0-9 ,./]*?) ?([^0-9 ,./].*)?$`)

// of reads a figure in grams, litres, hours, millimetres or plainly.
func (c card) of(key string) float64 {
	c.Helper()
	m := quantity.FindStringSubmatch(strings.Join(strings.Fields(c.figures[key]), " "))
	if m == nil {
		c.Fatalf("the page does not show %s: %q", key, c.figures[key])
	}
	v := 0.0
	for _, part := range strings.Fields(strings.ReplaceAll(m[1], ",", "")) { // 14 11/16 is a sum
		above, below, fraction := strings.Cut(part, "/")
		n, err := strconv.ParseFloat(above, 64)
		if err != nil {
			c.Fatal(err)
		}
		if d, err := strconv.ParseFloat(below, 64); fraction && err == nil {
			n /= d
		}
		v += n
	}
	inOne := map[string]float64{"kg": 1000, "lb": 453.6, "oz": 28.35, "gal": 3.785, "US gal": 3.785, "qt": 0.946, "mL": 0.001, "in": 25.4, "psi": 6.895}
	if f, ok := inOne[m[2]]; ok {
		v *= f
	}
	return v
}

// near holds a figure against a sum done by hand.
func (c card) near(key string, want, share float64) {
	c.Helper()
	if got := c.of(key); math.Abs(got-want) > share*want {
		c.Errorf("%s is %s, by hand %.4g, give or take %.0f %%", key, c.figures[key], want, share*100)
	}
}

// says looks for words on the plan's page.
func (c card) says(words ...string) {
	c.Helper()
	for _, want := range words {
		if !strings.Contains(c.page, want) {
			c.Errorf("the plan does not say %q", want)
		}
	}
}

// prints looks for words on the card.
func (c card) prints(words ...string) {
	c.Helper()
	for _, want := range words {
		if !strings.Contains(c.print, want) {
			c.Errorf("the card does not say %q", want)
		}
	}
}

// keepsQuiet of words that have no place in this studio.
func (c card) keepsQuiet(words ...string) {
	c.Helper()
	for _, w := range words {
		if strings.Contains(c.page, w) || strings.Contains(c.print, w) {
			c.Errorf("the plan or the card says %q", w)
		}
	}
}

// making is what a person would reckon on the back of an envelope.
type making struct {
	good          float64
	longMM, short float64 // finished
	grammage      float64 // in the room's air
	shrinks       float64 // most, of a side
}

// adds holds the fibre, the vat and the sheets of any plan against the envelope.
func (c card) adds(m making) {
	c.Helper()
	sheets := c.of("sheets_to_pull")
	if sheets < m.good || sheets > 2*m.good {
		c.Errorf("%g sheets are pulled for %g good ones", sheets, m.good)
	}
	// paper in a room holds 6 to 8 per cent of water on its dry weight
	weighs := m.grammage * m.longMM * m.short / 1e6
	c.near("conditioned_mass_per_sheet_g", weighs, 0.08) // a mould at hand may be a little larger
	dry := sheets * weighs / 1.07
	heel, fibre := c.of("heel_fibre_g"), c.of("fibre_bone_dry_g")
	if fibre < 0.95*(dry+heel) || fibre > 1.6*(dry+heel) {
		c.Errorf("%.0f g are weighed out, bone-dry, for sheets of %.0f g and a heel of %.0f g", fibre, dry, heel)
	}
	// a shelf's fibre holds 5 to 12 per cent of water
	if air := c.of("fibre_air_dry_g"); air < fibre*1.04 || air > fibre*1.15 {
		c.Errorf("%.0f g off the shelf are %.0f g dry", air, fibre)
	}
	c.near("vat_first_fill_g", c.of("vat_first_fill_l")*30, 0.02) // stock of 30 g/L
	for side, finished := range map[string]float64{"long": m.longMM, "short": m.short} {
		formed := c.of("formed_" + side + "_mm")
		if formed < finished || formed > finished*(1+m.shrinks) {
			c.Errorf("formed %.0f mm for %.0f mm", formed, finished)
		}
	}
	c.near("cost_per_good_sheet", c.of("cost_total")/m.good, 0.01)
	c.says(strconv.FormatFloat(m.good, 'f', -1, 64) + " good sheets")
	c.prints(strconv.FormatFloat(m.good, 'f', -1, 64)+" good sheets", c.figures["dryer_loads"][:1]+" dryer load", c.figures["posts"][:1]+" posts of up to "+strings.Fields(c.figures["post_sheets"])[0])
}

// dried is how many sheets go into the dryer: all but three for the test.
func (c card) dried() float64 { return c.of("sheets_to_pull") - 3 }
