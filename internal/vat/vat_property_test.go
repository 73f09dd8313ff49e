package vat

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// studio draws a vat and a sheet that takes at most the given part of it.
func studio(t *rapid.T, most float64) (Balance, measure.Volume) {
	v := rapid.Float64Range(5, 400).Draw(t, "vat")
	share := rapid.Float64Range(0.002, most).Draw(t, "share")
	depth := rapid.Float64Range(5, 60).Draw(t, "depth")
	b := Balance{Area: measure.Area(min(share*v/depth, 20)), Depth: measure.Length(depth)}
	b.Carried = measure.Volume(rapid.Float64Range(0, 0.3).Draw(t, "carried") * b.taken())
	return b, measure.Volume(v)
}

// Fibre in is fibre out, water in is water out, sheet by sheet, to a part in a
// thousand million, whatever recharges there are.
func TestRunConserves(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		b, v := studio(t, 0.2)
		n := rapid.IntRange(1, 40).Draw(t, "n")
		fill := rapid.Float64Range(1, 3000).Draw(t, "fill")
		var acts []Act
		in, water := fill, float64(v)
		for i := 2; i <= n; i += rapid.IntRange(1, 5).Draw(t, "gap") {
			a := Act{Before: i, Solids: measure.Mass(rapid.Float64Range(0, 50).Draw(t, "solids")), Stock: measure.Volume(rapid.Float64Range(0, 1).Draw(t, "stock")) + b.Carried, WaterOff: measure.Volume(rapid.Float64Range(0, 0.2).Draw(t, "off"))}
			acts = append(acts, a)
		}
		run, left, err := b.Run(v, measure.Mass(fill), n, acts)
		if err != nil {
			t.Skip("runs dry")
		}
		out := 0.0
		for i, p := range run {
			for _, a := range acts {
				if a.Before == i+1 {
					in += float64(a.Solids)
					water += float64(a.Stock - a.WaterOff)
				}
			}
			if p.N != i+1 || math.Abs(float64(p.Level)-water) > 1e-9*(1+water) {
				t.Fatalf("sheet %d from %v L, want %v", p.N, p.Level, water)
			}
			g := float64(p.Grammage) * float64(b.Area)
			if have := in - out; math.Abs(g-have*b.taken()/water) > 1e-9*(1+have) {
				t.Fatalf("sheet %d holds %v g, want %v", p.N, g, have*b.taken()/water)
			}
			out += g
			water -= float64(b.Carried)
		}
		if math.Abs(in-out-float64(left)) > 1e-9*(1+in) {
			t.Fatalf("in %v, in sheets %v, left %v", in, out, left)
		}
	})
}

// The closed form is the run without recharges.
func TestThinningIsTheRun(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		b, v := studio(t, 0.2)
		n := rapid.IntRange(0, 20).Draw(t, "n")
		c, err := b.Thinning(6, v, n)
		run, _, err2 := b.Run(v, measure.Mass(6*v), n+1, nil)
		if (err == nil) != (err2 == nil) && n > 0 {
			if err == nil { // the run needs a vat for one sheet more
				return
			}
			t.Fatalf("%v and %v", err, err2)
		}
		if err == nil && math.Abs(float64(c)*float64(b.Depth)-float64(run[n].Grammage)) > 1e-9*(1+float64(run[n].Grammage)) {
			t.Fatalf("after %d: %v, run %v", n, float64(c)*float64(b.Depth), run[n].Grammage)
		}
	})
}

// plan is a table to keep a run, with what went into it.
type kept struct {
	b        Balance
	v, least measure.Volume
	c, stock measure.Consistency
	n, k     int
	t        Table
	run      []Pulled
	left     measure.Mass
	sheet    float64
}

func keep(t *rapid.T, most float64) kept {
	var x kept
	x.b, x.v = studio(t, most)
	x.least = x.v * measure.Volume(rapid.Float64Range(0.3, 1).Draw(t, "least"))
	x.c = measure.Consistency(rapid.Float64Range(1, 10).Draw(t, "c"))
	x.n, x.k = rapid.IntRange(1, 150).Draw(t, "n"), rapid.IntRange(1, 6).Draw(t, "k")
	x.stock = x.c * measure.Consistency(rapid.Float64Range(2.5, 30).Draw(t, "stock"))
	var err error
	if x.t, err = x.b.Keep(x.c, x.v, x.least, x.stock, x.n, x.k); fault.KindOf(err) == fault.KindInfeasible {
		t.Skip("cannot be kept: ", err)
	}
	if err != nil {
		t.Fatal(err)
	}
	if x.run, x.left, err = x.b.Run(x.v, x.t.FirstFill, x.n, x.t.Acts); err != nil {
		t.Fatalf("the table runs dry: %v", err)
	}
	x.sheet = float64(x.c) * x.b.taken()
	return x
}

// A table to keep a run, carried out sheet by sheet: the mean of every
// round is within 1 % of the target, also when run down, while a round takes less
// than half of the least vat.
func TestKeepHoldsEveryRound(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		x := keep(t, 0.2)
		if float64(x.k)*x.b.taken() > float64(x.least)/2 {
			t.Skip("the round takes too much of the vat")
		}
		target := float64(x.c) * float64(x.b.Depth)
		for from := 0; from < x.n; from += x.k {
			to := min(from+x.k, x.n)
			if to-from < x.k && from == 0 {
				break // a run shorter than its round starts as the round would
			}
			sum := 0.0
			for _, p := range x.run[from:to] {
				sum += float64(p.Grammage)
			}
			if mean := sum / float64(to-from); math.Abs(mean/target-1) > 0.01 {
				t.Fatalf("sheets %d to %d of %d average %.4f of target; %+v", from+1, to, x.n, mean/target, x)
			}
		}
	})
}

// The first fill and the recharges are the sheets and the heel; no act goes
// below the least level or above the full vat, nor takes water that is not
// there; acts stand one to a round, in order.
func TestKeepAccounts(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		x := keep(t, 0.2)
		in, out := float64(x.t.FirstFill), 0.0
		for i, a := range x.t.Acts {
			in += float64(a.Solids)
			if a.Before != (i+1)*x.k+1 {
				t.Fatalf("act %d stands before sheet %d", i, a.Before)
			}
			if a.Solids < 0 || a.Stock < 0 || a.WaterOff < 0 || a.WaterIn < 0 || a.WaterIn*a.WaterOff != 0 || a.RunDown != (a.Solids == 0) {
				t.Fatalf("act %+v", a)
			}
			if math.Abs(float64(a.Stock)*float64(x.stock)-float64(a.Solids)) > 1e-9*(1+float64(a.Solids)) {
				t.Fatalf("%v L of stock for %v g", a.Stock, a.Solids)
			}
			if a.Level > x.v*1.000001 {
				t.Fatalf("act %+v fills the vat of %v L over", a, x.v)
			}
			if a.WaterOff > 0 && float64(a.Level) < math.Min(float64(x.least), float64(x.v))-1e-6 {
				t.Fatalf("act %+v takes the vat below %v L", a, x.least)
			}
			if level := x.run[a.Before-1].Level; math.Abs(float64(level-a.Level)) > 1e-6 {
				t.Fatalf("act %+v, and the run is at %v L", a, level)
			}
		}
		for _, p := range x.run {
			out += float64(p.Grammage) * float64(x.b.Area)
		}
		if math.Abs(in-out-float64(x.left)) > 1e-9*(1+in) || math.Abs(float64(x.left-x.t.Left)) > 1e-6*(1+in) {
			t.Fatalf("in %v, sheets %v, left %v, said %v", in, out, x.left, x.t.Left)
		}
		// never more brought in than the sheets at target and the heel want
		if want := float64(x.n)*x.sheet + float64(x.c)*float64(x.least); in > math.Max(want, float64(x.t.FirstFill))*(1+1e-9) {
			t.Fatalf("brought %v g, wanted %v", in, want)
		}
	})
}

// A round that starts high has its mean on target, in a run sheet by sheet at
// a level that falls as it does.
func TestStartHighMean(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		b, v := studio(t, 0.1)
		k := rapid.IntRange(1, 6).Draw(t, "k")
		s, err := b.StartHigh(v, k)
		if err != nil {
			t.Fatal(err)
		}
		run, _, err := b.Run(v, measure.Mass(5*float64(v)*float64(s)), k, nil)
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for _, p := range run {
			sum += float64(p.Grammage)
		}
		if mean := sum / float64(k) / (5 * float64(b.Depth)); math.Abs(mean-1) > 0.01 || s < 1 {
			t.Fatalf("a round of %d starts at %v and averages %.5f", k, s, mean)
		}
	})
}

// MeanBias against a run sheet by sheet at a held level, with doses fixed by
// the plan and a vat, depth and dose that are not what was planned.
func TestMeanBiasIsTheRun(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		b, v := studio(t, 0.1)
		b.Carried = 0
		start, depth, dose := rapid.Float64Range(0.6, 1.6).Draw(t, "start"), rapid.Float64Range(0.6, 1.6).Draw(t, "depth"), rapid.Float64Range(0.7, 1.4).Draw(t, "dose")
		n := rapid.IntRange(1, 200).Draw(t, "n")
		got, err := b.MeanBias(v, measure.Number(start), measure.Number(depth), measure.Number(dose), n, 1)
		if err != nil {
			t.Fatal(err)
		}
		const c = 5.0
		really := b
		really.Depth *= measure.Length(depth)
		run, _, err := really.Run(v, measure.Mass(c*float64(v)*start), n, doses(n, c*b.taken()*dose))
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for _, p := range run {
			sum += float64(p.Grammage)
		}
		if want := sum / float64(n) / (c * float64(b.Depth)); math.Abs(float64(got)/want-1) > 1e-9 {
			t.Fatalf("mean %v, the run has %v", got, want)
		}
	})
}

// For rounds of several sheets the mean of a run agrees within half a per cent
// of a run whose rounds start high.
func TestMeanBiasOfRounds(t *testing.T) {
	t.Parallel()
	worst := 0.0
	rapid.Check(t, func(t *rapid.T) {
		b, v := studio(t, 0.1)
		b.Carried = 0
		start, depth := rapid.Float64Range(0.8, 1.25).Draw(t, "start"), rapid.Float64Range(0.8, 1.25).Draw(t, "depth")
		k := rapid.IntRange(2, 4).Draw(t, "k")
		n := k * rapid.IntRange(1, 40).Draw(t, "rounds")
		got, err := b.MeanBias(v, measure.Number(start), measure.Number(depth), 1, n, k)
		if err != nil {
			t.Fatal(err)
		}
		const c = 5.0
		high, _ := b.StartHigh(v, k)
		really := b
		really.Depth *= measure.Length(depth)
		var acts []Act
		for i := k + 1; i <= n; i += k { // what k sheets take at target
			acts = append(acts, Act{Before: i, Solids: measure.Mass(float64(k) * c * b.taken())})
		}
		run, _, err := really.Run(v, measure.Mass(c*float64(v)*float64(high)*start), n, acts)
		if err != nil {
			t.Skip("too deep")
		}
		sum := 0.0
		for _, p := range run {
			sum += float64(p.Grammage)
		}
		want := sum / float64(n) / (c * float64(b.Depth))
		off := math.Abs(float64(got)/want - 1)
		worst = max(worst, off)
		if off > 0.005 {
			t.Fatalf("mean %v, the run has %v", got, want)
		}
	})
	t.Logf("at most %.4f apart", worst)
}

// All as planned: no bias. A long run settles on the dose, whatever the depth.
func TestMeanBiasLimits(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		b, v := studio(t, 0.2)
		n, k := rapid.IntRange(1, 500).Draw(t, "n"), rapid.IntRange(1, 10).Draw(t, "k")
		if x, err := b.MeanBias(v, 1, 1, 1, n, k); err != nil || math.Abs(float64(x)-1) > 1e-9 {
			t.Fatalf("all as planned gives %v, %v", x, err)
		}
		depth, dose := rapid.Float64Range(0.7, 1.4).Draw(t, "depth"), rapid.Float64Range(0.7, 1.4).Draw(t, "dose")
		if x, err := b.MeanBias(v, 1, measure.Number(depth), measure.Number(dose), 100000, 1); err != nil || math.Abs(float64(x)/dose-1) > 0.02 {
			t.Fatalf("a long run settles on %v of a dose of %v, %v", x, dose, err)
		}
	})
}

// A larger vat, a shallower dip or a wider tolerance never shortens a round;
// more asked for or more scatter never lengthens it.
func TestRoundsAreMonotone(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		b, v := studio(t, 0.1)
		tol, sd := rapid.Float64Range(0.02, 0.3).Draw(t, "tolerance"), rapid.Float64Range(0, 0.15).Draw(t, "sd")
		tau, sigma := measure.Share(tol), measure.Share(sd)
		wanted := measure.Share(rapid.Float64Range(0.8, 0.98).Draw(t, "wanted"))
		count := func(b Balance, v measure.Volume, tau, sigma, wanted measure.Share) float64 {
			k, _, err := b.SheetsPerRecharge(v, tau, sigma, wanted)
			if err != nil {
				t.Fatal(err)
			}
			return float64(k)
		}
		k := count(b, v, tau, sigma, wanted)
		if k < 1 || k > MostInRound || k != math.Trunc(k) {
			t.Fatalf("%v sheets to a recharge", k)
		}
		shallow := b
		shallow.Depth *= 0.9
		shallow.Carried *= 0.9
		if count(b, v*1.2, tau, sigma, wanted) < k || count(shallow, v, tau, sigma, wanted) < k ||
			count(b, v, tau*1.2, sigma, wanted) < k || count(b, v, tau, sigma, wanted*1.02) > k ||
			sd > 0.02 && count(b, v, tau, sigma*1.2, wanted) > k { // with hardly any, scatter may bring a sheet just outside in
			t.Fatalf("not monotone around %v sheets", k)
		}
		s1, err1 := b.SheetsInTolerance(v, tau)
		s2, err2 := b.SheetsInTolerance(v*1.2, tau)
		s3, err3 := b.SheetsInTolerance(v, tau*1.1)
		if err1 == nil && (err2 != nil || err3 != nil || s2 < s1 || s3 < s1 || s1 < 1) {
			t.Fatalf("sheets in a row %v, %v, %v (%v %v %v)", s1, s2, s3, err1, err2, err3)
		}
		w, err := b.ShareWithin(v, int(k), 1, tau, sigma)
		if err != nil || w < 0 || w > 1+1e-12 {
			t.Fatalf("share %v, %v", w, err)
		}
	})
}

// Without scatter a round within the tolerance is wholly so; with a wide
// tolerance all is within; a bias out of it leaves nothing.
func TestShareWithinLimits(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		bias          measure.Number
		tau, sd, want measure.Share
		k             int
		tolerance     float64
	}{{1, 0.08, 0, 1, 1, 0}, {1, 0.99, 0.05, 1, 3, 1e-9}, {1.5, 0.05, 0, 0, 3, 0}, {1, 0.0001, 0.3, 0, 1, 0.001}, {1, 0.08, 1e-9, 1, 1, 1e-9}} {
		s, err := a3.ShareWithin(80, c.k, c.bias, c.tau, c.sd)
		if err != nil || math.Abs(float64(s-c.want)) > c.tolerance {
			t.Errorf("%+v: %v, %v", c, s, err)
		}
	}
	// the normal law: within one, two, three deviations
	for n, want := range map[float64]float64{1: 0.682689, 2: 0.954500, 3: 0.997300} {
		s, err := Balance{Area: 1e-9, Depth: 20}.ShareWithin(80, 1, 1, measure.Share(0.02*n), 0.02)
		if err != nil || math.Abs(float64(s)-want) > 1e-6 {
			t.Errorf("within %g deviations: %v, want %v; %v", n, s, want, err)
		}
	}
}

// Heavier sheets scatter more: of sheets a tenth too heavy by a hand of 10 %,
// those from 0.9 to 1.1 are half less what lies 0.2/0.11 deviations below,
// 0.500 − 0.0345 (normal table).
func TestScatterGrowsWithWeight(t *testing.T) {
	t.Parallel()
	s, err := Balance{Area: 1e-9, Depth: 20}.ShareWithin(80, 1, 1.1, 0.1, 0.1)
	if err != nil || math.Abs(float64(s)-0.4655) > 0.0001 {
		t.Errorf("share %v, %v; want 0.4655", s, err)
	}
}

// Wetter sheets carry off more; what keeps the level is just what leaves.
func TestLevelIsKept(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		m := measure.Mass(rapid.Float64Range(0.1, 500).Draw(t, "m"))
		s := measure.Solids(rapid.Float64Range(0.02, 0.5).Draw(t, "s"))
		u, err := CarriedOff(m, s)
		wetter, err2 := CarriedOff(m, s*0.9)
		c, err3 := LevelStock(m, u)
		if err != nil || err2 != nil || err3 != nil || wetter <= u {
			t.Fatalf("%v, %v, %v: %v %v", err, err2, err3, u, wetter)
		}
		if brought := float64(m) / float64(c); math.Abs(brought-float64(u)) > 1e-9*(1+brought) {
			t.Fatalf("stock of %v g/L brings %v L, %v leave", c, brought, u)
		}
		if solids := float64(m) / (float64(m) + 1000*float64(u)); math.Abs(solids-float64(s)) > 1e-9 {
			t.Fatalf("a couched sheet of %v g and %v L is %v solids", m, u, solids)
		}
	})
}
