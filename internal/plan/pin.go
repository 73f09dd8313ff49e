package plan

import (
	"bytes"
	"encoding/json"

	"vatside/internal/fault"
	"vatside/internal/source"
)

// UnmarshalJSON reads a pin as a bare number, which is graded common practice,
// or as {"value": …, "grade": "measured"}.
func (p *Pin) UnmarshalJSON(b []byte) error {
	var v float64
	if err := json.Unmarshal(b, &v); err == nil && !bytes.Equal(bytes.TrimSpace(b), []byte("null")) {
		*p = Pin{Value: v, Grade: source.Practice}
		return nil
	}
	type plain Pin
	full := struct {
		Value *float64 `json:"value"`
		Grade *source.Grade
	}{}
	dec := json.NewDecoder(bytes.NewReader(b))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&full); err != nil || full.Value == nil {
		return fault.Invalid("", `Give a number, or {"value": 4, "grade": "measured"}.`)
	}
	q := plain{Value: *full.Value, Grade: source.Practice}
	if full.Grade != nil {
		q.Grade = *full.Grade
	}
	*p = Pin(q)
	return nil
}

// MarshalJSON writes what UnmarshalJSON reads.
func (p Pin) MarshalJSON() ([]byte, error) {
	if p.Grade == source.Practice {
		return json.Marshal(p.Value)
	}
	return json.Marshal(struct {
		Value float64      `json:"value"`
		Grade source.Grade `json:"grade"`
	}{p.Value, p.Grade})
}
