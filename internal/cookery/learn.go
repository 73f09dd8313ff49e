package cookery

import (
	"fmt"

	"vatside/internal/belief"
	"vatside/internal/cooking"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/source"
)

// Known is what the studio's cooks have taught.
type Known struct {
	cooks  []Told
	yields []belief.Observation
}

// Lesson is a number of a plant's cook: what the handbook said, what was seen and
// what is reckoned with now.
type Lesson struct {
	Prior source.Value
	Now   source.Value
	Seen  []float64
}

// Changed reports whether anything was seen.
func (l Lesson) Changed() bool { return len(l.Seen) > 0 }

const (
	// yieldError is how far a weighed yield is off, as a share: the quick test of
	// moisture (source: practice).
	yieldError = 0.05
	// drainedError is the same where nobody tested how wet it was: what a
	// kilogram holds differs by half (source: memory).
	drainedError = 0.3
	// yieldWithin is the share of the variance of a yield that lies between cooks
	// of one studio (source: memory).
	yieldWithin = 0.3
)

func yieldKey(fibre string) string { return "cook yield/" + source.Plain(fibre) }

// yieldSeen is the yield of a cook that was weighed.
func yieldSeen(t Told) (belief.Observation, bool) {
	pulp, ok := t.State.PulpG()
	share := pulp / t.Cook.DryG
	if !ok || !(share > 0.01 && share < 0.995) {
		return belief.Observation{}, false
	}
	off := drainedError
	if t.State.Finished.Body.How == ByTest {
		off = yieldError
	}
	return belief.Observation{ID: t.Cook.ID, Making: t.Cook.ID, Belief: yieldKey(t.Cook.Fibre), At: t.State.Finished.At,
		Value: share, SD: off / (1 - share)}, true
}

// Yield returns the pulp from dry fibre of a plant; its Prior is not known where
// the handbook has none and no cook was weighed.
func (k Known) Yield(f fibre.Fibre) Lesson {
	l := Lesson{Prior: f.Yield, Now: f.Yield}
	if !f.Yield.Known() || !(f.Yield.Low > 0 && f.Yield.High < 1 && f.Yield.Low < f.Yield.High) {
		return l
	}
	b := belief.FromBand(belief.Logit, f.Yield.Mid, f.Yield.Low, f.Yield.High, yieldWithin)
	b.Key, b.Name, b.Source, b.Grade = yieldKey(f.Name), "pulp from dry "+f.Name, f.Yield.Source, f.Yield.Grade
	var seen []belief.Observation
	for _, o := range k.yields {
		if o.Belief == b.Key {
			l.Seen, seen = append(l.Seen, o.Value), append(seen, b.Observed(o))
		}
	}
	if len(l.Seen) == 0 {
		return l
	}
	b = b.With(belief.NewKnown(seen, nil))
	low, high := b.Band()
	key, grade := b.Grounds()
	l.Now = source.Value{Low: low, Mid: b.Centre(), High: high, Source: key, Grade: grade, Note: seenIn(len(l.Seen))}
	return l
}

// Hours returns the law of a plant's hours with an alkali, the cooks seen, and
// whether any were.
func (k Known) Hours(f fibre.Fibre, a cooking.Alkali) (prior, now cooking.Law, seen []cooking.Cook, err error) {
	usual, charge := UsualHours(f, a)
	prior, err = cooking.PriorLaw(usual, charge)
	if err != nil {
		return prior, prior, nil, err
	}
	for _, t := range k.cooks {
		with, _ := cooking.GetAlkali(t.Cook.Alkali)
		if source.Plain(t.Cook.Fibre) != source.Plain(f.Name) || with.Name != a.Name {
			continue
		}
		if c, ok := t.taught(); ok {
			seen = append(seen, c)
		}
	}
	now, err = prior.After(seen...)
	return prior, now, seen, err
}

// HoursAt is the hours of the next cook by a law, as a value.
func HoursAt(l cooking.Law, cooks int, t measure.Temperature, c measure.Dose) (source.Value, error) {
	low, mid, high, err := l.Next(t, c)
	v := source.Value{Low: float64(low), Mid: float64(mid), High: float64(high), Source: l.Hours.Source, Grade: l.Hours.Grade}
	if cooks > 0 {
		v.Note = seenIn(cooks)
	}
	return v, err
}

func seenIn(n int) string {
	if n == 1 {
		return "seen in one cook of this studio"
	}
	return fmt.Sprintf("seen in %d cooks of this studio", n)
}

// UsualHours are the hours at 100 °C that the law starts from, and the charge
// they are stated for: the fibre's own where its usual alkali is meant.
func UsualHours(f fibre.Fibre, a cooking.Alkali) (source.Value, measure.Dose) {
	if a.Name == cooking.SlakedLime {
		return source.Said(3, 6, 10, source.KeyMemory, "3-8 h remembered; 8-10 h in print (do-paper-page)"), measure.Dose(a.Usual.Mid)
	}
	if f.Cook == nil || !f.Cook.Hours.Known() {
		return source.Said(1.5, 2.5, 5, "cooking-bark-sheet", "2-3 h stated for bark; 2-8 h across plants elsewhere; the band is ours"), measure.Dose(a.Usual.Mid)
	}
	charge := a.Usual.Mid
	if with, ok := cooking.GetAlkali(f.Cook.With); ok && with.Name == a.Name && f.Cook.Alkali.Known() {
		charge = f.Cook.Alkali.Mid
	}
	return f.Cook.Hours, measure.Dose(charge)
}

// UsualCharge is what to begin with, a fraction: the handbook's for that plant
// where it says one of that alkali, else the usual charge.
func UsualCharge(f fibre.Fibre, a cooking.Alkali) measure.Dose {
	_, charge := UsualHours(f, a)
	return charge
}
