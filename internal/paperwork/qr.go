package paperwork

import (
	goqr "github.com/piglig/go-qr"
)

// quiet is the white border a code needs, in modules: ISO/IEC 18004 asks for
// four (from memory).
const quiet = 4

// qr draws s as a QR code into a square of the given side, border included.
func (p *pen) qr(x, y, side float64, s string) error {
	code, err := goqr.EncodeText(s, goqr.Medium)
	if err != nil {
		return err
	}
	n := code.Size()
	if p.dry {
		return nil
	}
	m := side / float64(n+2*quiet)
	for row := range n {
		for col := 0; col < n; col++ {
			if !code.Module(col, row) {
				continue
			}
			run := col
			for run < n && code.Module(run, row) {
				run++
			}
			// One run of dark modules is one rectangle, so that no white
			// seam shows between modules.
			p.fill(x+m*float64(col+quiet), y+m*float64(row+quiet), m*float64(run-col), m*1.01)
			col = run
		}
	}
	return nil
}
