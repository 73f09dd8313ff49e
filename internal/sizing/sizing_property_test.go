package sizing

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/fault"
	"vatside/internal/furnish"
	"vatside/internal/measure"
	"vatside/internal/source"
)

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*(1+math.Abs(b)) }

// The bath the sheets took up is the size on them and the water they carry
// away; two weighings tell it; and the recipe is found back.
func TestBathIsConserved(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := measure.Sheets(rapid.IntRange(0, 1000).Draw(t, "n"))
		each := measure.Mass(rapid.Float64Range(1, 100).Draw(t, "each"))
		b := BathStrength(rapid.Float64Range(0, 0.1).Draw(t, "strength"))
		p := Uptake(rapid.Float64Range(0.05, 5).Draw(t, "pick-up"))
		heel := measure.Volume(rapid.Float64Range(0, 5).Draw(t, "heel"))
		bath, err1 := BathVolume(n, each, p, heel)
		on, err2 := OnFibre(b, p)
		water, err3 := WaterToDry(n, each, p, b)
		taken := float64(n)*float64(each)*float64(on)/1000 + float64(water)
		if err := errors.Join(err1, err2, err3); err != nil || !near(taken, float64(bath-heel)) {
			t.Fatalf("%v kg of size and water out of %v L; %v", taken, bath-heel, err)
		}
		again, err := BathFor(on, p)
		if err != nil || !near(float64(again), float64(b)) {
			t.Fatalf("%v came back as %v, %v", b, again, err)
		}
		weighed, err := PickUp(each, each*measure.Mass(1+p))
		if err != nil || !near(float64(weighed), float64(p)) {
			t.Fatalf("%v weighed as %v, %v", p, weighed, err)
		}
		vol := measure.Volume(rapid.Float64Range(0.1, 100).Draw(t, "bath"))
		size, err1 := SizeMass(vol, b)
		back, err2 := Strength(size, vol-measure.Volume(size/gramsLitre))
		if err := errors.Join(err1, err2); err != nil || !near(float64(back), float64(b)) {
			t.Fatalf("%v of %v made up as %v; %v", vol, b, back, err)
		}
	})
}

func TestMonotone(t *testing.T) {
	t.Parallel()
	for p := 0.1; p < 5; p += 0.1 {
		a, _ := OnFibre(0.03, Uptake(p))
		b, _ := OnFibre(0.03, Uptake(p+0.1))
		c, _ := BathFor(0.03, Uptake(p))
		d, _ := BathFor(0.03, Uptake(p+0.1))
		e, _ := BathVolume(10, 16, Uptake(p), 1)
		f, _ := BathVolume(10, 16, Uptake(p+0.1), 1)
		if b <= a || d >= c || f <= e {
			t.Errorf("not monotone at %.1f", p)
		}
	}
}

// What is no number, or just outside, is a fault and never a number.
func TestEdges(t *testing.T) {
	t.Parallel()
	type given struct {
		f         func(v float64) (float64, error)
		good, bad []float64
	}
	for name, c := range map[string]given{
		"Strength size":     {func(v float64) (float64, error) { return num(Strength(measure.Mass(v), 1)) }, []float64{0, 1000}, []float64{-1e-9, 1001}},
		"Strength water":    {func(v float64) (float64, error) { return num(Strength(0, measure.Volume(v))) }, []float64{1e-3, 1e4}, []float64{0, 1.1e4}},
		"SizeMass bath":     {func(v float64) (float64, error) { return num(SizeMass(measure.Volume(v), 0.03)) }, []float64{0, 1e4}, []float64{-1e-9, 1.1e4}},
		"SizeMass strength": {func(v float64) (float64, error) { return num(SizeMass(1, BathStrength(v))) }, []float64{0, 0.5}, []float64{-1e-9, 0.51}},
		"AlumMass gelatin":  {func(v float64) (float64, error) { return num(AlumMass(measure.Mass(v), 0.05)) }, []float64{0, 1e7}, []float64{-1e-9, 1.1e7}},
		"AlumMass alum":     {func(v float64) (float64, error) { return num(AlumMass(50, measure.Share(v))) }, []float64{0, 0.25}, []float64{-1e-9, 0.26}},
		"OnFibre strength":  {func(v float64) (float64, error) { return num(OnFibre(BathStrength(v), 1)) }, []float64{0, 0.5}, []float64{-1e-9, 0.51}},
		"OnFibre pick-up":   {func(v float64) (float64, error) { return num(OnFibre(0.03, Uptake(v))) }, []float64{0, 10}, []float64{-1e-9, 10.1}},
		"OnFibre too much":  {func(v float64) (float64, error) { return num(OnFibre(0.5, Uptake(v))) }, []float64{2}, []float64{2.01}},
		"BathFor size":      {func(v float64) (float64, error) { return num(BathFor(measure.Dose(v), 10)) }, []float64{0, 1}, []float64{-1e-9, 1.01}},
		"BathFor pick-up":   {func(v float64) (float64, error) { return num(BathFor(0.02, Uptake(v))) }, []float64{0.05, 10}, []float64{0, 0.03, 10.1}},
		"BathVolume sheets": {func(v float64) (float64, error) { return num(BathVolume(measure.Sheets(v), 16, 1, 1)) }, []float64{0, 1e6}, []float64{-1, 1.1e6}},
		"BathVolume mass":   {func(v float64) (float64, error) { return num(BathVolume(1, measure.Mass(v), 1, 1)) }, []float64{0, 1e4}, []float64{-1e-9, 1.1e4}},
		"BathVolume pickup": {func(v float64) (float64, error) { return num(BathVolume(1, 16, Uptake(v), 1)) }, []float64{0, 10}, []float64{-1e-9, 10.1}},
		"BathVolume heel":   {func(v float64) (float64, error) { return num(BathVolume(1, 16, 1, measure.Volume(v))) }, []float64{0, 1e4}, []float64{-1e-9, 1.1e4}},
		"PickUp dry":        {func(v float64) (float64, error) { return num(PickUp(measure.Mass(v), measure.Mass(2*v))) }, []float64{0.1, 1e4}, []float64{0, 1.1e4}},
		"PickUp wet":        {func(v float64) (float64, error) { return num(PickUp(10, measure.Mass(v))) }, []float64{10, 110}, []float64{9.9, 111}},
		"WaterToDry sheets": {func(v float64) (float64, error) { return num(WaterToDry(measure.Sheets(v), 16, 1, 0.03)) }, []float64{0, 1e6}, []float64{-1, 1.1e6}},
		"WaterToDry bath":   {func(v float64) (float64, error) { return num(WaterToDry(1, 16, 1, BathStrength(v))) }, []float64{0, 0.5}, []float64{-1e-9, 0.51}},
		"Cobb dry":          {func(v float64) (float64, error) { return num(Cobb(measure.Mass(v), measure.Mass(v), 0.01)) }, []float64{0.01, 1000}, []float64{0, 1001}},
		"Cobb wet":          {func(v float64) (float64, error) { return num(Cobb(1, measure.Mass(v), 0.01)) }, []float64{1, 11}, []float64{0.99, 11.1}},
		"Cobb area":         {func(v float64) (float64, error) { return num(Cobb(1, 1.2, measure.Area(v))) }, []float64{0.001, 0.1}, []float64{0, 0.11}},
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

// Every number of the tables can be meant, and names its source.
func TestTables(t *testing.T) {
	t.Parallel()
	check := func(what string, v source.Value, most float64) {
		t.Helper()
		s, ok := source.Get(v.Source)
		if !ok || v.Grade != s.Grade || v.Low < 0 || v.Low > v.Mid || v.Mid > v.High || v.High > most || v.Low == v.High {
			t.Errorf("%s: %+v", what, v)
		}
	}
	for _, s := range Surfaces() {
		check(s.Name+" bath", s.Bath, 0.1)
		check(s.Name+" temperature", s.Temperature, 65)
		check(s.Name+" rest", s.Rest, 72)
		check(s.Name+" cure", s.Cure, 30)
		check(s.Name+" keeps", s.Keeps, 2160)
		if s.MakeUp == "" || len(s.Cautions) == 0 {
			t.Errorf("%s lacks its making up or a caution", s.Name)
		}
		for _, name := range append(s.Aliases, s.Name) {
			if got, err := Find("size", " "+strings.ToUpper(name)); err != nil || got.Name != s.Name {
				t.Errorf("%q is %q, %v", name, got.Name, err)
			}
		}
	}
	last := 10.0
	for _, way := range Ways() {
		v, err := UsualUptake(way)
		if err != nil || v.Mid >= last {
			t.Errorf("%s: %v, %v", way, v, err)
		}
		check(string(way), v, 3)
		last = v.Mid
	}
	if _, err := UsualUptake("poured"); fault.KindOf(err) != fault.KindInvalid {
		t.Errorf("an unknown way: %v", err)
	}
	for _, b := range CobbBands() {
		check(b.Word, b.Cobb, 100)
	}
}

// Every size that goes into the stock has a cure, and the warmer the shorter.
func TestCures(t *testing.T) {
	t.Parallel()
	for _, a := range furnish.Additives() {
		list := Cures(a.Name)
		if (a.Group == furnish.InternalSize) != (len(list) > 0) {
			t.Errorf("%s: %d cures", a.Name, len(list))
		}
		for i := 1; i < len(list); i++ {
			if list[i].Temperature.Mid <= list[i-1].Temperature.Mid || list[i].Hours.Mid >= list[i-1].Hours.Mid {
				t.Errorf("%s: warmer is not shorter", a.Name)
			}
		}
	}
	if list := Cures("akd"); len(list) != 2 || list[0].Hours.Mid < 7*24 {
		t.Errorf("AKD in a room: %v", list)
	}
}

func TestSticks(t *testing.T) {
	t.Parallel()
	for _, drying := range []string{"glass", "Mirror", "on a mirror", "window-pane"} {
		if !Sticks(true, drying) || Sticks(false, drying) {
			t.Errorf("%q: only sized sheets stick", drying)
		}
	}
	for _, drying := range []string{"stack", "exchange", "board", "loft", "free", "", "fibreglass net"} {
		if Sticks(true, drying) {
			t.Errorf("%q: nothing sticks to that", drying)
		}
	}
}

func TestInkStrip(t *testing.T) {
	t.Parallel()
	for i, s := range InkStrips() {
		if int(s) != i+1 {
			t.Errorf("%v is %d, want %d", s, int(s), i+1)
		}
		text, err := s.MarshalText()
		var byWord, byNumber InkStrip
		if err2 := errors.Join(err, byWord.UnmarshalText(text), byNumber.UnmarshalText(fmt.Append(nil, int(s)))); err2 != nil || byWord != s || byNumber != s {
			t.Errorf("%v read back as %v and %v; %v", s, byWord, byNumber, err2)
		}
	}
	for _, text := range []string{"", "0", "7", "1.5", "fine", "-1"} {
		var f *fault.Error
		if _, err := ParseInkStrip("ink_strip", text); !errors.As(err, &f) || f.Kind != fault.KindInvalid || f.Field != "ink_strip" {
			t.Errorf("%q: %v", text, err)
		}
	}
	if InkStrip(0).String() != "" || InkStrip(9).String() != "" {
		t.Error("what is not on the scale has a word")
	}
	if _, err := InkStrip(0).MarshalText(); err == nil {
		t.Error("what is not on the scale was written")
	}
	if pen := slices.DeleteFunc(InkStrips(), func(s InkStrip) bool { return !s.ForPen() }); !slices.Equal(pen, []InkStrip{SoftEdge, Sharp}) {
		t.Errorf("for the pen: %v", pen)
	}
}

func FuzzParseInkStrip(f *testing.F) {
	for _, s := range InkStrips() {
		f.Add(s.String())
	}
	f.Add("3")
	f.Fuzz(func(t *testing.T, text string) {
		s, err := ParseInkStrip("", text)
		if (err == nil) != (s.String() != "") {
			t.Errorf("%q: %v, %v", text, s, err)
		}
	})
}

func ExampleBathVolume() {
	// 100 sheets of 16.5 g that take up their own weight, and 1.5 L in the tray.
	bath, _ := BathVolume(100, 16.5, 1, 1.5)
	gelatin, _ := SizeMass(bath, 0.026)
	on, _ := OnFibre(0.026, 1)
	fmt.Printf("%.2f L with %.0f g of gelatin; the sheets hold %.1f %%\n", float64(bath), float64(gelatin), float64(on)*100)
	// Output: 3.15 L with 82 g of gelatin; the sheets hold 2.6 %
}

func ExamplePickUp() {
	p, _ := PickUp(16.5, 34.65)
	fmt.Printf("%.1f g of bath to a gram of sheet\n", float64(p))
	// Output: 1.1 g of bath to a gram of sheet
}

func ExampleSticks() {
	fmt.Println(Sticks(true, "mirror"), Sticks(true, "stack"))
	// Output: true false
}
