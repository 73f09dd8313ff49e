package paperwork

// Size is a sheet of printing paper, in millimetres.
type Size struct {
	Name string
	W, H float64
}

// The two sizes a studio's printer has. A4 is ISO 216; Letter is 8½ × 11 in.
var (
	A4     = Size{Name: "A4", W: 210, H: 297}
	Letter = Size{Name: "Letter", W: 215.9, H: 279.4}
)
