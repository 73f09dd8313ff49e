package studio

import (
	"context"
	"math"
	"slices"
	"strings"

	"vatside/internal/belief"
	"vatside/internal/drying"
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
	moistureError = 0.10   // of a lot's moisture on the logit scale: a handful, not dried to the bone
	balanceError  = 0.06   // of the fibre found again, as a part of what was weighed out: what stands in the vat is reckoned
	lookingError  = 0.20   // of hours in the dryer: looked at morning and evening
)

// Learn reads from a making what it says of each belief: at most one
// observation a belief, its summary. A making not finished says what it can.
// It is the one place where records become evidence.
//
// An observation is laid under the belief as the handbook has it today for what
// was asked then, so that it tells how far this making lay off it.
func Learn(m Making, s State) []belief.Observation {
	l := lesson{m: m, s: s, belief: map[string]belief.Belief{}, centre: map[string]float64{}, key: map[string]string{}}
	for _, p := range m.Plan.RestsOn {
		l.key[p.Key], l.centre[p.Key] = p.Belief, p.Value
	}
	if list, err := plan.BeliefsOn(m.Request, m.Plan.Mould, belief.Known{}); err == nil {
		for i, b := range list {
			l.belief[b.Key] = b
			if known := plan.KnownKeys(); i < len(known) {
				l.key[known[i]] = b.Key
			}
		}
		l.key["shrink_ratio"] = l.key["shrink_short_pct"]
	}
	l.kissedOff()
	l.lostLater()
	l.shrinkage()
	l.depth()
	l.pressed()
	l.density()
	l.uptake()
	l.lot()
	l.yield()
	l.beatingPace()
	l.drying()
	l.stepTimes()
	return asSaid(m, l.out)
}

// lesson gathers the observations of one making.
type lesson struct {
	m      Making
	s      State
	key    map[string]string  // belief key by known key
	centre map[string]float64 // what the plan reckoned with, in the unit of the known key
	belief map[string]belief.Belief
	out    []belief.Observation
}

// add keeps what was seen of a belief, by its key.
func (l *lesson) add(key string, o belief.Observation) {
	if key == "" {
		return
	}
	o.Belief = key
	if b, ok := l.belief[key]; ok {
		o = b.Observed(o)
	}
	o.ID, o.Making = l.m.ID+"/"+key, l.m.ID
	o.At = l.s.Last
	l.out = append(l.out, o)
}

func (l *lesson) figure(key string) float64 { return l.m.Plan.Figures[key].Value }

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
	long, short := l.s.Size(l.m.Request.Sheet)
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
// making without test sheets is read from its dry weights instead, at the vat
// by what the mean of the run tells of the depth, poured by the mean itself.
func (l *lesson) depth() {
	h0 := l.centre["effective_depth_mm"]
	if h0 == 0 {
		return
	}
	if l.runFollowed() {
		return
	}
	if ratio, n := l.testRatio(); n > 0 {
		hand := l.hand() / math.Sqrt(float64(n))
		sd := math.Sqrt(hand*hand + scaleError*scaleError + strengthError*strengthError)
		l.add(l.key["effective_depth_mm"], belief.Observation{Value: h0 * ratio, SD: sd})
		return
	}
	switch l.m.Request.Paper.Forming {
	case "", "western":
		l.depthFromRun(h0)
	case "poured":
		if found, n := l.dryMass(); n > 0 && l.massReckoned() > 0 {
			hand := l.hand() / math.Sqrt(float64(n))
			l.add(l.key["effective_depth_mm"], belief.Observation{Value: h0 * found / l.massReckoned(), SD: math.Hypot(hand, math.Hypot(scaleError, strengthError))})
		}
	}
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
		if t.From > 1 || t.BoneDry { // of a vat that has gone on, or dry as no table has it
			continue
		}
		grams += l.at50(t.Grams, t.RHPct)
		sheets += t.Sheets
	}
	if sheets == 0 || each == 0 {
		return 0, 0
	}
	return grams / float64(sheets) / each, sheets
}

func (l *lesson) massReckoned() float64 { return l.figure("conditioned_mass_per_sheet_g") }

// at50 turns a mass weighed at a room's humidity into what it would be at
// 50 % RH; where the humidity was not said, the plan's room is taken.
func (l *lesson) at50(grams, rhPct float64) float64 {
	if rhPct == 0 {
		room, _ := l.m.Request.Studio.Room()
		rhPct = room.RHPct
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
	area := l.figure("formed_long_mm") * l.figure("formed_short_mm") / 1e6
	if area == 0 || l.m.Request.Studio.VatL == nil {
		return nil
	}
	b := vat.Balance{Area: measure.Area(area), Depth: measure.Length(h0), Carried: 0.0}
	n, k := l.s.Couched, max(1, int(l.figure("sheets_per_recharge")))
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
	if solids, ok := l.pressedSolids(); ok {
		l.add(l.key["solids_pressed_pct"], belief.Observation{Value: solids, SD: partingError})
	}
}

func (l *lesson) pressedSolids() (float64, bool) {
	wet, wetSheets := 0.0, 0
	for _, p := range l.s.Parting {
		wet += p.Grams
		wetSheets += p.Sheets
	}
	dry, drySheets := l.dryMass()
	if wetSheets == 0 || drySheets == 0 {
		return 0, false
	}
	moisture := l.centre["moisture_conditioned_pct_dry_basis"] / 100
	solids := dry / (1 + moisture) / (wet / float64(wetSheets))
	return solids, solids > 0.05 && solids < 0.7
}

// density is that of the dry sheets, from their weight, size and thickness.
func (l *lesson) density() {
	if d, ok := Density(l.m, l.s); ok {
		l.add(l.key["density_g_cm3"], belief.Observation{Value: float64(d), SD: math.Hypot(caliperError, scaleError)})
	}
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

// drying compares the hours that sheets took with those reckoned, in air as it
// was: what the plan's hours hung on is what is learned.
func (l *lesson) drying() {
	planned, hours, n := l.figure("drying_hours_a_load"), 0.0, 0.0
	for _, d := range l.s.Dried {
		if weather, ok := l.weather(d); ok {
			hours, n = hours+d.Hours*weather, n+1
		}
	}
	if n == 0 || planned <= 0 {
		return
	}
	wetness, ratio := l.wetness(l.centre["solids_pressed_pct"]/100), hours/n/planned
	if solids, ok := l.pressedSolids(); ok && wetness > 0 {
		ratio *= wetness / l.wetness(solids) // they came wetter or drier from the press
	}
	sd := lookingError / math.Sqrt(n)
	if eff := l.centre["dryer_efficiency_pct"] / 100; eff > 0 {
		if planned > l.centre[plan.StackLeast]*wetness*1.001 {
			l.add(l.key["dryer_efficiency_pct"], belief.Observation{Value: min(eff/ratio, 0.99), SD: sd / (1 - eff)})
			return
		}
	}
	for _, p := range l.m.Plan.RestsOn {
		if p.Key == plan.StackLeast || strings.HasPrefix(p.Key, plan.HoursToDry) {
			l.add(p.Belief, belief.Observation{Value: p.Value * ratio, SD: sd})
		}
	}
}

// wetness is how wet sheets of the plan's grammage are, pressed to some solids.
func (l *lesson) wetness(solids float64) float64 {
	if solids <= 0 {
		return 0
	}
	return float64(plan.Wetness(measure.GrammageConditioned(l.figure("grammage_g_m2")), measure.Solids(solids)))
}

// weather turns hours in the air written down into hours in the air of the
// plan's room; false where nothing dries in one of them.
func (l *lesson) weather(d Dried) (float64, bool) {
	if d.AirC == 0 || d.RHPct == 0 {
		return 1, true
	}
	room, _ := l.m.Request.Studio.Room()
	altitude := 0.0
	if a := l.m.Request.Studio.AltitudeM; a != nil {
		altitude = *a
	}
	in := func(a plan.Air) (measure.Number, error) {
		return drying.WeatherFactor(measure.Temperature(a.TempC), measure.RelHumidity(a.RHPct/100), measure.Altitude(altitude))
	}
	here, err := in(room)
	if err != nil {
		return 0, false
	}
	there, err := in(plan.Air{TempC: d.AirC, RHPct: d.RHPct})
	return float64(here / there), err == nil
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

// lot is the moisture of the fibre as it lay, from a handful dried.
func (l *lesson) lot() {
	wet, dry := 0.0, 0.0
	for _, c := range l.s.Moistures {
		wet, dry = wet+c.WetG, dry+c.DryG
	}
	if moisture := 1 - dry/wet; wet > 0 && moisture > 0.005 && moisture < 0.9 {
		l.add(l.key["moisture_air_dry_pct_wet_basis"], belief.Observation{Value: moisture, SD: moistureError})
	}
}

// yield weighs the fibre against the sheets it became, what is left in the vat
// and in the pail. Of a ready pulp the few parts in a hundred that are lost are
// less than what the scales and the lot's moisture leave open, so that only a
// cook is learned from: by what is expected, not by what is found, or the
// least would be left out.
func (l *lesson) yield() {
	b, cooked := l.belief[l.key["beater_loss_pct"]]
	expected := b.From(b.Mean)
	dry, sheets := l.dryMass()
	if !cooked || expected < 4*balanceError || l.s.FibreG == 0 || sheets == 0 || l.s.Couched == 0 || l.s.StockLeftL == nil || l.m.Request.Studio.StockGL == nil {
		return
	}
	for _, w := range l.m.Plan.Weigh {
		if slices.ContainsFunc(l.m.Request.Studio.Lots, func(o plan.Lot) bool { return o.Cooked && o.Name == w.Lot }) {
			return // fibre that came cooked says nothing of the cook
		}
	}
	bone := l.s.FibreG * (1 - l.centre["moisture_air_dry_pct_wet_basis"]/100)
	if bone <= 0 || l.figure("dry_solids_per_sheet_g") <= 0 {
		return
	}
	// of what is in a sheet, additives among it, the share that is fibre
	fibre := l.figure("fibre_in_sheets_g") / l.figure("dry_solids_per_sheet_g") / l.figure("sheets_couched")
	in := dry / (1 + l.centre["moisture_conditioned_pct_dry_basis"]/100) * float64(l.s.Couched)
	found := (in+*l.s.StockLeftL**l.m.Request.Studio.StockGL)*min(fibre, 1) + l.figure("heel_fibre_g")
	loss := min(max(1-found/bone, 0.02), 0.98)
	l.add(b.Key, belief.Observation{Value: loss, SD: balanceError / (expected * (1 - expected))})
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
const learner = 3

// Observations lists what was learned from the makings, oldest first; what the
// maker left out carries the reason.
func (s *Service) Observations(ctx context.Context, f ObservationFilter) ([]belief.Observation, error) {
	var list []belief.Observation
	err := s.readDerived(ctx, func(tx Tx) (err error) {
		list, err = tx.Observations(ctx, f)
		return err
	})
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
