package cookery

import (
	"cmp"
	"slices"
	"time"

	"vatside/internal/cooking"
	"vatside/internal/measure"
)

// State is where a cook stands, by all that was written down of it.
type State struct {
	Lines    []Line        // in the order in which they happened
	Simmers  time.Time     // since when; zero: not yet
	Parted   time.Time     // the first test that passed after it; zero: none
	Hours    measure.Hours // on the flame until it parted, or until the last entry
	TempC    float64       // of the liquor meanwhile: the mean of the readings, else as planned
	Second   bool
	Rinses   int
	RinseL   float64
	LastPH   *float64 // of the last rinse that was read
	Finished *Line
	Stage    string // in words
}

// Line is one entry as it stands now.
type Line struct {
	Entry
	Was    *Entry // as it was first written, where it was put right
	Struck bool
}

// has reports whether an entry is there.
func (s State) has(id string) bool {
	return slices.ContainsFunc(s.Lines, func(l Line) bool { return l.ID == id })
}

// Replay works out where a cook stands. The order in which entries arrive makes
// no difference but between corrections of one entry, of which the last holds.
func Replay(c Cook, entries []Entry) State {
	s := State{TempC: c.SimmerC}
	put := slices.Clone(entries)
	slices.SortStableFunc(put, func(a, b Entry) int { return cmp.Compare(a.Seq, b.Seq) })
	for _, e := range put {
		if e.Kind != Correction {
			s.Lines = append(s.Lines, Line{Entry: e})
		}
	}
	for _, e := range put {
		if e.Kind == Correction {
			s.correct(e)
		}
	}
	slices.SortStableFunc(s.Lines, func(a, b Line) int { return a.At.Compare(b.At) })
	s.read()
	s.Stage = s.stage()
	return s
}

func (s *State) correct(e Entry) {
	for i, l := range s.Lines {
		if l.ID != e.Corrects {
			continue
		}
		if l.Was == nil {
			was := l.Entry
			l.Was = &was
		}
		l.Struck = e.Body.Struck
		if !l.Struck {
			l.Body, l.At = e.Body, e.At
		}
		s.Lines[i] = l
	}
}

// read takes from the lines what counts.
func (s *State) read() {
	var burning time.Time // since when it is on the flame; zero: it is not
	var on time.Duration
	temps, n := 0.0, 0
	for i, l := range s.Lines {
		if l.Struck {
			continue
		}
		during := !s.Simmers.IsZero() && s.Parted.IsZero()
		switch l.Kind {
		case Simmer:
			if s.Simmers.IsZero() {
				s.Simmers = l.At
			}
			if burning.IsZero() {
				burning = l.At
			}
		case Off:
			if !burning.IsZero() && during {
				on += l.At.Sub(burning)
			}
			burning = time.Time{}
		case Second:
			s.Second = true
		case Rinse:
			s.Rinses++
			if l.Body.Litres != nil {
				s.RinseL += *l.Body.Litres
			}
			if l.Body.PH != nil {
				s.LastPH = l.Body.PH
			}
		case Ended:
			s.Finished = &s.Lines[i]
		case Test:
			if during && *l.Body.Passed {
				s.Parted = l.At
				if !burning.IsZero() {
					on += l.At.Sub(burning)
				}
			}
		}
		if l.Body.TempC != nil && during {
			temps, n = temps+*l.Body.TempC, n+1
		}
		if during && s.Parted.IsZero() {
			s.Hours = measure.Hours(on.Hours())
			if !burning.IsZero() {
				s.Hours = measure.Hours((on + l.At.Sub(burning)).Hours())
			}
		}
	}
	if !s.Parted.IsZero() {
		s.Hours = measure.Hours(on.Hours())
	}
	if n > 0 {
		s.TempC = temps / float64(n)
	}
}

func (s State) stage() string {
	switch {
	case s.Finished != nil:
		return "on the shelf"
	case s.Rinses > 0:
		return "rinsing"
	case !s.Parted.IsZero():
		return "cooked"
	case !s.Simmers.IsZero():
		return "simmering"
	}
	return "begun"
}

// taught is the cook as the law of hours takes it; false where it says nothing:
// it never passed its test, or in a second liquor only.
func (t Told) taught() (cooking.Cook, bool) {
	s := t.State
	if s.Parted.IsZero() || s.Second || s.Hours < 0.05 || s.Hours > 100 || s.TempC < 60 || s.TempC > 130 {
		return cooking.Cook{}, false
	}
	return cooking.Cook{Temp: measure.Temperature(s.TempC), Charge: measure.Dose(t.Cook.AlkaliPct / 100), Done: s.Hours}, true
}

// PulpG is the dry pulp that a cook left; false where it was not weighed.
func (s State) PulpG() (float64, bool) {
	if s.Finished == nil {
		return 0, false
	}
	b := s.Finished.Body
	if b.WetG == nil || b.MoisturePct == nil {
		return 0, false
	}
	return *b.WetG * (1 - *b.MoisturePct/100), true
}
