package paperwork

import (
	"fmt"

	"codeberg.org/go-fonts/dejavu/dejavusanscondensed"
	"codeberg.org/go-fonts/dejavu/dejavusanscondensedbold"

	"vatside/internal/typeface"
)

// faces is the type a card is set in: the studio's own for Latin, a second
// for strings with letters outside it.
type faces struct {
	main, mainBold     []byte
	second, secondBold []byte
	mainHas, secondHas *coverage
}

// loadFaces returns the type with fresh coverage tables, which are not safe
// to share between cards set at the same time.
func loadFaces() (*faces, error) {
	f := &faces{
		main: typeface.Regular, mainBold: typeface.Bold,
		second: dejavusanscondensed.TTF, secondBold: dejavusanscondensedbold.TTF,
	}
	var err error
	if f.mainHas, err = newCoverage(f.main); err != nil {
		return nil, fmt.Errorf("the main typeface cannot be read: %w", err)
	}
	if f.secondHas, err = newCoverage(f.second); err != nil {
		return nil, fmt.Errorf("the second typeface cannot be read: %w", err)
	}
	return f, nil
}
