package trouble_test

import (
	"fmt"

	"vatside/internal/measure"
	"vatside/internal/trouble"
)

// Long kozo on a coarse mould, without formation aid; nothing is known of the felts.
func ExampleAsk() {
	a, err := trouble.Ask("the sheet sticks to the mold", trouble.Facts{
		Fibres: []string{"kozo"}, LongFibre: new(true), MeshPerCm: new(measure.Number(8)), FormationAid: new(false),
		Grammage: new(measure.GrammageConditioned(90)),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(a.Symptom.Name)
	for _, c := range a.Causes {
		fmt.Printf("%s: %s\n", c.Speaks, c.Text)
		if c.Why != "" {
			fmt.Printf("  %s\n", c.Why)
		}
	}
	// Output:
	// the sheet sticks to the mould
	// for: long fibre staples itself through a coarse mesh
	//   the face has 8 wires to the cm, and long fibre (kozo) staples itself through so coarse a mesh
	// for: long fibre runs without formation aid
	//   no formation aid was used (kozo)
	// open: the couching cloth is too dry to take the sheet
	// open: the fibre is longer than the mould can release
	// open: the sheet was still too wet, or sucked on to the face
	// open: the face is clogged or greasy
	// against: the sheet is too thin to pull itself off
	//   the sheet has 90 g/m²
}
