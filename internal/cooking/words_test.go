package cooking

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"vatside/internal/fibre"
	"vatside/internal/measure"
)

// What a sentence must not say when its quantities are told to US readers one
// by one: a range whose first number has no unit, and a difference in degrees.
var (
	splitRange = regexp.MustCompile(`\d (?:to|and|or) \d[\d.,]* (?:mL|mm|kg|kPa|°C|g/L|L|g)(?:[^\w/]|$)|\d[–-]\d[\d.,]* (?:mL|mm|kg|kPa|°C|g/L|L|g)(?:[^\w/]|$)`)
	difference = regexp.MustCompile(`\b(?:by|warms|cools|warmer|cooler|hotter|colder|rises|falls)\b[^.;:]*°C`)
	metricLeft = regexp.MustCompile(`\d (?:mL|mm|kg|°C|g/L|L)(?:[^\w/]|$)|\d g a lit`) // US readers read small masses in grams too
)

// spoken are all sentences of the package that are told in the reader's units.
func spoken() []string {
	var out []string
	for _, c := range cautions() {
		out = append(out, c.Text)
	}
	for ph := PH(7); ph < 14; ph++ {
		for _, c := range Waste(ph, true, Limits{}) {
			out = append(out, c.Text)
		}
	}
	for _, a := range alkalis {
		out = append(append(out, Order(a)...), a.Note)
	}
	for _, f := range fibre.All() {
		out = append(out, EndTests(f)...)
	}
	return append(append(out, OrderWithLime()...), SecondCook, AfterCook, WhyRinse, NotEqualHarshness)
}

func TestSentencesAreRetoldWhole(t *testing.T) {
	t.Parallel()
	for _, bad := range []string{"warms by 75 to 88 °C", "water of 27 to 38 °C", "0.1–0.2 g of it"} {
		if !splitRange.MatchString(bad) {
			t.Errorf("%q is let through", bad)
		}
	}
	for _, text := range spoken() {
		if splitRange.MatchString(text) || difference.MatchString(text) {
			t.Errorf("half of it, or a difference as a temperature, is retold: %q", text)
		}
		if us := measure.Retell(text, measure.US); metricLeft.MatchString(us) {
			t.Errorf("it keeps metric: %q", us)
		}
	}
}

// Vinegar is a weak acid: at the pH where the test of ash liquor ends, the
// acid that has gone in is that which the liquor took up, within 2 %; two
// units sourer it is far more. K = Ac- with the gas boiled off, and Ac- is
// K/(K+H) of the vinegar, pKa 4.76 at most.
func TestAshLyeStrengthEnds(t *testing.T) {
	t.Parallel()
	over := func(ph float64) float64 { return 1 + math.Pow(10, 4.76-ph) }
	for _, ph := range []PH{ashEndLow, ashEndHigh} {
		if got := over(float64(ph)); got > 1.02 {
			t.Errorf("ending at pH %v reads %.2f times the strength", ph, got)
		}
	}
	if over(5) < 1.5 || over(4) < 6.5 {
		t.Error("a sour end does no harm here")
	}
	if said := ashTest(); !strings.Contains(said, "pH 6.5 to 7 after the gas is boiled off") {
		t.Error(said)
	}
	steps := strings.Join(Order(named(t, WoodAshLye)), " ")
	if !strings.Contains(steps, ashTest()) || !strings.Contains(steps, "oggles") || !strings.Contains(steps, "gloves") {
		t.Errorf("the steps with ash lye leave out the test or the goggles: %s", steps)
	}
}

// Everyone who cooks is told who may, what to do with a scald, and how alkali
// is kept and swept up.
func TestWhatEveryCookHeeds(t *testing.T) {
	t.Parallel()
	for _, a := range alkalis {
		codes := map[string]bool{}
		for _, c := range CautionsOf(a) {
			codes[c.Code] = true
		}
		for _, code := range []string{"young", "scald", "store", "spill", "plant", "bleach-acid", "bleach-other"} {
			if !codes[code] {
				t.Errorf("%s: nothing is said of %q", a.Name, code)
			}
		}
	}
	for code, says := range map[string]string{"plant": "may carry", "waste-business": "Count", "waste-month": "In the US", "boil-over": "five seconds or less"} {
		if text := caution(code).Text; !strings.Contains(text, says) {
			t.Errorf("%s does not say %q: %s", code, says, text)
		}
	}
	for _, word := range []string{"ammonia", "quats", "ermented", "peroxide", "sulphite"} {
		if !slices.ContainsFunc(CautionsAt("clear up"), func(c Caution) bool { return strings.Contains(c.Text, word) }) {
			t.Errorf("%s beside bleach is not spoken of", word)
		}
	}
}
