package furnish

// Claimed accuracy: half a unit of the last printed digit, or as the row says.
// Achieved: the limits exactly; the acidity of water on chalk within 0.02.

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"vatside/internal/measure"
	"vatside/internal/testkit/published"
)

func TestCheckPermanence(t *testing.T) {
	t.Parallel()
	topic := published.Checks(t, "permanence")
	asked := func(standard, quantity string) Requirement {
		for _, r := range Requirements() {
			if r.Standard == standard && r.Quantity == quantity {
				return r
			}
		}
		t.Fatalf("no requirement %s, %s", standard, quantity)
		return Requirement{}
	}
	niso := "ANSI/NISO Z39.48-1992"
	topic.Row("PE002").Near(t, asked("ISO 9706", "alkaline reserve").Low, 0)
	topic.Row("PE003").Near(t, asked("ISO 9706", "kappa number").High, 0)
	topic.Row("PE004").Near(t, asked("ISO 9706", "tear at 70 g/m² and above").Low, 0)
	topic.Row("PE005").Near(t, asked("ISO 11108", "fold endurance").Low, 0)
	topic.Row("PE008").Near(t, asked(niso, "alkaline reserve").Low, 0)
	topic.Row("PE009").Near(t, asked(niso, "kappa number").High, 0)
	topic.Row("PE010").Near(t, asked(niso, "tear index, uncoated").Low, 0)
	topic.Row("PE011").Near(t, asked(niso, "tear index, coated").Low, 0)
	topic.Row("PE012").Near(t, asked(niso, "lignin").High, 0)
	for id, r := range map[string]Requirement{
		"PE001": asked("ISO 9706", "pH of the cold extract"),
		"PE006": asked(niso, "pH, uncoated"),
		"PE007": asked(niso, "pH of the core, coated"),
	} {
		low, high, ok := strings.Cut(topic.Row(id).Expected, " to ")
		if !ok || published.Number(t, low) != r.Low || published.Number(t, high) != r.High {
			t.Errorf("%s: %g to %g", id, r.Low, r.High)
		}
	}
	for id, grammage := range map[string]measure.GrammageConditioned{"PE013": 25, "PE014": 40, "PE015": 60, "PE016": 70} {
		tear, err := TearAsked(grammage)
		if err != nil {
			t.Fatal(err)
		}
		topic.Row(id).Near(t, float64(tear), 1e-9)
	}
	if got, want := fmt.Sprintf("%g mL for %g h", float64(ExtractWater), float64(ExtractHours)), topic.Row("PE024").Expected; got != want {
		t.Errorf("PE024: %s, want %s", got, want)
	}
	topic.Row("PE021").Near(t, float64(LeastTitrated)*100, 1e-9)
	topic.Row("PE022").Near(t, float64(LeastFizzing)*100, 1e-9)
	checkReserve(t, topic)
}

func checkReserve(t *testing.T, topic *published.Topic) {
	t.Helper()
	ok := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	r, err := AlkalinityOfChalk(0.02)
	ok(err)
	topic.Row("PE017").Near(t, float64(r), 0.001)
	topic.Row("PE018").Near(t, float64(r), 1e-4)
	r, err = AlkalinityFromTitration(Titration{Paper: 1, Acid: 25, AcidM: 0.1, Base: 21, BaseM: 0.1})
	ok(err)
	topic.Row("PE019").Near(t, float64(r), 1e-9)
	w, err := ChalkOfAlkalinity(r)
	ok(err)
	topic.Row("PE020").Near(t, float64(w)*100, 1e-3)
	d, err := ReserveDose(0.025, 0.80)
	ok(err)
	topic.Row("PE023").Near(t, float64(d)*1000, 0.01)
	alone, err := ChalkPH(0)
	ok(err)
	topic.Row("PE028").Near(t, float64(alone), 0.05)
	air, err := ChalkPH(4.169e-4) // log10 is -3.38
	ok(err)
	topic.Row("PE029").Near(t, float64(air), 0.05)
	t.Logf("water on chalk: pH %.3f without air, %.3f in air", float64(alone), float64(air))
}

func TestWorkedDoses(t *testing.T) {
	t.Parallel()
	formulas := map[string]func(a, b float64) (float64, error){
		"solution on fibre":  func(a, b float64) (float64, error) { return num(SolutionOnFibre(measure.Mass(a), SolutionDose(b))) },
		"dose from solution": func(a, b float64) (float64, error) { return num(DoseFromSolution(SolutionDose(a), Concentration(b))) },
		"active in solution": func(a, b float64) (float64, error) {
			return num(ActiveInSolution(measure.Milliliters(a), Concentration(b)))
		},
		"solution volume": func(a, b float64) (float64, error) { return num(SolutionVolume(measure.Mass(a), Concentration(b))) },
		"product":         func(a, b float64) (float64, error) { return num(ProductMass(measure.Mass(a), Strength(b))) },
		"active mass":     func(a, b float64) (float64, error) { return num(ActiveMass(measure.Mass(a), measure.Dose(b))) },
		"concentration":   func(a, b float64) (float64, error) { return num(ConcentrationOf(Strength(a), measure.Density(b))) },
		"aid for vat":     func(a, b float64) (float64, error) { return num(AidForVat(measure.Volume(a), measure.Share(b))) },
		"retained from ash": func(a, b float64) (float64, error) {
			return num(RetainedFromAsh(Ash{OfPaper: measure.Share(b), OfFiller: 1, Dose: measure.Dose(a)}))
		},
		"dose":         func(a, b float64) (float64, error) { return num(DoseOf(measure.Mass(a), measure.Mass(b))) },
		"spoons":       func(a, b float64) (float64, error) { return num(SpoonMass(measure.Milliliters(a), measure.Density(b))) },
		"reserve dose": func(a, b float64) (float64, error) { return num(ReserveDose(measure.Share(a), measure.Share(b))) },
		"reserve of":   func(a, b float64) (float64, error) { return num(ReserveOf(measure.Dose(a), measure.Share(b))) },
	}
	for _, r := range published.Rows(t, "dose-worked.csv") {
		got, err := formulas[r[0]](published.Number(t, r[1]), published.Number(t, r[2]))
		if r[4] == "%" {
			got *= 100
		}
		if want := published.Number(t, r[3]); err != nil || math.Abs(got-want) > published.Number(t, r[5]) {
			t.Errorf("%s (%s): %.5g %s, want %g; %v", r[0], r[6], got, r[4], want, err)
		}
	}
}
