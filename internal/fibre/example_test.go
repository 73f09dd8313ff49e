package fibre_test

import (
	"fmt"

	"vatside/internal/fibre"
)

// Abaca beaten four hours, by the table of the handbook: 17.7 % dried free.
func ExampleFreeShrinkage() {
	abaca, _ := fibre.Get("abaca")
	s, err := fibre.FreeShrinkage(abaca, 4)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", float64(s)*100)
	// Output: 17.7 %
}

func ExampleFind() {
	_, err := fibre.Find("fibre", "coton linters")
	fmt.Println(err)
	// Output: fibre: "coton linters" is not in the fibre table; did you mean cotton linters?
}

// At its usual beat of an hour and a half abaca has the middle density of the table.
func ExampleDensityBand() {
	abaca, _ := fibre.Get("abaca")
	d, err := fibre.DensityBand(abaca, 1.5)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f g/cm³ (%s)\n", d.Mid, d.Grade)
	// Output: 0.70 g/cm³ (memory)
}

// A studio's own sedge: like rush, but weighed before and after the cook.
func ExampleNewShelf() {
	shelf, err := fibre.NewShelf([]fibre.Own{{
		Name: "ditch sedge", Like: "rush",
		Values: map[string]fibre.Band{"yield": {Low: 24, Mid: 27, High: 30}},
	}})
	if err != nil {
		fmt.Println(err)
		return
	}
	sedge, _ := shelf.Get("ditch sedge")
	fmt.Printf("%.0f %% (%s), hours like %s\n", sedge.Yield.Mid*100, sedge.Yield.Grade, sedge.Like)
	// Output: 27 % (practice), hours like rush
}
