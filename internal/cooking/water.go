package cooking

import (
	"fmt"
	"strconv"
	"sync"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/source"
)

// Trace is milligrams of something in a litre of water.
type Trace float64

// Unit returns the unit the type is stated in.
func (Trace) Unit() string { return "mg/L" }

// Water is what is known of the water; nil: not measured.
type Water struct {
	Hardness  *Trace // as calcium carbonate
	Iron      *Trace
	Manganese *Trace
	Copper    *Trace
	Chlorine  *Trace
	PH        *PH
}

// Finding is what a number of the water does to fibre, and what to do.
type Finding struct {
	What, Unit string
	Is         float64
	Threshold  float64
	Above      bool // the threshold is passed upward
	Does, Do   string
	Source     source.Source
}

type threshold struct {
	Finding
	from, to *float64
}

var thresholds = sync.OnceValue(func() []threshold {
	var out []threshold
	number := func(cell string) (*float64, error) {
		if cell == "" {
			return nil, nil
		}
		v, err := strconv.ParseFloat(cell, 64)
		return &v, err
	}
	mustRead("data/water.csv", 7, func(r []string) error {
		of, ok := source.Get(r[6])
		if !ok {
			return fmt.Errorf("the source %q is not in the registry", r[6])
		}
		from, err := number(r[2])
		if err != nil {
			return err
		}
		to, err := number(r[3])
		out = append(out, threshold{Finding{What: r[0], Unit: r[1], Does: r[4], Do: r[5], Source: of}, from, to})
		return err
	})
	return out
})

// Findings holds the water against the thresholds and says what is over.
// Nothing measured, nothing found.
func Findings(w Water) ([]Finding, error) {
	is := map[string]float64{}
	var l fault.List
	for _, m := range []struct {
		key  string
		v    *Trace
		most Trace
	}{{"hardness", w.Hardness, 5000}, {"iron", w.Iron, 200}, {"manganese", w.Manganese, 100}, {"copper", w.Copper, 100}, {"chlorine", w.Chlorine, 100}} {
		if m.v != nil {
			l.Add(measure.Inside(m.key, m.key+" of the water", *m.v, 0, m.most, "mg/L"))
			is[m.key] = float64(*m.v)
		}
	}
	if w.PH != nil {
		l.Add(measure.Inside("ph", "the pH of the water", *w.PH, 2, 12, ""))
		is["ph"] = float64(*w.PH)
	}
	if len(l) > 0 {
		return nil, l.OrNil()
	}
	var out []Finding
	for _, t := range thresholds() {
		v, measured := is[t.What]
		f := t.Finding
		f.Is = v
		switch {
		case measured && t.from != nil && v > *t.from:
			f.Threshold, f.Above = *t.from, true
			out = append(out, f)
		case measured && t.to != nil && v < *t.to:
			f.Threshold = *t.to
			out = append(out, f)
		}
	}
	return out, nil
}

// Threshold is one line of the table: over From, or under To, something happens.
type Threshold struct {
	Finding
	From, To *float64
}

// Thresholds returns the whole table.
func Thresholds() []Threshold {
	var out []Threshold
	for _, t := range thresholds() {
		out = append(out, Threshold{t.Finding, t.from, t.to})
	}
	return out
}
