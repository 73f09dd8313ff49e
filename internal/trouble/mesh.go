package trouble

import "vatside/internal/measure"

// MeshPerCm returns the mesh of a face in wires to the centimetre, from wires to
// the inch, as it is sold.
//
//	mesh per cm = mesh per inch / 2.54
//
// Contract:
//
//   - Quantity: wires or openings to the cm, a number
//   - Inputs: wires or openings to the inch
//   - Valid: 1.5 to 250 to the inch, else fault.OutOfRange
//   - Assumes: square mesh, or the finer way is meant
//   - Error: exact
//   - Source: inch-pound-1959
//   - Checked: worked by hand: 40 to the inch is 15.7 to the cm
func MeshPerCm(perInch measure.Number) (measure.Number, error) {
	if err := measure.Inside("mesh_per_inch", "the mesh of the face", perInch, 1.5, 250, "to the inch"); err != nil {
		return 0, err
	}
	return perInch / 2.54, nil
}
