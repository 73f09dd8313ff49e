package studio

import (
	"fmt"
	"time"
)

// Bounds past which a record looks odd. They only raise a flag, so they are
// set wide; all are common practice, no published source.
const (
	oddGrammage = 0.30            // part of the wanted grammage, for dry weighings
	oddTest     = 0.50            // the same for test sheets, which are there to find the vat out
	oddSolidsLo = 0.15            // bone-dry over pressed mass: wetter than couched, unpressed
	oddSolidsHi = 0.65            // drier than any press leaves it
	oddAhead    = 5 * time.Minute // a device's clock before the program's
)

// oddities compares what was recorded with itself and with what was wanted.
func oddities(m Making, s State) []Flag {
	var odd []Flag
	flag := func(code, text, sum string, args ...any) {
		odd = append(odd, Flag{Code: code, Text: text, Sum: fmt.Sprintf(sum, args...)})
	}
	for _, p := range s.Posts {
		if p.Couched < 0 {
			flag("kissed off", fmt.Sprintf("in post %d more sheets were kissed off than pulled", p.Post),
				"%d pulled − %d kissed off = %d", p.Pulled, p.KissedOff, p.Couched)
		}
	}
	g := s.Grades
	if all := g.Good + g.Retree + g.Broken + g.Broke; s.Pulled > 0 && all > s.Couched {
		flag("grades", "more sheets were graded than couched",
			"%d good + %d retree + %d broken + %d broke = %d; couched %d", g.Good, g.Retree, g.Broken, g.Broke, all, s.Couched)
	}
	var weighed int
	for _, d := range s.Dry {
		weighed += d.Sheets
	}
	if s.Pulled > 0 && weighed > s.Couched {
		flag("weighed", "more sheets were weighed dry than couched", "%d weighed; couched %d", weighed, s.Couched)
	}
	odd = append(odd, oddSizes(m, s)...)
	return append(odd, oddWeights(m, s)...)
}

// oddSizes flags dry sizes no sheet of this making can have.
func oddSizes(m Making, s State) []Flag {
	var odd []Flag
	formed := func(key string) float64 { return m.Plan.Figures[key].Value }
	for _, z := range s.Sizes {
		if z.LongMM < z.ShortMM {
			odd = append(odd, Flag{Code: "size", Text: "the long side of a dry sheet is shorter than the short side",
				Sum: fmt.Sprintf("%g mm × %g mm", z.LongMM, z.ShortMM)})
		}
		l, w := formed("formed_long_mm"), formed("formed_short_mm")
		if l > 0 && w > 0 && (z.LongMM > l || z.ShortMM > w) {
			odd = append(odd, Flag{Code: "size", Text: "a dry sheet is larger than it was formed",
				Sum: fmt.Sprintf("dry %g mm × %g mm; formed %g mm × %g mm", z.LongMM, z.ShortMM, l, w)})
		}
	}
	return odd
}

// oddWeights flags weights whose implied grammage, or implied solids, is far
// from what was wanted.
func oddWeights(m Making, s State) []Flag {
	var odd []Flag
	l, w := m.Request.Sheet.LongMM, m.Request.Sheet.ShortMM
	if n := float64(len(s.Sizes)); n > 0 {
		l, w = 0, 0
		for _, z := range s.Sizes {
			l += z.LongMM / n
			w += z.ShortMM / n
		}
	}
	const mm2 = 1e6 // mm² in a m²
	area, wanted := l*w/mm2, m.Request.Paper.GrammageConditioned
	if !(area > 0) || !(wanted > 0) {
		return nil
	}
	implied := func(code, what string, sheets int, grams, part float64) {
		got := grams / float64(sheets) / area
		if got < wanted*(1-part) || got > wanted*(1+part) {
			odd = append(odd, Flag{Code: code,
				Text: fmt.Sprintf("%s weighed as %.3g g/m², and %.3g g/m² were wanted", what, got, wanted),
				Sum:  fmt.Sprintf("%g g / %d sheets / (%.4g mm × %.4g mm) = %.3g g/m²", grams, sheets, l, w, got)})
		}
	}
	for _, t := range s.Tests {
		implied("test", "the test sheets", t.Sheets, t.Grams, oddTest)
	}
	dry, dried := 0.0, 0
	for _, d := range s.Dry {
		implied("grammage", "the dry sheets", d.Sheets, d.Grams, oddGrammage)
		dry, dried = dry+d.Grams, dried+d.Sheets
	}
	each := wanted * area
	if dried > 0 {
		each = dry / float64(dried)
	}
	for _, p := range s.Parting {
		wet := p.Grams / float64(p.Sheets)
		if solids := each / wet; solids < oddSolidsLo || solids > oddSolidsHi {
			odd = append(odd, Flag{Code: "parting", Text: "the sheets weighed at parting are wetter or drier than a press leaves them",
				Sum: fmt.Sprintf("dry %.3g g / (%g g / %d sheets) = %.0f %% solids", each, p.Grams, p.Sheets, 100*solids)})
		}
	}
	return odd
}

// oddClock flags events from a device whose clock runs ahead.
func oddClock(events []Event) []Flag {
	for _, e := range events {
		if !e.Received.IsZero() && e.At.Sub(e.Received) > oddAhead {
			return []Flag{{Code: "clock", Text: "a device that wrote to this making has its clock ahead; its entries may stand in the wrong order",
				Sum: fmt.Sprintf("written %s, received %s", e.At.UTC().Format(time.DateTime), e.Received.UTC().Format(time.DateTime))}}
		}
	}
	return nil
}
