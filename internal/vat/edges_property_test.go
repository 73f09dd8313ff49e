package vat

import (
	"errors"
	"math"
	"testing"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// What is no number, negative, or just outside is a fault and never a number.
func TestEdges(t *testing.T) {
	t.Parallel()
	type given struct {
		f         func(v float64) (float64, error)
		good, bad []float64
	}
	with := func(f func(b Balance, v float64) error) func(v float64) (float64, error) {
		return func(v float64) (float64, error) { return 0, f(a3, v) }
	}
	ratio := func(b Balance, v measure.Volume) (float64, error) { r, err := b.Ratio(v); return float64(r), err }
	for name, c := range map[string]given{
		"Consistency g": {func(v float64) (float64, error) {
			r, err := Consistency(measure.GrammageFormed(v), 20)
			return float64(r), err
		}, []float64{0.01, 5000}, []float64{0, -1, 5001}},
		"Consistency h": {func(v float64) (float64, error) {
			r, err := Consistency(100, measure.Length(v))
			return float64(r), err
		}, []float64{0.5, 200}, []float64{0, -1, 0.49, 201}},
		"FormedGrammage c": {func(v float64) (float64, error) {
			r, err := FormedGrammage(measure.Consistency(v), 20)
			return float64(r), err
		}, []float64{0, 500}, []float64{-1e-9, 501}},
		"FormedGrammage h": {func(v float64) (float64, error) {
			r, err := FormedGrammage(5, measure.Length(v))
			return float64(r), err
		}, []float64{0.5, 200}, []float64{0, -1, 0.49, 201}},
		"CarriedOff m":  {func(v float64) (float64, error) { r, err := CarriedOff(measure.Mass(v), 0.1); return float64(r), err }, []float64{0, 10000}, []float64{-1e-9, 10001}},
		"CarriedOff s":  {func(v float64) (float64, error) { r, err := CarriedOff(10, measure.Solids(v)); return float64(r), err }, []float64{0.01, 0.6}, []float64{0, -1, 0.0099, 0.61}},
		"LevelStock m":  {func(v float64) (float64, error) { r, err := LevelStock(measure.Mass(v), 0.1); return float64(r), err }, []float64{0.1}, []float64{0, -1}},
		"LevelStock u":  {func(v float64) (float64, error) { r, err := LevelStock(10, measure.Volume(v)); return float64(r), err }, []float64{0.1}, []float64{0, -1}},
		"Heel c":        {func(v float64) (float64, error) { r, err := Heel(measure.Consistency(v), 60); return float64(r), err }, []float64{0, 500}, []float64{-1e-9, 501}},
		"Heel least":    {func(v float64) (float64, error) { r, err := Heel(5, measure.Volume(v)); return float64(r), err }, []float64{0, 10000}, []float64{-1e-9, 10001}},
		"Ratio vat":     {func(v float64) (float64, error) { return ratio(a3, measure.Volume(v)) }, []float64{3, 10000}, []float64{0, -1, 0.19, 2.4, 10001}},
		"Ratio area":    {func(v float64) (float64, error) { return ratio(Balance{measure.Area(v), 20, 0.1}, 80) }, []float64{0.001, 3.9}, []float64{0, -1, 4, 26}},
		"Ratio depth":   {func(v float64) (float64, error) { return ratio(Balance{0.1, measure.Length(v), 0.1}, 80) }, []float64{0.5, 200}, []float64{0, -1, 0.49, 201}},
		"Ratio carried": {func(v float64) (float64, error) { return ratio(Balance{0.1, 20, measure.Volume(v)}, 80) }, []float64{0, 79}, []float64{-1e-9, 80, 90}},
		"Thinning c0": {func(v float64) (float64, error) {
			r, err := a3.Thinning(measure.Consistency(v), 80, 3)
			return float64(r), err
		}, []float64{0, 500}, []float64{-1e-9, 501}},
		"SheetsInTolerance": {func(v float64) (float64, error) {
			r, err := a3.SheetsInTolerance(80, measure.Share(v))
			return float64(r), err
		}, []float64{0.001, 0.9}, []float64{0, -1, 1}},
		"LeastVolume": {func(v float64) (float64, error) { r, err := a3.LeastVolume(measure.Share(v)); return float64(r), err }, []float64{0.001, 1}, []float64{0, -1, 1.01}},
		"ShareWithin bias": {func(v float64) (float64, error) {
			r, err := a3.ShareWithin(80, 2, measure.Number(v), 0.1, 0.04)
			return float64(r), err
		}, []float64{0.01, 10}, []float64{0, -1, 10.1}},
		"ShareWithin tau": {func(v float64) (float64, error) {
			r, err := a3.ShareWithin(80, 2, 1, measure.Share(v), 0.04)
			return float64(r), err
		}, []float64{0.01, 0.99}, []float64{0, -1, 1}},
		"ShareWithin scatter": {func(v float64) (float64, error) {
			r, err := a3.ShareWithin(80, 2, 1, 0.1, measure.Share(v))
			return float64(r), err
		}, []float64{0, 0.5}, []float64{-1e-9, 0.51}},
		"SheetsPerRecharge w": {with(func(b Balance, v float64) error {
			_, _, err := b.SheetsPerRecharge(80, 0.1, 0.04, measure.Share(v))
			return err
		}), []float64{0.01, 0.99}, []float64{0, -1, 1}},
		"Run solids": {with(func(b Balance, v float64) error { _, _, err := b.Run(80, measure.Mass(v), 3, nil); return err }), []float64{0, 1e6}, []float64{-1e-9, 1.1e6}},
		"Keep c": {with(func(b Balance, v float64) error {
			_, err := b.Keep(measure.Consistency(v), 80, 60, 400, 20, 3)
			return err
		}), []float64{0.01, 300}, []float64{0, -1, 501}},
		"Keep least": {with(func(b Balance, v float64) error { _, err := b.Keep(5, 80, measure.Volume(v), 30, 20, 3); return err }), []float64{0, 80}, []float64{-1e-9, 80.1}},
		"Keep stock": {with(func(b Balance, v float64) error {
			_, err := b.Keep(5, 80, 60, measure.Consistency(v), 20, 3)
			return err
		}), []float64{6, 200}, []float64{0, -1, 5}},
		"MeanBias start": {func(v float64) (float64, error) {
			r, err := a3.MeanBias(80, measure.Number(v), 1, 1, 20, 3)
			return float64(r), err
		}, []float64{0.01, 20}, []float64{0, -1, 20.1}},
		"MeanBias depth": {func(v float64) (float64, error) {
			r, err := a3.MeanBias(80, 1, measure.Number(v), 1, 20, 3)
			return float64(r), err
		}, []float64{0.01, 20}, []float64{0, -1, 20.1}},
		"MeanBias dose": {func(v float64) (float64, error) {
			r, err := a3.MeanBias(80, 1, 1, measure.Number(v), 20, 3)
			return float64(r), err
		}, []float64{0.01, 20}, []float64{0, -1, 20.1}},
	} {
		for _, v := range c.good {
			if r, err := c.f(v); err != nil || math.IsNaN(r) || math.IsInf(r, 0) || r < 0 {
				t.Errorf("%s of %g: %v, %v", name, v, r, err)
			}
		}
		for _, v := range append(c.bad, math.NaN(), math.Inf(1), math.Inf(-1)) {
			var f *fault.Error
			if r, err := c.f(v); r != 0 || !errors.As(err, &f) || f.Kind != fault.KindOutOfRange && f.Kind != fault.KindInfeasible || f.Text == "" {
				t.Errorf("%s of %g: %v, %v", name, v, r, err)
			}
		}
	}
}

// Counts outside their range are faults too.
func TestCountEdges(t *testing.T) {
	t.Parallel()
	for _, n := range []int{-1, 100001} {
		if _, err := a3.Thinning(5, 80, n); err == nil {
			t.Errorf("thinning over %d sheets was taken", n)
		}
	}
	for _, n := range []int{-1, 0, 100001} {
		_, _, err1 := a3.Run(80, 400, n, nil)
		_, err2 := a3.Keep(5, 80, 60, 30, n, 3)
		if err1 == nil || err2 == nil {
			t.Errorf("a run of %d sheets was taken: %v, %v", n, err1, err2)
		}
	}
	for _, k := range []int{-1, 0, MostInRound + 1} {
		_, err1 := a3.StartHigh(80, k)
		_, err2 := a3.ShareWithin(80, k, 1, 0.1, 0.04)
		_, err3 := a3.Keep(5, 80, 60, 30, 20, k)
		if err1 == nil || err2 == nil || err3 == nil {
			t.Errorf("a round of %d was taken: %v, %v, %v", k, err1, err2, err3)
		}
	}
	if _, err := a3.MeanBias(80, 1, 1, 1, 0, 1); err == nil {
		t.Error("a run of no sheets was taken")
	}
	if _, err := a3.MeanBias(80, 1, 1, 1, 1, 0); err == nil {
		t.Error("a round of no sheets was taken")
	}
	// a vat that empties on the way says so instead of going on
	if _, _, err := a3.Run(5, 25, 20, nil); fault.KindOf(err) != fault.KindInfeasible {
		t.Errorf("a vat of 5 L ran on: %v", err)
	}
	// a vat that thickens has no sheets in a row
	if _, err := (Balance{Area: 0.01, Depth: 1, Carried: 0.5}).SheetsInTolerance(80, 0.05); fault.KindOf(err) != fault.KindInfeasible {
		t.Errorf("a vat that thickens: %v", err)
	}
}
