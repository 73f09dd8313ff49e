package furnish

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*(1+math.Abs(b)) }

// The roads from fibre to jug meet: by the dose, by the solution's per cent, by
// the product's strength.
func TestDosesRoundTrip(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		fibre := measure.Mass(rapid.Float64Range(1, 1e4).Draw(t, "fibre"))
		dose := measure.Dose(rapid.Float64Range(0, 1).Draw(t, "dose"))
		w := Strength(rapid.Float64Range(0.001, 1).Draw(t, "strength"))
		active, err1 := ActiveMass(fibre, dose)
		back, err2 := DoseOf(active, fibre)
		product, err3 := ProductMass(active, w)
		c, err4 := ConcentrationOf(w, 1)
		pour, err5 := SolutionVolume(active, c)
		in, err6 := ActiveInSolution(pour, c)
		if err := errors.Join(err1, err2, err3, err4, err5, err6); err != nil {
			t.Fatal(err)
		}
		if !near(float64(back), float64(dose)) || !near(float64(in), float64(active)) || !near(float64(product), float64(pour)) {
			t.Fatalf("dose %v back as %v; %v g back as %v; %v g of product, %v mL", dose, back, active, in, product, pour)
		}
		s := SolutionDose(rapid.Float64Range(0, 10).Draw(t, "solution"))
		v, err1 := SolutionOnFibre(fibre, s)
		held, err2 := ActiveInSolution(v, c)
		d, err3 := DoseFromSolution(s, c)
		if err := errors.Join(err1, err2, err3); err != nil || !near(float64(held)/float64(fibre), float64(d)) {
			t.Fatalf("%v g in %v mL on %v g is not %v; %v", held, v, fibre, d, err)
		}
	})
}

// Together the additives keep what each keeps.
func TestRetainedMean(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		portions := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Portion {
			return Portion{measure.Dose(rapid.Float64Range(0, 1).Draw(t, "d")), measure.Share(rapid.Float64Range(0, 1).Draw(t, "r"))}
		}), 1, 6).Draw(t, "portions")
		mean, err := RetainedMean(portions)
		low, high, doses, kept := 1.0, 0.0, 0.0, 0.0
		for _, p := range portions {
			low, high = min(low, float64(p.Retained)), max(high, float64(p.Retained))
			doses, kept = doses+float64(p.Dose), kept+float64(p.Dose)*float64(p.Retained)
		}
		if err != nil || doses > 1e-9 && (float64(mean) < low-1e-9 || float64(mean) > high+1e-9) || !near(float64(mean)*doses, kept) {
			t.Fatalf("%v: %v, %v", portions, mean, err)
		}
	})
	if r, err := RetainedMean(nil); r != 0 || err != nil {
		t.Errorf("of nothing, %v, %v", r, err)
	}
}

func TestReserveRoundTrips(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		w := measure.Share(rapid.Float64Range(0, 0.4).Draw(t, "w"))
		r := measure.Share(rapid.Float64Range(0.05, 1).Draw(t, "r"))
		d, err1 := ReserveDose(w, r)
		back, err2 := ReserveOf(d, r)
		a, err3 := AlkalinityOfChalk(w)
		again, err4 := ChalkOfAlkalinity(a)
		if err := errors.Join(err1, err2, err3, err4); err != nil || !near(float64(back), float64(w)) || !near(float64(again), float64(w)) {
			t.Fatalf("%v came back as %v and %v; %v", w, back, again, err)
		}
		// A sheet of that paper, titrated: 1 g in 100 mL of acid, the base in mL.
		base := 100 - float64(a)*1/0.1
		got, err := AlkalinityFromTitration(Titration{1, 100, 0.1, measure.Milliliters(base), 0.1})
		if err != nil || !near(float64(got), float64(a)) {
			t.Fatalf("%v mol/kg titrated as %v, %v", a, got, err)
		}
	})
	last := 0.0
	for r := 1.0; r > 0.1; r -= 0.1 {
		d, _ := ReserveDose(0.02, measure.Share(r))
		if float64(d) <= last {
			t.Errorf("worse retention must ask for more chalk, not %g", float64(d))
		}
		last = float64(d)
	}
}

func TestAshRoundTrips(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		fibre := measure.Share(rapid.Float64Range(0, 0.02).Draw(t, "fibre"))
		filler := measure.Share(rapid.Float64Range(0.5, 1).Draw(t, "filler"))
		d := measure.Dose(rapid.Float64Range(0.005, 0.5).Draw(t, "d"))
		r := measure.Share(rapid.Float64Range(0, 1).Draw(t, "r"))
		a, err := AshOfPaper(fibre, filler, d, r)
		if err != nil || a < fibre || a > filler {
			t.Fatalf("ash %v, %v", a, err)
		}
		if back, err := RetainedFromAsh(Ash{a, fibre, filler, d}); err != nil || math.Abs(float64(back-r)) > 1e-6 {
			t.Fatalf("%v came back as %v, %v", r, back, err)
		}
	})
}

func TestChalkPH(t *testing.T) {
	t.Parallel()
	alone, _ := ChalkPH(0)
	last := float64(alone)
	for co2 := 1e-5; co2 <= 1; co2 *= 3 {
		ph, err := ChalkPH(measure.Share(co2))
		if err != nil || float64(ph) >= last || ph < 5.5 {
			t.Errorf("in air of %g carbon dioxide: %v, after %v; %v", co2, ph, last, err)
		}
		last = float64(ph)
	}
}

// What is no number, or just outside, is a fault and never a number.
func TestDoseEdges(t *testing.T) {
	t.Parallel()
	type given struct {
		f         func(v float64) (float64, error)
		good, bad []float64
	}
	for name, c := range map[string]given{
		"ActiveMass fibre":      {func(v float64) (float64, error) { return num(ActiveMass(measure.Mass(v), 0.1)) }, []float64{0, 1e7}, []float64{-1e-9, 1.1e7}},
		"ActiveMass dose":       {func(v float64) (float64, error) { return num(ActiveMass(10, measure.Dose(v))) }, []float64{0, 1}, []float64{-1e-9, 1.01}},
		"DoseOf active":         {func(v float64) (float64, error) { return num(DoseOf(measure.Mass(v), 10)) }, []float64{0, 10}, []float64{-1e-9, 10.1}},
		"DoseOf fibre":          {func(v float64) (float64, error) { return num(DoseOf(0, measure.Mass(v))) }, []float64{1e-3, 1e7}, []float64{0, -1, 1.1e7}},
		"ProductMass active":    {func(v float64) (float64, error) { return num(ProductMass(measure.Mass(v), 0.1)) }, []float64{0, 1e7}, []float64{-1e-9, 1.1e7}},
		"ProductMass strength":  {func(v float64) (float64, error) { return num(ProductMass(10, Strength(v))) }, []float64{1e-3, 1}, []float64{0, 9e-4, 1.01}},
		"ConcentrationOf w":     {func(v float64) (float64, error) { return num(ConcentrationOf(Strength(v), 1)) }, []float64{1e-3, 1}, []float64{0, 1.01}},
		"ConcentrationOf ρ":     {func(v float64) (float64, error) { return num(ConcentrationOf(0.1, measure.Density(v))) }, []float64{0.5, 2}, []float64{0, 0.49, 2.01}},
		"SolutionVolume active": {func(v float64) (float64, error) { return num(SolutionVolume(measure.Mass(v), 1)) }, []float64{0, 1e7}, []float64{-1e-9, 1.1e7}},
		"SolutionVolume c":      {func(v float64) (float64, error) { return num(SolutionVolume(1, Concentration(v))) }, []float64{1e-3, 2e3}, []float64{0, 9e-4, 2001}},
		"ActiveInSolution v":    {func(v float64) (float64, error) { return num(ActiveInSolution(measure.Milliliters(v), 1)) }, []float64{0, 1e7}, []float64{-1e-9, 1.1e7}},
		"ActiveInSolution c":    {func(v float64) (float64, error) { return num(ActiveInSolution(1, Concentration(v))) }, []float64{1e-3, 2e3}, []float64{0, 2001}},
		"SolutionOnFibre fibre": {func(v float64) (float64, error) { return num(SolutionOnFibre(measure.Mass(v), 0.1)) }, []float64{0, 1e7}, []float64{-1e-9, 1.1e7}},
		"SolutionOnFibre s":     {func(v float64) (float64, error) { return num(SolutionOnFibre(1, SolutionDose(v))) }, []float64{0, 10}, []float64{-1e-9, 10.1}},
		"DoseFromSolution s":    {func(v float64) (float64, error) { return num(DoseFromSolution(SolutionDose(v), 1)) }, []float64{0, 10}, []float64{-1e-9, 10.1}},
		"DoseFromSolution c":    {func(v float64) (float64, error) { return num(DoseFromSolution(0.1, Concentration(v))) }, []float64{1e-3, 2e3}, []float64{0, 2001}},
		"SpoonMass v":           {func(v float64) (float64, error) { return num(SpoonMass(measure.Milliliters(v), 1)) }, []float64{0, 1e7}, []float64{-1e-9, 1.1e7}},
		"SpoonMass bulk":        {func(v float64) (float64, error) { return num(SpoonMass(1, measure.Density(v))) }, []float64{0.01, 5}, []float64{0, 5.1}},
		"RetainedMean dose":     {func(v float64) (float64, error) { return num(RetainedMean([]Portion{{measure.Dose(v), 0.5}})) }, []float64{0, 1}, []float64{-1e-9, 1.01}},
		"RetainedMean retained": {func(v float64) (float64, error) { return num(RetainedMean([]Portion{{0.1, measure.Share(v)}})) }, []float64{0, 1}, []float64{-1e-9, 1.01}},
		"AidForVat vat":         {func(v float64) (float64, error) { return num(AidForVat(measure.Volume(v), 0.02)) }, []float64{0, 1e4}, []float64{-1e-9, 1.1e4}},
		"AidForVat share":       {func(v float64) (float64, error) { return num(AidForVat(40, measure.Share(v))) }, []float64{0, 0.5}, []float64{-1e-9, 0.51}},
		"AshOfPaper fibre":      {func(v float64) (float64, error) { return num(AshOfPaper(measure.Share(v), 1, 0.1, 0.5)) }, []float64{0, 1}, []float64{-1e-9, 1.01}},
		"AshOfPaper filler":     {func(v float64) (float64, error) { return num(AshOfPaper(0, measure.Share(v), 0.1, 0.5)) }, []float64{0, 1}, []float64{-1e-9, 1.01}},
		"AshOfPaper dose":       {func(v float64) (float64, error) { return num(AshOfPaper(0, 1, measure.Dose(v), 0.5)) }, []float64{0, 1}, []float64{-1e-9, 1.01}},
		"AshOfPaper retained":   {func(v float64) (float64, error) { return num(AshOfPaper(0, 1, 0.1, measure.Share(v))) }, []float64{0, 1}, []float64{-1e-9, 1.01}},
		"burnt paper":           {func(v float64) (float64, error) { return num(RetainedFromAsh(Ash{measure.Share(v), 0.01, 1, 0.1})) }, []float64{0.01, 0.1}, []float64{0, 0.009, 0.12, 1}},
		"burnt fibre":           {func(v float64) (float64, error) { return num(RetainedFromAsh(Ash{0.05, measure.Share(v), 1, 0.1})) }, []float64{0, 0.05}, []float64{-1e-9, 0.06}},
		"burnt filler":          {func(v float64) (float64, error) { return num(RetainedFromAsh(Ash{0.05, 0, measure.Share(v), 0.1})) }, []float64{0.56, 1}, []float64{0, 0.05, 1.01}},
		"burnt dose":            {func(v float64) (float64, error) { return num(RetainedFromAsh(Ash{0.005, 0, 1, measure.Dose(v)})) }, []float64{0.005, 1}, []float64{0, 0.004, 1.01}},
		"ReserveDose wanted":    {func(v float64) (float64, error) { return num(ReserveDose(measure.Share(v), 0.5)) }, []float64{0, 0.4}, []float64{-1e-9, 0.41}},
		"ReserveDose retained":  {func(v float64) (float64, error) { return num(ReserveDose(0.02, measure.Share(v))) }, []float64{0.05, 1}, []float64{0, 0.049, 1.01}},
		"ReserveOf dose":        {func(v float64) (float64, error) { return num(ReserveOf(measure.Dose(v), 0.5)) }, []float64{0, 15}, []float64{-1e-9, 15.1}},
		"ReserveOf retained":    {func(v float64) (float64, error) { return num(ReserveOf(0.03, measure.Share(v))) }, []float64{0, 1}, []float64{-1e-9, 1.01}},
		"AlkalinityOfChalk":     {func(v float64) (float64, error) { return num(AlkalinityOfChalk(measure.Share(v))) }, []float64{0, 1}, []float64{-1e-9, 1.01}},
		"ChalkOfAlkalinity":     {func(v float64) (float64, error) { return num(ChalkOfAlkalinity(Alkalinity(v))) }, []float64{0, 19.9}, []float64{-1e-9, 20}},
		"titrated paper": {func(v float64) (float64, error) {
			return num(AlkalinityFromTitration(Titration{measure.Mass(v), 25, 0.1, 20, 0.1}))
		}, []float64{0.01, 1000}, []float64{0, 1001}},
		"titrated with": {func(v float64) (float64, error) {
			return num(AlkalinityFromTitration(Titration{1, 25, Molarity(v), 0, 0.1}))
		}, []float64{1e-4, 1}, []float64{0, 1.1}},
		"more base than acid": {func(v float64) (float64, error) {
			return num(AlkalinityFromTitration(Titration{1, 25, 0.1, measure.Milliliters(v), 0.1}))
		}, []float64{0, 25}, []float64{25.1, -1}},
		"base as strong as that": {func(v float64) (float64, error) {
			return num(AlkalinityFromTitration(Titration{1, 25, 0.1, 0, Molarity(v)}))
		}, []float64{1e-4, 1}, []float64{0, 1.1}},
		"TearAsked": {func(v float64) (float64, error) { return num(TearAsked(measure.GrammageConditioned(v))) }, []float64{25, 3000}, []float64{24.9, 3001}},
		"ChalkPH":   {func(v float64) (float64, error) { return num(ChalkPH(measure.Share(v))) }, []float64{0, 1e-5, 1}, []float64{-1e-9, 1e-6, 1.01}},
	} {
		for _, v := range c.good {
			if m, err := c.f(v); err != nil || m < 0 || !measure.Finite(m) {
				t.Errorf("%s of %g: %v, %v", name, v, m, err)
			}
		}
		for _, v := range append(c.bad, math.NaN(), math.Inf(1), math.Inf(-1)) {
			var f *fault.Error
			if m, err := c.f(v); m != 0 || !errors.As(err, &f) || f.Kind != fault.KindOutOfRange {
				t.Errorf("%s of %g: %v, %v", name, v, m, err)
			}
		}
	}
}

// num takes the type off a quantity.
func num[T ~float64](v T, err error) (float64, error) { return float64(v), err }
