package cooking

import (
	"math"
	"slices"
	"strings"
	"testing"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/source"
)

func edge[T ~float64](v T, err error) (float64, error) { return float64(v), err }

// The edges of every number that the formulas take: good ones give a number,
// others a fault that carries the range, and none.
func TestEdges(t *testing.T) {
	t.Parallel()
	soda, lye := alkalis[0], alkalis[3]
	y := Yields{0.5, 0.5, 0.5, 1}
	law, err := PriorLaw(source.Said(2, 2.5, 3, source.KeyMemory, ""), 0.2)
	if err != nil {
		t.Fatal(err)
	}
	type formula func(v float64) (float64, error)
	for name, c := range map[string]struct {
		f    formula
		good []float64
		bad  []float64
	}{
		"Equivalents":      {func(v float64) (float64, error) { return edge(Equivalents(soda, measure.Mass(v))) }, []float64{0, 1e6}, []float64{-1, 1.1e6}},
		"EqualAlkalinity":  {func(v float64) (float64, error) { return edge(EqualAlkalinity(measure.Mass(v), soda, lye)) }, []float64{0, 1e6}, []float64{-1, 1.1e6}},
		"AsSodiumOxide":    {func(v float64) (float64, error) { return edge(AsSodiumOxide(soda, measure.Mass(v))) }, []float64{0, 1e6}, []float64{-1, 1.1e6}},
		"AlkaliFor dry":    {func(v float64) (float64, error) { return edge(AlkaliFor(measure.Mass(v), 0.2)) }, []float64{0.1, 1e6}, []float64{0, -1, 0.09, 1.1e6}},
		"AlkaliFor charge": {func(v float64) (float64, error) { return edge(AlkaliFor(100, measure.Dose(v))) }, []float64{0, 1.5}, []float64{-0.1, 1.51, 20}},
		"ChargeOf":         {func(v float64) (float64, error) { return edge(ChargeOf(measure.Mass(v), 100)) }, []float64{0, 150}, []float64{-1, 151}},
		"LiquorFor":        {func(v float64) (float64, error) { return edge(LiquorFor(100, measure.Number(v))) }, []float64{1, 200}, []float64{0, 0.9, 201}},
		"StrengthOf m":     {func(v float64) (float64, error) { return edge(StrengthOf(measure.Mass(v), 1)) }, []float64{0, 1e6}, []float64{-1, 1.1e6}},
		"StrengthOf v":     {func(v float64) (float64, error) { return edge(StrengthOf(1, measure.Volume(v))) }, []float64{1e-4, 1e5}, []float64{0, -1, 1.1e5}},
		"PotFor":           {func(v float64) (float64, error) { return edge(PotFor(1, measure.Share(v))) }, []float64{0.2, 0.9}, []float64{0, 0.19, 1}},
		"Pots":             {func(v float64) (float64, error) { return edge(Pots(1, measure.Volume(v), 0.5)) }, []float64{1e-4, 1e5}, []float64{0, -1, 1.1e5}},
		"PHOf":             {func(v float64) (float64, error) { return edge(PHOf(Solution{Sodium: v}, 25)) }, []float64{0, 3}, []float64{-0.1, 3.1}},
		"PHOf t":           {func(v float64) (float64, error) { return edge(PHOf(Solution{Sodium: 0.1}, measure.Temperature(v))) }, []float64{0, 100}, []float64{-1, 101}},
		"LimeDissolves":    {func(v float64) (float64, error) { return edge(LimeDissolves(measure.Temperature(v))) }, []float64{0, 100}, []float64{-1, 101}},
		"SodaAshDissolves": {func(v float64) (float64, error) { return edge(SodaAshDissolves(measure.Temperature(v))) }, []float64{0, 100}, []float64{-1, 101}},
		"LyeShare":         {func(v float64) (float64, error) { return edge(LyeShare(measure.Mass(v), 1)) }, []float64{0, 1e6}, []float64{-1, 1.1e6}},
		"LyeWarms":         {func(v float64) (float64, error) { return edge(LyeWarms(measure.Share(v))) }, []float64{0, 0.5}, []float64{-0.1, 0.51}},
		"Causticise":       {func(v float64) (float64, error) { c, err := Causticise(measure.Mass(v), 1); return float64(c.Lye), err }, []float64{0, 1e6}, []float64{-1, 1.1e6}},
		"Causticity":       {func(v float64) (float64, error) { return edge(Causticity(Strength(v), 1)) }, []float64{0, 500}, []float64{-1, 501}},
		"AshLyeStrength":   {func(v float64) (float64, error) { return edge(AshLyeStrength(measure.Milliliters(v), 100, 5)) }, []float64{0, 1e5}, []float64{-1, 1.1e5}},
		"TimeFactor":       {func(v float64) (float64, error) { return edge(TimeFactor(measure.Temperature(v), 80)) }, []float64{40, 180}, []float64{39, 181}},
		"TimeFactor e":     {func(v float64) (float64, error) { return edge(TimeFactor(90, measure.Number(v))) }, []float64{20, 200}, []float64{0, 201}},
		"HoursAt":          {func(v float64) (float64, error) { return edge(HoursAt(measure.Hours(v), 90, 80)) }, []float64{0, 100}, []float64{-1, 101}},
		"HoursAtBoil":      {func(v float64) (float64, error) { return edge(HoursAtBoil(measure.Hours(v), 90, 80)) }, []float64{0, 500}, []float64{-1, 501}},
		"MillRate":         {func(v float64) (float64, error) { return edge(MillRate(measure.Temperature(v))) }, []float64{40, 200}, []float64{39, 201}},
		"MillCook":         {func(v float64) (float64, error) { return edge(MillCook([]Point{{0, 90}, {measure.Hours(v), 90}})) }, []float64{0, 100}, []float64{-1}},
		"Law.Next t": {func(v float64) (float64, error) {
			_, h, _, err := law.Next(measure.Temperature(v), 0.2)
			return float64(h), err
		}, []float64{60, 130}, []float64{59, 131}},
		"Law.Next c": {func(v float64) (float64, error) {
			_, h, _, err := law.Next(95, measure.Dose(v))
			return float64(h), err
		}, []float64{0.001, 1.5}, []float64{0, 1.6}},
		"RinseLeft":        {func(v float64) (float64, error) { return edge(RinseLeft(Strength(v), 5, 15, 3)) }, []float64{0, 500}, []float64{-1, 501}},
		"RinseLeft n":      {func(v float64) (float64, error) { return edge(RinseLeft(10, 5, 15, measure.Number(v))) }, []float64{0, 100}, []float64{-1, 101}},
		"RinseChanges":     {func(v float64) (float64, error) { return edge(RinseChanges(10, Strength(v), 5, 15)) }, []float64{1e-4, 500}, []float64{0, 501}},
		"RinseWater":       {func(v float64) (float64, error) { return edge(RinseWater(100, measure.Number(v), 5)) }, []float64{0.5, 500}, []float64{0, 501}},
		"VinegarFor":       {func(v float64) (float64, error) { return edge(VinegarFor(soda, 1, measure.Share(v))) }, []float64{0.01, 0.3}, []float64{0, 0.31, 5}},
		"CitricFor":        {func(v float64) (float64, error) { return edge(CitricFor(soda, measure.Mass(v))) }, []float64{0, 1e6}, []float64{-1}},
		"GasFrom":          {func(v float64) (float64, error) { return edge(GasFrom(soda, measure.Mass(v))) }, []float64{0, 1e6}, []float64{-1}},
		"WasteVolume":      {func(v float64) (float64, error) { return edge(WasteVolume(measure.Volume(v), 1)) }, []float64{0, 1e5}, []float64{-1, 1.1e5}},
		"FibreAMonth":      {func(v float64) (float64, error) { return edge(FibreAMonth(measure.Number(v))) }, []float64{1, 200}, []float64{0, 201}},
		"PulpFrom":         {func(v float64) (float64, error) { return edge(PulpFrom(measure.Mass(v), y)) }, []float64{0.1, 1e8}, []float64{0, 1.1e8}},
		"PulpFrom dry":     {func(v float64) (float64, error) { return edge(PulpFrom(100, Yields{measure.Share(v), 1, 1, 1})) }, []float64{0.001, 1}, []float64{0, 1.01, 12}},
		"FreshFor":         {func(v float64) (float64, error) { return edge(FreshFor(measure.Mass(v), y)) }, []float64{0.01, 1e6}, []float64{0, 1.1e6}},
		"PulpFor":          {func(v float64) (float64, error) { return edge(PulpFor(measure.Sheets(v), 10, 0.1)) }, []float64{1, 20000}, []float64{0, 20001}},
		"SheetsFrom":       {func(v float64) (float64, error) { return edge(SheetsFrom(measure.Mass(v), 10, 0.1)) }, []float64{0, 1e6}, []float64{-1, 1.1e6}},
		"SolidsFromDrying": {func(v float64) (float64, error) { return edge(SolidsFromDrying(100, measure.Mass(v), 0)) }, []float64{0, 100}, []float64{-1, 101}},
		"KeepsAt":          {func(v float64) (float64, error) { return edge(KeepsAt(5, measure.Temperature(v))) }, []float64{0, 45}, []float64{-1, 46}},
		"Portions": {func(v float64) (float64, error) {
			p, err := Portions(100, measure.Solids(v), 1)
			return float64(p.Wet), err
		}, []float64{0.001, 1}, []float64{0, 1.1, 20}},
	} {
		for _, v := range c.good {
			if got, err := c.f(v); err != nil || math.IsNaN(got) || math.IsInf(got, 0) {
				t.Errorf("%s of %v: %v, %v", name, v, got, err)
			}
		}
		for _, v := range append(c.bad, math.NaN(), math.Inf(1), math.Inf(-1)) {
			got, err := c.f(v)
			if fault.KindOf(err) != fault.KindOutOfRange || got != 0 || name != "MillCook" && !strings.Contains(err.Error(), "between") {
				t.Errorf("%s of %v: %v, %v", name, v, got, err)
			}
		}
	}
}

func TestWhatIsNoFormula(t *testing.T) {
	t.Parallel()
	for _, f := range []string{"", "Xx", "Na2CO3.", "(NaOH", "NaOH)", "na", "2", "Na-"} {
		if m, err := MolarMass(f); err == nil {
			t.Errorf("%q is read as %v", f, m)
		}
	}
	for _, a := range alkalis { // mole panics where a formula cannot be read
		if a.mole() <= 0 || !a.Usual.Known() || a.Note == "" {
			t.Errorf("%+v", a)
		}
		if !Bulk(a.Name).Known() && a.Name != WoodAshLye {
			t.Errorf("what %s weighs by volume is not known", a.Name)
		}
		for _, n := range append(a.Aliases, a.Name) {
			if got, known := GetAlkali(n); !known || got.Name != a.Name {
				t.Errorf("%q is taken as %q", n, got.Name)
			}
		}
	}
	for _, c := range []struct {
		alkali string
		pct    float64
		fibre  string
		want   string // "": nothing
	}{
		{Lye, 20, "", "Begin at 8"}, {Lye, 9, "", ""}, {Lye, 30, "", "more lye than recipes in print ask for, 8 to 20 %"}, {Lye, 2, "", "less lye"},
		{SodaAsh, 13, "", "less soda ash than recipes in print"}, {SodaAsh, 13, "iris leaf", ""}, {SodaAsh, 26, "iris leaf", "more soda ash than recipes for iris leaf ask for, 7 to 20 %"},
		{SodaAsh, 28, "kozo", ""}, {Lye, 18, "kozo", "more lye than recipes for kozo ask for, 9 to 15 %"}, {SodaAsh, 2, "cotton rag", ""},
		{SodaAsh, 28, "willow bark", "than is remembered of willow bark"}, {PotashLye, 40, "", "takes up as much acid as recipes in print"}, {PotashCarbonate, 26.1, "kozo", ""},
	} {
		f, _ := fibre.Get(c.fibre)
		if got := ChargeNote(named(t, c.alkali), measure.Dose(c.pct/100), f); (got == "") != (c.want == "") || !strings.Contains(got, c.want) {
			t.Errorf("%v %% of %s on %q: %q", c.pct, c.alkali, c.fibre, got)
		}
	}
	if _, err := Equivalents(Alkali{}, 1); fault.KindOf(err) != fault.KindInvalid {
		t.Error(err)
	}
	if _, err := PHOf(Solution{Sodium: 0.1, Carbonate: 0.1}, 25); fault.KindOf(err) != fault.KindOutOfRange {
		t.Error(err)
	}
	if Bulk("moonlight").Known() {
		t.Error("moonlight is weighed by the spoon")
	}
	if _, err := (Law{}).After(Cook{95, 0.2, 2}); fault.KindOf(err) != fault.KindInvalid {
		t.Error(err)
	}
	if _, err := PriorLaw(source.Value{}, 0.2); fault.KindOf(err) != fault.KindOutOfRange {
		t.Error(err)
	}
	if _, err := KeepingOf(fibre.Fibre{}, "hung"); fault.KindOf(err) != fault.KindInvalid {
		t.Error(err)
	}
	if _, err := Causticity(0, 0); fault.KindOf(err) != fault.KindOutOfRange {
		t.Error(err)
	}
}

func TestPots(t *testing.T) {
	t.Parallel()
	for material, good := range map[string]bool{
		"stainless steel": true, "Enamel": true, "glass": true, "aluminium": false, "aluminum": false, "copper": false, "galvanised": false,
		"chipped enamel": false, "non-stick": false, "plastic": false, "tin": false, "cast iron": false, "steel": false, "galvanised steel": false, "wood": false, "": false,
	} {
		err := CheckPot("pot", material)
		if (err == nil) != good || err != nil && fault.KindOf(err) != fault.KindInvalid {
			t.Errorf("%q: %v", material, err)
		}
	}
	if err := CheckPot("pot", "aluminum"); err == nil || !strings.Contains(err.Error(), "hydrogen") {
		t.Error(err)
	}
}

// Every caution has an act, every act of the package a caution; first aid is
// long rinsing, and nothing is neutralised on a body.
func TestCautions(t *testing.T) {
	t.Parallel()
	for _, a := range alkalis {
		list := CautionsOf(a)
		var text strings.Builder
		for _, c := range list {
			text.WriteString(c.Text + "\n")
		}
		said := text.String()
		want := []string{"Stainless steel", "two thirds", "Never aluminium", "No vinegar", "chlorine"}
		if a.Caustic {
			want = append(want, "Rinse for 60 minutes", "Never neutralise on skin", "face shield")
		} else {
			want = append(want, "15 minutes", "goggles")
		}
		if a.Name == Lye {
			want = append(want, "never hot water", "cool or lukewarm")
		}
		for _, w := range want {
			if !strings.Contains(said, w) {
				t.Errorf("%s: the cautions do not say %q", a.Name, w)
			}
		}
	}
	for _, act := range []string{"first aid", "bleach", "store alkali", "spill", "keep", "harvest", "waste", "workshop"} {
		if len(CautionsAt(act)) == 0 || !slices.Contains(Acts(), act) {
			t.Errorf("nothing is said at %q", act)
		}
	}
	for _, c := range []struct {
		ph            PH
		caustic       bool
		corrosive, uk bool
	}{{7, false, false, false}, {11.29, false, false, false}, {11.31, false, false, true}, {12.29, false, false, true}, {12.31, false, true, true}, {13.9, true, true, true}, {11.6, true, true, true}, {9, true, true, true}} {
		codes := map[string]bool{}
		for _, c := range Waste(c.ph, c.caustic, Limits{}) {
			codes[c.Code] = true
			if low := strings.ToLower(c.Text); strings.Contains(low, "dilute it") || strings.Contains(low, "add plenty of water") {
				t.Errorf("%s tells to dilute", c.Code)
			}
		}
		if codes["waste-corrosive"] != c.corrosive || codes["waste-uk"] != c.uk || !codes["waste-target"] || !codes["waste-septic"] {
			t.Errorf("pH %v, caustic %v: %v", c.ph, c.caustic, codes)
		}
	}
	if got := Waste(11, false, Limits{Low: 4, High: 10, Said: true}); !strings.Contains(got[0].Text, "pH 5 and 10") {
		t.Errorf("%q", got[0].Text)
	}
}

func TestRecipes(t *testing.T) {
	t.Parallel()
	sides := map[string]bool{}
	for _, r := range RecipesFor("kozo") {
		sides[r.Alkali] = true
		if r.Source.Title == "" {
			t.Errorf("%+v has no source", r)
		}
	}
	if len(RecipesFor("Kozo")) < 8 || !sides[SodaAsh] || !sides[Lye] || !sides[SlakedLime] {
		t.Errorf("kozo has only %v", sides)
	}
	if len(RecipesFor("")) != 0 || len(RecipesFor("unheard")) != 0 || len(Recipes()) < 35 {
		t.Error("recipes of nothing")
	}
	for _, a := range alkalis {
		if o := Order(a); len(o) < 3 || a.Name == Lye && !strings.Contains(o[1], "never over 38") {
			t.Errorf("%s: %v", a.Name, o)
		}
	}
	for _, f := range fibre.All() {
		said := strings.Join(EndTests(f), " ")
		if len(EndTests(f)) < 4 || f.Kind == "rag" && (strings.Contains(said, "mush") || !strings.Contains(said, "still be strong")) {
			t.Errorf("%s: %v", f.Name, EndTests(f))
		}
	}
	for plant, known := range map[string]bool{"lokta": true, "Cotton stalk": true, AnyPlant: true, "a": false, "": false} {
		if HasRecipes(plant) != known {
			t.Errorf("recipes name %q: %v", plant, !known)
		}
	}
}
