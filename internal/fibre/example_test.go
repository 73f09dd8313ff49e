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
