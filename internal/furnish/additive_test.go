package furnish

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/source"
)

// Every row says what a bench needs: a dose or a stock, how much stays, how it
// is made up, what to beware of; and its numbers can be meant.
func TestTableOfAdditives(t *testing.T) {
	t.Parallel()
	for _, a := range Additives() {
		if !slices.Contains(Groups(), a.Group) || a.MakeUp == "" || a.Use == "" || len(a.Cautions) == 0 {
			t.Errorf("%s lacks its group, its making up, its use or a caution", a.Name)
		}
		if a.Dose.Known() == a.StockInVat.Known() || a.StockInVat.Known() != (a.Group == FormationAid) {
			t.Errorf("%s: formation aids are dosed by the litre of vat, and everything else on fibre", a.Name)
		}
		if a.Strength.Known() && a.Strength.High > 1 || a.Dose.High > 0.5 || a.StockInVat.High > 0.2 {
			t.Errorf("%s: a share above the whole", a.Name)
		}
		if a.RetainedAided.Known() && a.RetainedAided.Mid <= a.Retained.Mid {
			t.Errorf("%s: a retention aid does not help it stay", a.Name)
		}
		for name, v := range map[string]source.Value{"retained": a.Retained, "retained aided": a.RetainedAided} {
			if v.Known() && (v.Low < 0 || v.High > 1 || v.Low >= v.High) {
				t.Errorf("%s: %s from %g to %g", a.Name, name, v.Low, v.High)
			}
		}
		if !a.Retained.Known() {
			t.Errorf("%s: nothing is known of how much stays", a.Name)
		}
		// A concentration in grams as bought needs weighing, and so a product.
		if a.Concentration.Known() && !a.Strength.Known() {
			t.Errorf("%s is made up in grams of a product of unknown strength", a.Name)
		}
	}
}

// What is remembered is given a wide band: a tenth of the middle at the least,
// unless the whole, or zero, is near.
func TestMemoryIsWide(t *testing.T) {
	t.Parallel()
	for _, a := range Additives() {
		for name, v := range map[string]source.Value{
			"dose": a.Dose, "stock": a.StockInVat, "retained": a.Retained, "concentration": a.Concentration, "keeps": a.Keeps, "price": a.Price,
		} {
			if v.Known() && v.Grade == source.Memory && v.High < 0.99 && v.High-v.Low < 0.1*v.Mid {
				t.Errorf("%s: %s from %g to %g is too sure for memory", a.Name, name, v.Low, v.High)
			}
		}
	}
}

func TestNamesOfAdditives(t *testing.T) {
	t.Parallel()
	for asked, want := range map[string]string{
		"chalk": "calcium carbonate", "Calcium-Carbonate": "calcium carbonate", "sizing": "AKD", "akd": "AKD",
		"china clay": "kaolin", "papermaker's alum": "alum", "polyethylene oxide": "PEO", "methylcellulose": "methyl cellulose",
	} {
		if a, ok := GetAdditive(asked); !ok || a.Name != want {
			t.Errorf("%q is %q, want %q", asked, a.Name, want)
		}
	}
	if _, err := FindAdditive("paper.additives[0].kind", "calcum carbonate"); err == nil || !strings.Contains(err.Error(), "did you mean calcium carbonate?") {
		t.Errorf("a slip of the pen is answered with %v", err)
	}
	for _, nothing := range []string{"", "  ", "moon dust"} {
		var f *fault.Error
		if _, err := FindAdditive("kind", nothing); !errors.As(err, &f) || f.Kind != fault.KindInvalid || f.Field != "kind" {
			t.Errorf("%q: %v", nothing, err)
		}
	}
}

// An additive that the table does not have is usable: some share stays.
func TestOtherAdditive(t *testing.T) {
	t.Parallel()
	a := Any(" moon  dust ")
	if a.Listed() || a.Name != "moon dust" || a.Where() != IntoStock || a.Turn() != order[Pigment].turn {
		t.Errorf("%+v", a)
	}
	if v := a.Kept(true); v.Low != 0.40 || v.Mid != 0.65 || v.High != 0.85 || v.Grade != source.Memory {
		t.Errorf("retained %+v", v)
	}
	if a, b := Any("chalk"), OtherAdditive("chalk"); !a.Listed() || b.Listed() {
		t.Error("Any must look into the table first")
	}
}

func TestOrderOfAddition(t *testing.T) {
	t.Parallel()
	var given []Additive
	for _, kind := range []string{"PEO", "alum", "AKD", "gelatin", "retention powder", "pigment", "direct dye"} {
		given = append(given, Any(kind))
	}
	var got []string
	for _, a := range InOrder(given) {
		got = append(got, a.Name)
	}
	want := []string{"direct dye", "pigment dispersion", "retention powder", "AKD", "alum", "PEO", "gelatin"}
	if !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	if given[0].Name != "PEO" {
		t.Error("the caller's list was changed")
	}
	last := 0
	for _, g := range Groups() {
		if order[g].turn < last {
			t.Errorf("%s stands after what goes in later", g)
		}
		last = order[g].turn
	}
}

func TestClashes(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		given []Added
		want  int
	}{
		"alum and chalk":          {[]Added{{"papermaker's alum", 0.02}, {"chalk", 0.03}}, 1},
		"rosin, alum and chalk":   {[]Added{{"rosin size", 0.01}, {"alum", 0.02}, {"chalk", 0.03}}, 2},
		"rosin and alum":          {[]Added{{"rosin size", 0.01}, {"alum", 0.02}}, 0},
		"size and a little chalk": {[]Added{{"AKD", 0.006}, {"calcium carbonate", 0.03}}, 0},
		"size and much chalk":     {[]Added{{"AKD", 0.006}, {"calcium carbonate", 0.15}}, 1},
		"a dose of none":          {[]Added{{"alum", 0.02}, {"chalk", 0}}, 0},
		"unheard of":              {[]Added{{"moon dust", 0.1}, {"chalk", 0.03}}, 0},
		"nothing":                 {nil, 0},
	} {
		got := Clashes(c.given)
		if len(got) != c.want {
			t.Errorf("%s: %v", name, got)
		}
		for _, clash := range got {
			if clash.Text == "" || clash.One == clash.Other {
				t.Errorf("%s: %+v", name, clash)
			}
		}
	}
}

func TestTablesAreTheCallersOwn(t *testing.T) {
	t.Parallel()
	a, _ := GetAdditive("AKD")
	a.Cautions[0], a.Aliases[0] = "", ""
	Additives()[0].Cautions[0] = ""
	Requirements()[0].Standard = ""
	if b, _ := GetAdditive("AKD"); b.Cautions[0] == "" || b.Aliases[0] == "" || Requirements()[0].Standard == "" {
		t.Error("a caller can change the table")
	}
}

func ExampleFindAdditive() {
	_, err := FindAdditive("kind", "kaolim")
	fmt.Println(err)
	// Output: kind: "kaolim" is not in the table of additives; did you mean kaolin?
}

func ExampleDoseFromSolution() {
	// "10 % of the size" means 10 mL on 100 g of fibre; the size is a 5 % emulsion.
	c, _ := ConcentrationOf(0.05, 1)
	dose, _ := DoseFromSolution(0.10, c)
	pour, _ := SolutionOnFibre(450, 0.10)
	active, _ := ActiveInSolution(pour, c)
	fmt.Printf("%g mL hold %g g, %.1f %% on fibre\n", float64(pour), float64(active), float64(dose)*100)
	// Output: 45 mL hold 2.25 g, 0.5 % on fibre
}

func ExampleReserveDose() {
	// 2 % chalk in the sheet, where 60 % of the chalk stays.
	dose, _ := ReserveDose(0.02, 0.60)
	chalk, _ := ActiveMass(450, measure.Dose(dose))
	fmt.Printf("%.1f %% on fibre, %.0f g to 450 g\n", float64(dose)*100, float64(chalk))
	// Output: 3.4 % on fibre, 15 g to 450 g
}
