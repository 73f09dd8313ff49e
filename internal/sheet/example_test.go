package sheet

import (
	"fmt"

	"vatside/internal/measure"
)

func ExampleFormedLength() {
	l, _ := FormedLength(420, 0.04)
	fmt.Println(l)
	// Output: 437.5
}

func ExampleGrammageRise() {
	// Flax that shrinks a quarter one way and a fifth the other.
	f, _ := GrammageRise(0.25, 0.208)
	fmt.Printf("%.2f\n", float64(f))
	// Output: 1.68
}

func ExampleCaliper() {
	// A gram per square metre over a gram per cubic centimetre is a micrometre.
	t, _ := Caliper(100, 0.5)
	fmt.Printf("%.3f mm\n", float64(t))
	// Output: 0.200 mm
}

func ExampleShapeArea() {
	// A round sheet of 20 cm at 100 g/m².
	a, _ := ShapeArea(Round, 200, 0, 0)
	m, _ := ConditionedMass(100, a)
	fmt.Printf("%.2f g\n", float64(m))
	// Output: 3.14 g
}

func ExampleOutline_OutOfSquare() {
	o := Outline{
		Long:     [2]measure.Length{420, 420},
		Short:    [2]measure.Length{297, 297},
		Diagonal: [2]measure.Length{516, 512.8},
	}
	lean, longer, _ := o.OutOfSquare()
	fmt.Printf("%.1f mm over the long side, diagonal %d is the longer\n", float64(lean), longer)
	// Output: 2.8 mm over the long side, diagonal 1 is the longer
}

func ExampleDivided() {
	// Small sheets from a mould of 412 × 300 mm, its deckle divided once.
	long, short, sheets, _ := Divided(412, 300, 2, 1, 12)
	fmt.Printf("%g sheets of %g × %g mm at one pull\n", float64(sheets), float64(short), float64(long))
	// Output: 2 sheets of 300 × 200 mm at one pull
}

func ExampleCrowdOf() {
	// Kozo, 8 mm long and 0.12 mg/m, even at a tenth of a per cent.
	n, _ := Crowding(1, 8, 0.12)
	c, _ := CrowdOf(n)
	fmt.Printf("%.0f: %s\n", float64(n), c)
	// Output: 267: needs formation aid
}

func ExamplePreSoakings() {
	// One way of a sheet: before, and dried after each of four baths.
	dry := []measure.Length{300, 298, 297.2, 297, 297.1}
	k, _ := PreSoakings(dry, 0.5)
	fmt.Println("soak", k, "times before the first print")
	// Output: soak 2 times before the first print
}

func ExampleSaltHumidity() {
	// A meter in a jar with wetted table salt at 23 °C shows 71 %.
	rh, _ := SaltHumidity("NaCl", 23)
	fmt.Printf("the meter reads %.0f points low\n", 100*float64(rh)-71)
	// Output: the meter reads 4 points low
}

func ExampleReweighed() {
	// 50 g weighed in a winter room of 35 % RH, in paper dried there.
	m, _ := Reweighed(50, 0.35, 0.50, DryingDown)
	fmt.Printf("%.1f g at 50 %% RH\n", float64(m))
	// Output: 50.7 g at 50 % RH
}
