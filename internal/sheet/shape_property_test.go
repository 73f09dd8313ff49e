package sheet

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// point is a corner of a sheet laid on a table, mm.
type point struct{ x, y float64 }

func apart(a, b point) measure.Length { return measure.Length(math.Hypot(a.x-b.x, a.y-b.y)) }

// taped is what a tape says of a sheet with these corners, in turn.
func taped(a, b, c, d point) Outline {
	return Outline{
		Long:     [2]measure.Length{apart(a, b), apart(c, d)},
		Short:    [2]measure.Length{apart(b, c), apart(d, a)},
		Diagonal: [2]measure.Length{apart(a, c), apart(b, d)},
	}
}

// A parallelogram whose long side leans by so much is told to lean by so much,
// its mirror the same by the other diagonal, and neither has another area.
func TestParallelogram(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		long, short := rapid.Float64Range(100, 1200).Draw(t, "long"), rapid.Float64Range(60, 1200).Draw(t, "short")
		lean := rapid.Float64Range(0.01, 0.2).Draw(t, "lean") * long
		rise := math.Sqrt(long*long - lean*lean)
		for longer, sign := range map[int]float64{1: 1, 2: -1} {
			// the short side lies along x; the long one leans by lean over its length
			a, b := point{0, 0}, point{sign * lean, rise}
			o := taped(a, b, point{b.x + short, b.y}, point{short, 0})
			got, which, err := o.OutOfSquare()
			l, s, err2 := o.Size()
			area, err3 := o.Area()
			if err = fault.First(err, err2, err3); err != nil || which != longer {
				t.Fatalf("diagonal %d of %v is the longer, told %d, %v", longer, o, which, err)
			}
			for what, v := range map[string][2]float64{"lean": {float64(got), lean}, "long": {float64(l), long}, "short": {float64(s), short}, "area": {float64(area), short * rise / 1e6}} {
				if math.Abs(v[0]/v[1]-1) > 1e-6 {
					t.Fatalf("%s of %v is %v, want %v", what, o, v[0], v[1])
				}
			}
		}
	})
}

// Any four-sided sheet: the area is that of its corners, and its size that
// between the middles of its sides.
func TestFourSided(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		long, short := rapid.Float64Range(150, 1200).Draw(t, "long"), rapid.Float64Range(100, 900).Draw(t, "short")
		off := rapid.Float64Range(-0.04*short, 0.04*short)
		corner := func(x, y float64) point { return point{x + off.Draw(t, "x"), y + off.Draw(t, "y")} }
		a, b, c, d := corner(0, 0), corner(long, 0), corner(long, short), corner(0, short)
		middle := func(p, q point) point { return point{(p.x + q.x) / 2, (p.y + q.y) / 2} }
		o := taped(a, b, c, d)
		l, s, err := o.Size()
		area, err2 := o.Area()
		if err := fault.First(err, err2); err != nil {
			t.Fatal(err)
		}
		laces := ((c.x-a.x)*(d.y-b.y) - (c.y-a.y)*(d.x-b.x)) / 2 // half the cross product of the diagonals
		for what, v := range map[string][2]float64{
			"area": {float64(area), laces / 1e6}, "long": {float64(l), float64(apart(middle(a, d), middle(b, c)))}, "short": {float64(s), float64(apart(middle(a, b), middle(c, d)))},
		} {
			if math.Abs(v[0]/v[1]-1) > 1e-9 {
				t.Fatalf("%s of %v is %v, want %v", what, o, v[0], v[1])
			}
		}
	})
}

// Read to a millimetre, the sides and diagonals of a square-cornered sheet are
// never taken for a slip, and the lean told is of the diagonals' own making:
// at A4 at most 2 · 364 · 2 / (4 · 210) = 1.7 mm, and a little for the breadth.
func TestReadToAMillimetre(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		read := func(v float64) measure.Length {
			return measure.Length(v + rapid.Float64Range(-1, 1).Draw(t, "slack"))
		}
		pair := func(v float64) [2]measure.Length { return [2]measure.Length{read(v), read(v)} }
		o := Outline{Long: pair(297), Short: pair(210), Diagonal: pair(math.Hypot(297, 210))}
		l, s, err := o.Size()
		lean, _, err2 := o.OutOfSquare()
		if fault.First(err, err2) != nil || lean > 1.8 || math.Abs(float64(l)-297) > 2.5 || math.Abs(float64(s)-210) > 4 {
			t.Fatalf("%v: %v × %v, leans %v (%v %v)", o, l, s, lean, err, err2)
		}
	})
}

// A square-cornered sheet leans nowhere; readings that fit no sheet are refused.
func TestOutlineEdges(t *testing.T) {
	t.Parallel()
	square := Outline{Long: [2]measure.Length{400, 400}, Short: [2]measure.Length{300, 300}, Diagonal: [2]measure.Length{500, 500}}
	l, s, err := square.Size()
	lean, which, err2 := square.OutOfSquare()
	if a, err3 := square.Area(); l != 400 || s != 300 || a != 0.12 || lean != 0 || which != 0 || fault.First(err, err2, err3) != nil {
		t.Errorf("a square-cornered sheet: %v × %v, %v m², leans %v by %d", l, s, a, lean, which)
	}
	slip := func(change func(*Outline)) Outline { o := square; change(&o); return o }
	bad := []Outline{
		{},
		slip(func(o *Outline) { o.Diagonal = [2]measure.Length{560, 500} }),
		slip(func(o *Outline) { o.Diagonal = [2]measure.Length{400, 400} }),
		slip(func(o *Outline) { o.Diagonal = [2]measure.Length{700, 100} }),
		slip(func(o *Outline) { o.Short[0] = 30 }),
		slip(func(o *Outline) { o.Long[1] = 10001 }),
	}
	for _, v := range noNumbers {
		bad = append(bad, slip(func(o *Outline) { o.Long[0] = measure.Length(v) }), slip(func(o *Outline) { o.Diagonal[1] = measure.Length(v) }))
	}
	for _, o := range bad {
		l, s, err := o.Size()
		a, err2 := o.Area()
		lean, which, err3 := o.OutOfSquare()
		if !isFault(err) || !isFault(err2) || !isFault(err3) || l+s+lean != 0 || a != 0 || which != 0 {
			t.Errorf("%v: %v × %v, %v, %v m², %v, leans %v by %d, %v", o, l, s, err, a, err2, lean, which, err3)
		}
	}
}

// A sheet wider at one end is a sheet as long as the middles of its diagonals
// lie within a tenth of its length: 9 % is one, 12 % a slip of the tape.
func TestWiderAtOneEnd(t *testing.T) {
	t.Parallel()
	for half, sound := range map[float64]bool{36: true, 48: false} { // mm, of 400
		a, err := taped(point{-half, 0}, point{400 + half, 0}, point{400, 300}, point{0, 300}).Area()
		if sound != (err == nil) || sound && math.Abs(float64(a)-(400+half)*0.3/1000) > 1e-9 || !sound && (a != 0 || !isFault(err)) {
			t.Errorf("%v mm wider at either side: %v m², %v", half, a, err)
		}
	}
}

// Dried by its axes or by its area, an oval is the same; forming and drying are
// inverses; and fibre is kept.
func TestShapesDry(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		long, short := measure.Length(rapid.Float64Range(50, 2000).Draw(t, "long")), measure.Length(rapid.Float64Range(50, 2000).Draw(t, "short"))
		el, es := measure.Shrinkage(rapid.Float64Range(0, 0.6).Draw(t, "el")), measure.Shrinkage(rapid.Float64Range(0, 0.6).Draw(t, "es"))
		shape := rapid.SampledFrom([]string{Rectangle, Oval, Odd}).Draw(t, "shape")
		formed, err := ShapeArea(shape, long, short, 0.7)
		dry, err2 := DryArea(formed, el, es)
		dl, err3 := DryLength(long, el)
		ds, err4 := DryLength(short, es)
		axes, err5 := ShapeArea(shape, dl, ds, 0.7)
		back, err6 := FormedArea(dry, el, es)
		rise, err7 := GrammageRise(el, es)
		if err := fault.First(err, err2, err3, err4, err5, err6, err7); err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(axes/dry)-1) > 1e-12 || math.Abs(float64(back/formed)-1) > 1e-12 || math.Abs(float64(dry)*float64(rise)/float64(formed)-1) > 1e-12 {
			t.Fatalf("%v m² dries to %v or %v, and back to %v", formed, dry, axes, back)
		}
	})
	round, _ := ShapeArea(Round, 300, 300, 0)
	one, _ := ShapeArea(Round, 300, 0, 0)
	oval, _ := ShapeArea(Oval, 300, 300, 0)
	full, _ := ShapeArea(Odd, 300, 200, 1)
	box, _ := ShapeArea(Rectangle, 300, 200, 0)
	if round != oval || one != round || full != box || box == 0 {
		t.Errorf("round %v or %v, oval %v; odd %v, rectangle %v", round, one, oval, full, box)
	}
	for _, shape := range []string{"", "Round", "square"} {
		if a, err := ShapeArea(shape, 300, 300, 0.5); fault.KindOf(err) != fault.KindInvalid || a != 0 {
			t.Errorf("%q: %v, %v", shape, a, err)
		}
	}
	if a, err := ShapeArea(Round, 300, 200, 0); fault.KindOf(err) != fault.KindInvalid || a != 0 {
		t.Errorf("a round of 300 by 200 mm: %v, %v", a, err)
	}
	if len(Shapes()) != 4 {
		t.Error(Shapes())
	}
}

// Panes and bars make up the deckle, and as many panes are found again.
func TestPanes(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		long, short := measure.Length(rapid.Float64Range(200, 2000).Draw(t, "long")), measure.Length(rapid.Float64Range(200, 2000).Draw(t, "short"))
		nl, ns := rapid.IntRange(1, 8).Draw(t, "nl"), rapid.IntRange(1, 8).Draw(t, "ns")
		bar := measure.Length(rapid.Float64Range(0, 15).Draw(t, "bar"))
		l, s, sheets, err := Divided(long, short, nl, ns, bar)
		if err != nil || sheets != measure.Sheets(nl*ns) {
			t.Fatalf("%v sheets, %v", sheets, err)
		}
		whole := measure.Length(nl)*l + measure.Length(nl-1)*bar
		n, err := PanesFor(short, s, bar)
		if err != nil || n != ns || math.Abs(float64(whole-long)) > 1e-9*float64(long) {
			t.Fatalf("%v mm of panes and bars in %v; %d panes, want %d, %v", whole, long, n, ns, err)
		}
		wanted := measure.Length(rapid.Float64Range(5, 3000).Draw(t, "wanted"))
		n, err = PanesFor(long, wanted, bar)
		if err != nil || float64(n)*float64(wanted)+float64(n-1)*float64(bar) > float64(long)*(1+1e-6) && n > 0 {
			t.Fatalf("%d panes of %v in %v, %v", n, wanted, long, err)
		}
	})
	// by hand: two 200 mm panes and one 12 mm bar in 412 mm
	if l, s, n, err := Divided(412, 300, 2, 1, 12); l != 200 || s != 300 || n != 2 || err != nil {
		t.Errorf("%v × %v, %v sheets, %v", l, s, n, err)
	}
	if n, err := PanesFor(411, 200, 12); n != 1 || err != nil {
		t.Errorf("%d panes, %v", n, err)
	}
	if n, err := PanesFor(199, 200, 12); n != 0 || err != nil {
		t.Errorf("%d panes, %v", n, err)
	}
	for _, ways := range [][2]int{{0, 1}, {1, 0}, {21, 1}, {-1, 1}} {
		if _, _, n, err := Divided(412, 300, ways[0], ways[1], 12); !isFault(err) || n != 0 {
			t.Errorf("%v ways: %v sheets, %v", ways, n, err)
		}
	}
	if _, _, n, err := Divided(100, 300, 10, 1, 12); !isFault(err) || n != 0 {
		t.Errorf("panes too small: %v sheets, %v", n, err)
	}
}
