package cooking

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"vatside/internal/measure"
	"vatside/internal/testkit/published"
)

// grams is the first number of an input such as "5 g NaOH per kg water, 25 C".
func grams(t testing.TB, inputs string) float64 {
	t.Helper()
	first, _, _ := strings.Cut(inputs, " ")
	v, err := strconv.ParseFloat(first, 64)
	if err != nil {
		t.Fatalf("%q: %v", inputs, err)
	}
	return v
}

func TestCookingChecks(t *testing.T) {
	t.Parallel()
	topic := published.Checks(t, "cooking")
	number := ok[measure.Number](t)
	mass := ok[measure.Mass](t)
	for _, r := range topic.Rows() {
		take := func() published.Row { return topic.Row(r.ID) }
		switch {
		case r.LeftOut != "":
		case r.Quantity == "H-factor relative rate per hour":
			take().Near(t, number(MillRate(measure.Temperature(grams(t, r.Inputs)))), 6e-5+1e-4*r.Number(t))
		case r.Quantity == "H-factor relative rate, printed table": // reckoned with 273, and rounded
			take().Within(t, number(MillRate(measure.Temperature(grams(t, r.Inputs)))), 0.045)
		case r.Quantity == "standard atomic weight", r.Quantity == "molar mass":
			take().Near(t, number(MolarMass(r.Inputs)), 0.005)
		case strings.HasPrefix(r.Quantity, "Na2O equivalent"):
			take().Near(t, mass(AsSodiumOxide(shelf(t, strings.TrimPrefix(r.Inputs, "1 g ")), 1)), 1e-4)
		case r.Quantity == "alkali equivalents per gram":
			take().Near(t, 1000*number(Equivalents(shelf(t, strings.TrimPrefix(r.Inputs, "1 g ")), 1)), 1e-3)
		case strings.HasPrefix(r.Quantity, "pH of") && strings.Contains(r.Inputs, "per kg water"):
			solute, temp := solution(t, r.Inputs)
			s, err := Dissolved(solute, measure.Mass(grams(t, r.Inputs)), temp)
			if err != nil {
				t.Fatal(err)
			}
			by := 0.06
			if temp > 60 || grams(t, r.Inputs) > 50 {
				by = 0.15
			}
			take().Near(t, ok[PH](t)(PHOf(s, temp)), by)
		case strings.HasPrefix(r.Quantity, "solubility of Ca(OH)2"):
			take().Within(t, mass(LimeDissolves(measure.Temperature(grams(t, r.Inputs)))), 0.01)
		case r.Quantity == "solubility of Na2CO3":
			take().Within(t, mass(SodaAshDissolves(measure.Temperature(grams(t, r.Inputs))))/10, 0.01)
		}
	}
	equal := func(from, to string) float64 {
		return mass(EqualAlkalinity(1, shelf(t, from), shelf(t, to)))
	}
	topic.Row("CK071").Near(t, equal("Na2CO3.10H2O", "Na2CO3"), 1e-4)
	topic.Row("CK072").Near(t, equal("Na2CO3", "Na2CO3.10H2O"), 1e-3)
	topic.Row("CK073").Near(t, equal("Na2CO3", "NaOH"), 1e-4)
	topic.Row("CK074").Near(t, equal("NaOH", "Ca(OH)2"), 1e-4)
	topic.Row("CK075").Near(t, equal("Na2CO3", "K2CO3"), 1e-4)
	topic.Row("CK076").Near(t, molar("Ca(OH)2")/molar("CaO"), 1e-4)
	made, err := Causticise(1, 10)
	topic.Row("CK077").Near(t, mass(made.Lye, err), 1e-4)
	topic.Row("CK081").Near(t, 100*ok[measure.Share](t)(Causticity(100, 25)), 0.01)
	topic.Row("CK082").Near(t, 109.5*3.785411784/453.59237, 0.003) // a conversion, by definition
	topic.Row("CK086").Near(t, mass(AlkaliFor(136080, 0.295))/107, 0.1)
	topic.Row("CK087").Near(t, 5*number(MillRate(170)), 1)
	cooksByTheMillsScale(t, topic)
	balance(t, topic)
}

func cooksByTheMillsScale(t *testing.T, topic *published.Topic) {
	t.Helper()
	number := ok[measure.Number](t)
	hold := func(hours measure.Hours, temp measure.Temperature) float64 {
		return number(MillCook([]Point{{0, temp}, {hours, temp}}))
	}
	// the exercise and the tables reckon with T = C + 273
	topic.Row("CK022").Near(t, hold(1.5, 160-0.15), 0.1)
	topic.Row("CK023").Near(t, hold(1.5, 160-0.15), 1)
	topic.Row("CK024").Near(t, number(MillCook([]Point{{0, 80}, {0.5, 110}, {0.75, 125}, {1, 140}, {1.25, 150}, {1.5, 160}, {3, 160}})), 0.05)
	topic.Row("CK025").Near(t, hold(4, 100), 1e-3)
	topic.Row("CK026").Near(t, hold(3, 95), 1e-3)
	topic.Row("CK027").Near(t, 16115*gas/1000, 0.01)
}

// balance holds the constants behind the pH, and what follows from them.
func balance(t *testing.T, topic *published.Topic) {
	t.Helper()
	topic.Row("CK097").Near(t, -carbonateK(25), 0.01)
	topic.Row("CK099").Within(t, math.Pow(10, waterK(25)-carbonateK(25)), 0.02)
	topic.Row("CK100").Near(t, waterK(25), 0.01)
	at := func(s Solution, temp measure.Temperature) float64 { return ok[PH](t)(PHOf(s, temp)) }
	soda := func(share float64) Solution {
		s, err := Dissolved(named(t, SodaAsh), measure.Mass(1000*share/(1-share)), 25)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	topic.Row("CK109").Near(t, at(soda(0.01), 25), 0.06)
	topic.Row("CK110").Near(t, at(soda(0.05), 25), 0.06)
	topic.Row("CK111").Near(t, at(soda(0.10), 25), 0.1)
	lime := func(temp measure.Temperature) float64 {
		s, err := Dissolved(named(t, SlakedLime), 20, temp)
		if err != nil {
			t.Fatal(err)
		}
		return at(s, temp)
	}
	topic.Row("CK123").Near(t, lime(25), 0.03)
	row := topic.Row("CK124")
	for i, want := range strings.Split(row.Expected, " / ") {
		temp := []measure.Temperature{10, 20, 30}[i]
		if got := lime(temp); math.Abs(got-published.Number(t, want)) > 0.06 {
			t.Errorf("lime at %v °C: pH %.3f, want %s", temp, got, want)
		}
	}
	// 30.5 % by mass is 43.9 g to 100 g of water, where the curve is straight
	share := topic.Row("CK142").Number(t) / 100
	if got := ok[measure.Mass](t)(SodaAshDissolves(90)) / 1000; math.Abs(got-share/(1-share)) > 0.025*share/(1-share) {
		t.Errorf("soda ash at 90 °C: %.4f, want %.4f", got, share/(1-share))
	}
}

// solution reads the solute and the temperature of an input.
func solution(t testing.TB, inputs string) (Alkali, measure.Temperature) {
	t.Helper()
	words := strings.Fields(inputs) // 5 g NaOH per kg water, 25 C
	v, err := strconv.ParseFloat(words[len(words)-2], 64)
	if err != nil {
		t.Fatalf("%q: %v", inputs, err)
	}
	return shelf(t, words[2]), measure.Temperature(v)
}
