package studio

import (
	"context"
	"math"
	"strings"

	"vatside/internal/belief"
	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/sheet"
	"vatside/internal/sizing"
	"vatside/internal/vat"
)

// Errors of what a studio measures, as standard deviations; from memory.
const (
	rulerError    = 0.0015 // linear shrinkage: a millimetre either way on both sides of a sheet
	scaleError    = 0.01   // of a mass: the scale, and the moisture of the room
	strengthError = 0.03   // of the stock's strength: the lot's moisture, losses in the beater
	clockError    = 0.10   // of hands-on minutes as people write them down
	partingError  = 0.05   // of pressed solids on the logit scale
	caliperError  = 0.05   // of a density: five readings on handmade paper
	uptakeError   = 0.10   // of a pick-up: sheets differ by a tenth
)

// Learn reads from a making what it says of each belief: at most one
// observation a belief, its summary. A making not finished says what it can.
// It is the one place where records become evidence.
func Learn(m Making, s State) []belief.Observation {
	l := lesson{m: m, s: s, key: map[string]string{}, centre: map[string]float64{}}
	for _, p := range m.Plan.RestsOn {
		l.key[p.Key], l.centre[p.Key] = p.Belief, p.Value
	}
	l.kissedOff()
	l.lostLater()
	l.shrinkage()
	l.depth()
	l.pressed()
	l.density()
	l.uptake()
	l.stepTimes()
	return l.out
}

// lesson gathers the observations of one making.
type lesson struct {
	m      Making
	s      State
	key    map[string]string  // belief key by known key
	centre map[string]float64 // what the plan reckoned with, in the unit of the known key
	out    []belief.Observation
}

func (l *lesson) add(key string, o belief.Observation) {
	if key == "" {
		return
	}
	o.ID, o.Making, o.Belief = l.m.ID+"/"+key, l.m.ID, key
	o.At = l.s.Last
	l.out = append(l.out, o)
}

func (l *lesson) kissedOff() {
	if l.s.Pulled > 0 {
		l.add(l.key["kissed_off_pct"], belief.Observation{Hits: float64(l.s.KissedOff), Trials: float64(l.s.Pulled)})
	}
}

// lostLater counts what was graded below good, and what was couched for the
// run but never graded, as lost.
func (l *lesson) lostLater() {
	if !l.s.Graded {
		return
	}
	g := l.s.Grades
	graded := g.Good + g.Retree + g.Broken + g.Broke
	trials := max(graded, l.s.Couched-l.tests())
	if trials > 0 {
		l.add(l.key["lost_later_pct"], belief.Observation{Hits: float64(trials - g.Good), Trials: float64(trials)})
	}
}

func (l *lesson) tests() int {
	if l.m.Request.TestSheets != nil {
		return *l.m.Request.TestSheets
	}
	return 3
}

// shrinkage compares dry sizes with the formed size, both ways together: the
// geometric mean and the ratio of the two.
func (l *lesson) shrinkage() {
	formedLong, formedShort := l.m.Plan.Figures["formed_long_mm"].Value, l.m.Plan.Figures["formed_short_mm"].Value
	if len(l.s.Sizes) == 0 || formedLong == 0 || formedShort == 0 {
		return
	}
	long, short := 0.0, 0.0
	for _, d := range l.s.Sizes {
		long += d.LongMM / float64(len(l.s.Sizes))
		short += d.ShortMM / float64(len(l.s.Sizes))
	}
	eLong, eShort := max(0, 1-long/formedLong), max(0, 1-short/formedShort)
	mean := math.Sqrt(eLong * eShort)
	if eLong < rulerError || eShort < rulerError { // a product with nought says too little
		mean = (eLong + eShort) / 2
	}
	e := rulerError / math.Sqrt(float64(len(l.s.Sizes)))
	l.add(l.key["shrink_long_pct"], belief.Observation{Value: mean, SD: e / (2 * math.Sqrt(max(mean, e)))})
	if eLong > 4*e && eShort > 4*e {
		l.add(l.key["shrink_ratio"], belief.Observation{Value: math.Sqrt(eLong / eShort), SD: math.Hypot(e/eLong, e/eShort) / 2})
	}
}

// depth compares the weight of the test sheets with what was reckoned: they
// were pulled from a vat of known strength before anything was corrected. A
// making without test sheets is read from its dry weights instead, by what the
// mean of the run tells of the depth.
func (l *lesson) depth() {
	if l.m.Request.Paper.Forming != "" && l.m.Request.Paper.Forming != "western" {
		return
	}
	h0 := l.centre["effective_depth_mm"]
	if h0 == 0 {
		return
	}
	if ratio, n := l.testRatio(); n > 0 {
		hand := l.hand() / math.Sqrt(float64(n))
		sd := math.Sqrt(hand*hand + scaleError*scaleError + strengthError*strengthError)
		l.add(l.key["effective_depth_mm"], belief.Observation{Value: h0 * ratio, SD: sd})
		return
	}
	l.depthFromRun(h0)
}

// hand is the hand's scatter that the plan reckoned with, a fraction.
func (l *lesson) hand() float64 {
	if h := l.centre["hand_scatter_pct"]; h > 0 {
		return h / 100
	}
	return 0.04
}

// testRatio is the mean mass of the test sheets over the one reckoned, and how
// many sheets it rests on.
func (l *lesson) testRatio() (ratio float64, sheets int) {
	each := l.massReckoned()
	grams := 0.0
	for _, t := range l.s.Tests {
		grams += l.at50(t.Grams, t.RHPct)
		sheets += t.Sheets
	}
	if sheets == 0 || each == 0 {
		return 0, 0
	}
	return grams / float64(sheets) / each, sheets
}

func (l *lesson) massReckoned() float64 {
	return l.m.Plan.Figures["conditioned_mass_per_sheet_g"].Value
}

// at50 turns a mass weighed at a room's humidity into what it would be at
// 50 % RH; where the humidity was not said, the plan's room is taken.
func (l *lesson) at50(grams, rhPct float64) float64 {
	if rhPct == 0 {
		rhPct = 50
		if air := l.m.Request.Studio.Air; air != nil {
			rhPct = air.RHPct
		}
	}
	here, err := sheet.MoistureAt(measure.RelHumidity(rhPct / 100))
	if err != nil {
		return grams
	}
	at50, err := sheet.MoistureAt(0.5)
	if err != nil {
		return grams
	}
	return grams * (1 + float64(at50)) / (1 + float64(here))
}

// depthFromRun finds the depth whose mean over the run is the weight found. A
// run fed with fixed doses says little of the depth, and the observation's
// spread grows by just that.
func (l *lesson) depthFromRun(h0 float64) {
	found, n := l.dryMass()
	each := l.massReckoned()
	if n == 0 || each == 0 || l.s.Recharged == 0 {
		return
	}
	mean := l.runMean(h0)
	if mean == nil {
		return
	}
	// bisection on the depth over the one reckoned, between a third and three
	lo, hi := 1.0/3, 3.0
	for range 60 {
		mid := math.Sqrt(lo * hi)
		if mean(mid) < found/each {
			lo = mid
		} else {
			hi = mid
		}
	}
	ratio := math.Sqrt(lo * hi)
	slope := (math.Log(mean(ratio*1.02)) - math.Log(mean(ratio/1.02))) / (2 * math.Log(1.02))
	if ratio < 0.34 || ratio > 2.9 || slope < 0.1 {
		return
	}
	hand := l.hand() / math.Sqrt(float64(n))
	sd := math.Sqrt(hand*hand+scaleError*scaleError+strengthError*strengthError) / slope
	l.add(l.key["effective_depth_mm"], belief.Observation{Value: h0 * ratio, SD: sd})
}

// runMean returns the mean weight of the run over the one reckoned as a
// function of the depth over the one reckoned, or nil where the plan lacks
// what it takes.
func (l *lesson) runMean(h0 float64) func(ratio float64) float64 {
	figure := func(k string) float64 { return l.m.Plan.Figures[k].Value }
	area := figure("formed_long_mm") * figure("formed_short_mm") / 1e6
	if area == 0 || l.m.Request.Studio.VatL == nil {
		return nil
	}
	b := vat.Balance{Area: measure.Area(area), Depth: measure.Length(h0), Carried: 0.0}
	n, k := l.s.Couched, max(1, int(figure("sheets_per_recharge")))
	if n < 1 {
		return nil
	}
	v := measure.Volume(*l.m.Request.Studio.VatL)
	return func(ratio float64) float64 {
		f, err := b.MeanBias(v, 1, measure.Number(ratio), 1, n, k)
		if err != nil {
			return math.NaN()
		}
		return float64(f)
	}
}

// dryMass is the mean mass of the dry sheets weighed, at 50 % RH.
func (l *lesson) dryMass() (grams float64, sheets int) {
	for _, d := range l.s.Dry {
		grams += l.at50(d.Grams, d.RHPct)
		sheets += d.Sheets
	}
	if sheets == 0 {
		return 0, 0
	}
	return grams / float64(sheets), sheets
}

// pressed compares the weight at parting with the dry weight of the same
// making: dry solids over pressed mass.
func (l *lesson) pressed() {
	wet, wetSheets := 0.0, 0
	for _, p := range l.s.Parting {
		wet += p.Grams
		wetSheets += p.Sheets
	}
	dry, drySheets := l.dryMass()
	if wetSheets == 0 || drySheets == 0 {
		return
	}
	moisture := l.centre["moisture_conditioned_pct_dry_basis"] / 100
	solids := dry / (1 + moisture) / (wet / float64(wetSheets))
	if solids > 0.05 && solids < 0.7 {
		l.add(l.key["solids_pressed_pct"], belief.Observation{Value: solids, SD: partingError})
	}
}

// density is that of the dry sheets, from their weight, size and thickness.
func (l *lesson) density() {
	if d, ok := Density(l.m, l.s); ok {
		l.add(l.key["density_g_cm3"], belief.Observation{Value: float64(d), SD: math.Hypot(caliperError, scaleError)})
	}
}

// Density is what thickness, weight and size of a making's dry sheets come to;
// false where one of them was not measured. Without a dry size the size wanted
// is taken.
func Density(m Making, s State) (measure.Density, bool) {
	var readings []float64
	for _, c := range s.Calipers {
		readings = append(readings, c.ThicknessMM...)
	}
	g, ok := Grammage(m, s)
	if len(readings) == 0 || !ok {
		return 0, false
	}
	mean := 0.0
	for _, t := range readings {
		mean += t / float64(len(readings))
	}
	d, err := sheet.DensityFromCaliper(g, measure.Length(mean))
	return d, err == nil
}

// Grammage is what weight and size of a making's dry sheets come to, at 50 % RH;
// false where none was weighed.
func Grammage(m Making, s State) (measure.GrammageConditioned, bool) {
	grams, n := (&lesson{m: m, s: s}).dryMass()
	if n == 0 {
		return 0, false
	}
	long, short := m.Request.Sheet.LongMM, m.Request.Sheet.ShortMM
	if k := float64(len(s.Sizes)); k > 0 {
		long, short = 0, 0
		for _, z := range s.Sizes {
			long, short = long+z.LongMM/k, short+z.ShortMM/k
		}
	}
	area, err := sheet.AreaOf(measure.Length(long), measure.Length(short))
	if err != nil {
		return 0, false
	}
	g, err := sheet.GrammageFromSheet(measure.Mass(grams), area)
	return g, err == nil
}

// uptake is how much bath the sheets took up.
func (l *lesson) uptake() {
	sum, n := 0.0, 0.0
	for _, z := range l.s.Sized {
		if u, err := sizing.PickUp(measure.Mass(z.DryG), measure.Mass(z.WetG)); err == nil && u > 0 {
			sum, n = sum+float64(u), n+1
		}
	}
	if n > 0 {
		l.add(l.key["size_uptake_g_g"], belief.Observation{Value: sum / n, SD: uptakeError / math.Sqrt(n)})
	}
}

// bySheet are the steps whose minutes grow with the sheets.
var bySheet = map[string]bool{"pull and couch": true, "part": true, "dry": true, "size": true, "sort": true, "pack": true}

// stepTimes compare the minutes written down with the usual ones of that step,
// for as many sheets as there really were.
func (l *lesson) stepTimes() {
	planned := l.m.Plan.Figures["sheets_couched"].Value
	for _, step := range l.m.Plan.Steps {
		took, ok := l.s.Minutes[step.Key]
		if !ok || took <= 0 || step.UsualMin <= 0 {
			continue
		}
		usual := step.UsualMin
		if bySheet[step.Key] && l.s.Couched > 0 && planned > 0 {
			usual *= float64(l.s.Couched) / planned
		}
		l.add(plan.StepTimeKey(step.Key), belief.Observation{Value: took / usual, SD: clockError})
	}
}

// ObservationFilter narrows a list of observations; its zero value asks for
// all, oldest first.
type ObservationFilter struct {
	ID       string
	MakingID string
	Belief   string // full key
}

// learner is the version of Learn. Raise it whenever Learn, or a prior that it
// takes from the handbook, becomes another: every studio then learns anew from
// its records, once.
const learner = 1

// Observations lists what was learned from the makings, oldest first; what the
// maker left out carries the reason. What another learner made is made anew
// first.
func (s *Service) Observations(ctx context.Context, f ObservationFilter) ([]belief.Observation, error) {
	var list []belief.Observation
	by := learner
	read := func(tx Tx) (err error) {
		if by, err = tx.Learner(ctx); err != nil || by != learner {
			return err
		}
		list, err = tx.Observations(ctx, f)
		return err
	}
	err := s.store.Read(ctx, read)
	if err == nil && by != learner {
		if err = s.Relearn(ctx); err == nil {
			err = s.store.Read(ctx, read)
		}
	}
	return list, err
}

// ExcludeObservation leaves an observation out, with the reason; an empty
// reason takes it in again. It outlasts every rebuilding. Faults: Invalid,
// NotFound.
func (s *Service) ExcludeObservation(ctx context.Context, id, reason string) error {
	var faults fault.List
	reason = strings.TrimSpace(reason)
	checkText(&faults, "reason", reason, longText)
	if err := faults.OrNil(); err != nil {
		return err
	}
	return s.store.Write(ctx, func(tx Tx) error {
		list, err := tx.Observations(ctx, ObservationFilter{ID: id})
		o, err := one(list, err, "there is no such observation")
		if err != nil {
			return err
		}
		return tx.ExcludeObservation(ctx, o.Making, o.ID, reason, s.second())
	})
}

// Relearn rebuilds the observations of every making, as after a new version of
// the program that learns otherwise.
func (s *Service) Relearn(ctx context.Context) error {
	return s.store.Write(ctx, func(tx Tx) error {
		makings, err := tx.Makings(ctx, MakingFilter{})
		if err != nil {
			return err
		}
		for _, m := range makings {
			events, err := tx.Events(ctx, m.ID)
			if err != nil {
				return err
			}
			if _, err := s.derive(ctx, tx, m, events); err != nil {
				return err
			}
		}
		return tx.SetLearner(ctx, learner)
	})
}

// Pins returns the values the maker fixed, by belief.
func (s *Service) Pins(ctx context.Context) (map[string]belief.Pin, error) {
	var pins map[string]belief.Pin
	err := s.store.Read(ctx, func(tx Tx) (err error) {
		pins, err = tx.Pins(ctx)
		return err
	})
	return pins, err
}

// SetPin fixes a value. Faults: Invalid, OutOfRange. Whether the number can be
// one of that belief, the plan says.
func (s *Service) SetPin(ctx context.Context, key string, p belief.Pin) error {
	var faults fault.List
	if key == "" {
		faults.Add(fault.Invalid("belief", "say which number is fixed"))
	}
	checkText(&faults, "belief", key, shortText)
	if math.IsNaN(p.Value) || math.IsInf(p.Value, 0) {
		faults.Add(fault.OutOfRange("value", "a number"))
	}
	checkText(&faults, "why", p.Why, longText)
	if err := faults.OrNil(); err != nil {
		return err
	}
	return s.store.Write(ctx, func(tx Tx) error { return tx.PutPin(ctx, key, p, s.second()) })
}

// ForgetPin sets a fixed value free again; forgetting twice is no fault.
func (s *Service) ForgetPin(ctx context.Context, key string) error {
	return s.store.Write(ctx, func(tx Tx) error { return tx.ErasePin(ctx, key) })
}
