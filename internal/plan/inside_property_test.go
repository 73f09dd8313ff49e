package plan

// ErrorOfTest hands the tests outside the package the error of a cheap test,
// on the link scale of the coefficient it tells.
func ErrorOfTest(known string) float64 {
	for _, t := range tests {
		if t.known == known {
			return t.sd
		}
	}
	return 0
}
