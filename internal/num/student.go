package num

import "math"

// StudentOfNormal returns the value of Student's t of nu degrees of freedom
// that is as likely to be passed as z is for the standard normal: draws of the
// one become draws of the other, in their order. An infinite nu gives z.
//
//	t = z + (z³+z)/4ν + (5z⁵+16z³+3z)/96ν² + (3z⁷+19z⁵+17z³−15z)/384ν³
//	      + (79z⁹+776z⁷+1482z⁵−1920z³−945z)/92160ν⁴
//
// Abramowitz and Stegun, 26.7.5. From ten degrees the band of nine in ten is
// right to 1e-4, and up to three standard deviations t to 1 %; below five
// degrees the series is not to be used.
func StudentOfNormal(z, nu float64) float64 {
	if math.IsInf(nu, 1) {
		return z
	}
	q, n := z*z, 1/nu
	g1 := (q + 1) / 4
	g2 := ((5*q+16)*q + 3) / 96
	g3 := (((3*q+19)*q+17)*q - 15) / 384
	g4 := ((((79*q+776)*q+1482)*q-1920)*q - 945) / 92160
	return z * (1 + n*(g1+n*(g2+n*(g3+n*g4))))
}
