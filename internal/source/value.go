package source

import (
	"fmt"
	"strconv"
)

// Value is a number of the handbook: the middle and the band in which nine
// studios in ten would find it, its source in the registry and its grade. The
// unit is that of the field that holds it.
type Value struct {
	Low, Mid, High float64
	Source         string
	Grade          Grade
	Note           string
}

// Known reports whether the handbook has the value.
func (v Value) Known() bool { return v.Source != "" }

// Said is a value written in the program itself. A key that is not in the
// registry is a defect, and panics as Must does.
func Said(low, mid, high float64, key, note string) Value {
	return Value{low, mid, high, key, Must(key).Grade, note}
}

// ReadValue reads a value of a table. Where neither low nor high is written the
// band is the middle, give or take the spread, a share of it.
func ReadValue(low, mid, high, key, note string, spread float64) (Value, error) {
	s, ok := Get(key)
	if !ok {
		return Value{}, fmt.Errorf("the source %q is not in the registry", key)
	}
	v := Value{Source: key, Grade: s.Grade, Note: note}
	var err error
	if v.Mid, err = strconv.ParseFloat(mid, 64); err != nil {
		return Value{}, err
	}
	if low == "" && high == "" {
		v.Low, v.High = v.Mid*(1-spread), v.Mid*(1+spread)
		return v, nil
	}
	if v.Low, err = strconv.ParseFloat(low, 64); err != nil {
		return Value{}, err
	}
	if v.High, err = strconv.ParseFloat(high, 64); err != nil {
		return Value{}, err
	}
	if v.Low < 0 || v.Low > v.Mid || v.Mid > v.High {
		return Value{}, fmt.Errorf("%v, %v, %v is not low, middle, high", v.Low, v.Mid, v.High)
	}
	return v, nil
}
