package num

import "math"

// Student turns values of the standard normal into those of Student's t that
// are as likely to be passed: draws of the one become draws of the other, in
// their order.
type Student struct{ by [5]float64 } // of even powers of z

// NewStudent returns the law of nu degrees of freedom; an infinite nu is the
// normal itself.
//
//	t = z + (z³+z)/4ν + (5z⁵+16z³+3z)/96ν² + (3z⁷+19z⁵+17z³−15z)/384ν³
//	      + (79z⁹+776z⁷+1482z⁵−1920z³−945z)/92160ν⁴
//
// Abramowitz and Stegun, 26.7.5. From ten degrees the band of nine in ten is
// right to 1e-4, and up to three standard deviations t to 1 %; below five
// degrees the series is not to be used.
func NewStudent(nu float64) Student {
	if math.IsInf(nu, 1) {
		return Student{[5]float64{1}}
	}
	n := 1 / nu
	n2, n3, n4 := n*n, n*n*n, n*n*n*n
	return Student{[5]float64{
		1 + n/4 + 3*n2/96 - 15*n3/384 - 945*n4/92160,
		n/4 + 16*n2/96 + 17*n3/384 - 1920*n4/92160,
		5*n2/96 + 19*n3/384 + 1482*n4/92160,
		3*n3/384 + 776*n4/92160,
		79 * n4 / 92160,
	}}
}

// OfNormal returns the value of t for one of the standard normal.
func (s Student) OfNormal(z float64) float64 {
	q := z * z
	return z * (s.by[0] + q*(s.by[1]+q*(s.by[2]+q*(s.by[3]+q*s.by[4]))))
}
