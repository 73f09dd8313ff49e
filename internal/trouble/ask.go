package trouble

import (
	"fmt"
	"slices"

	"vatside/internal/measure"
	"vatside/internal/source"
)

// Cause is one cause of a symptom, as the facts of a making leave it.
type Cause struct {
	Rule     string       `json:"rule"`
	Text     string       `json:"cause"`
	Speaks   Speaks       `json:"facts_speak"`
	Why      string       `json:"why,omitempty"` // the fact, "" where none speaks
	Test     string       `json:"test"`
	Change   string       `json:"change"`
	Cautions []string     `json:"cautions,omitempty"`
	Source   string       `json:"source"`
	Grade    source.Grade `json:"grade"`
}

// Answer is what may be behind a symptom. Causes stand with those that the facts
// speak for first, then those to be tested, then those that the facts speak
// against; within each in the order of the trade, likeliest first.
type Answer struct {
	Symptom Symptom  `json:"symptom"`
	Causes  []Cause  `json:"causes"`
	Count   []string `json:"count_with,omitempty"` // what the next plan should count with
}

// Ask answers a symptom, in any of the words makers use for it, from the facts of
// a making. Facts outside their range and unknown symptoms are faults.
func Ask(symptom string, f Facts) (Answer, error) {
	s, err := Find("symptom", symptom)
	if err != nil {
		return Answer{}, err
	}
	if err := f.check(); err != nil {
		return Answer{}, err
	}
	out := Answer{Symptom: s, Count: count(&f)}
	for _, row := range load().causes[s.Key] {
		found := rules[row.Rule](&f)
		c := row
		c.Cautions = slices.Clone(row.Cautions)
		c.Speaks, c.Why = found.speaks, found.why
		out.Causes = append(out.Causes, c)
	}
	slices.SortStableFunc(out.Causes, func(a, b Cause) int { return int(a.Speaks - b.Speaks) })
	return out, nil
}

// slowPace is a time from pull to pull that only slow stock brings: with free
// stock a small sheet takes 1 to 1.5 min, a large one 3 to 5 (memory).
const slowPace measure.Minutes = 8

// count says what the facts mean for the next plan, whatever the symptom.
func count(f *Facts) []string {
	var out []string
	if f.FirstBad != nil && *f.FirstBad > 0 {
		text := fmt.Sprintf("%d warm-up sheets at the start of each run", *f.FirstBad)
		if f.Wanted != nil && *f.Wanted > 0 {
			text += fmt.Sprintf(": pull at least %d for %d good ones in one run", *f.Wanted+*f.FirstBad, *f.Wanted)
		}
		out = append(out, text)
	}
	if f.KissedOff != nil && f.Pulled != nil && *f.KissedOff > 0 {
		out = append(out, fmt.Sprintf("%d of %d pulls kissed off, %s: the fibre goes back, the time does not", *f.KissedOff, *f.Pulled, percent(float64(*f.KissedOff)/float64(*f.Pulled))))
	}
	if pace := f.pace(); pace != nil && *pace >= slowPace {
		text := fmt.Sprintf("%s from pull to pull is %s sheets an hour", lasting(float64(*pace)), tidy(60/float64(*pace)))
		if f.Wanted != nil && *f.Wanted > 0 {
			text += fmt.Sprintf(", and %d sheets take %s h at the vat", *f.Wanted, tidy(float64(*f.Wanted)*float64(*pace)/60))
		}
		out = append(out, text)
	}
	return out
}

// pace is the time from pull to pull; where only the draining was timed it is at
// least that.
func (f *Facts) pace() *measure.Minutes {
	if f.MinutesASheet != nil {
		return f.MinutesASheet
	}
	return f.Drain
}
