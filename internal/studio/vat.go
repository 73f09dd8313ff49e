package studio

import (
	"math"
	"slices"
	"time"

	"vatside/internal/belief"
	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/run"
)

// VatChanged is what was done or read at the vat besides sheets and recharges:
// any of it, in the order of its fields.
type VatChanged struct {
	StockOffL float64  `json:"stock_off_l,omitempty"` // taken off as it is, with its fibre
	WaterL    float64  `json:"water_l,omitempty"`     // put in or, negative, taken off through a strainer
	AidML     float64  `json:"aid_ml,omitempty"`      // solution of formation aid put in
	LevelL    *float64 `json:"level_l,omitempty"`     // read off the mark
	TempC     *float64 `json:"temp_c,omitempty"`      // of the vat
	HeelL     *float64 `json:"heel_l,omitempty"`      // left in the vat and kept for another paper
}

// VatStrained is a part of the vat strained, pressed and dried to the bone.
type VatStrained struct {
	TakenL float64 `json:"taken_l"`
	Grams  float64 `json:"grams"`
	Sure   bool    `json:"sure,omitempty"` // the maker was asked and stands by it
}

// Kind returns KindVat.
func (VatChanged) Kind() Kind { return KindVat }

// Kind returns KindStrained.
func (VatStrained) Kind() Kind { return KindStrained }

// mostVat is the largest vat that is followed, L.
const mostVat = 5000

func (b VatChanged) check(f *fault.List) {
	checkNumber(f, "stock_off_l", b.StockOffL, 0, mostVat, "L")
	checkNumber(f, "water_l", b.WaterL, -mostVat, mostVat, "L")
	checkNumber(f, "aid_ml", b.AidML, 0, mostGrams, "mL")
	for key, v := range map[string]*float64{"level_l": b.LevelL, "heel_l": b.HeelL} {
		if v != nil {
			checkOver(f, key, *v, mostVat, "L")
		}
	}
	if b.TempC != nil {
		checkNumber(f, "temp_c", *b.TempC, 0, 60, "°C")
	}
	if b == (VatChanged{}) {
		f.Add(fault.Invalid("water_l", "say what was done or read at the vat"))
	}
}

func (b VatStrained) check(f *fault.List) {
	checkOver(f, "taken_l", b.TakenL, mostVat, "L")
	checkOver(f, "grams", b.Grams, mostGrams, "g")
}

// Vat is a making's run at the vat as far as its record tells it.
type Vat struct {
	Run     *run.Run
	Prior   run.Prior
	Posts   []int     // by couched sheet: the post it lies in
	Post    int       // the one that grows; 0: none yet
	Fed     int       // couched sheets before the last recharge or running down; 0: none
	IDs     []string  // by event of the run: the entry that tells of it, "" of a pull
	Last    time.Time // of the last entry that bears on it
	Live    bool      // counted or fed sheet by sheet, so that the order is known
	Weighed bool      // anything was
	Stopped error     // what the run could not be followed past; nil: nothing
}

// Conditioned turns a grammage as formed into that of the dry sheet in the
// room's air, by what the plan has of both.
func (v Vat) Conditioned(m Making, g measure.GrammageFormed) measure.GrammageConditioned {
	return measure.GrammageConditioned(float64(g) / float64(v.Prior.Target) * m.Request.Paper.GrammageConditioned)
}

// Follow follows a making's run through its entries, in the maker's order; what a
// card gives by post or sheet is put where it says. Errors: Infeasible where
// the making has no vat that sheets thin, or its plan lacks what it takes.
func Follow(m Making, events []Event) (Vat, error) { return followed(m, Replay(m, events).Vat, true) }

// VatSeen is what bears on the run at the vat, with its event and time.
type VatSeen struct {
	Body    Body
	EventID string
	At      time.Time
}

// tellsOfVat reports whether an entry bears on the run at the vat.
func tellsOfVat(b Body) bool {
	switch b.(type) {
	case Post, Recharge, VatChanged, VatStrained, TestWeighed, WeighedAtParting, WeighedDry:
		return true
	}
	return false
}

func followed(m Making, seen []VatSeen, readings bool) (Vat, error) {
	p, err := RunPrior(m.Request, m.Plan)
	if err != nil {
		return Vat{}, err
	}
	r, err := run.Start(p)
	if err != nil {
		return Vat{}, err
	}
	w := watch{m: m, v: Vat{Run: r, Prior: p}}
	for _, e := range seen {
		w.take(e)
	}
	w.follow(readings)
	return w.v, nil
}

// act is what was done or read at the vat after so many couched sheets, besides
// pulling; what it was is asked once all sheets are counted.
type act struct {
	after   func() int
	what    func() []run.Event
	id      string
	feeds   bool
	weighed bool
}

// watch brings the entries of a run into the order in which they happened.
type watch struct {
	m     Making
	v     Vat
	acts  []act
	tests int // sheets weighed that were not named
}

func (w *watch) take(e VatSeen) {
	w.v.Last = e.At
	id := e.EventID
	switch b := e.Body.(type) {
	case Post:
		w.count(b)
	case Recharge:
		w.feed(id, b)
	case VatChanged:
		if events := b.events(); len(events) > 0 {
			w.add(act{id: id, what: is(events...), feeds: b.StockOffL > 0 || b.WaterL != 0})
		}
	case VatStrained:
		w.add(act{id: id, weighed: true, what: is(run.Strained{Taken: measure.Volume(b.TakenL), Mass: measure.Mass(b.Grams), Sure: b.Sure})})
	case TestWeighed:
		w.tested(id, b)
	case WeighedAtParting:
		w.add(act{id: id, weighed: true, what: func() []run.Event { return w.parted(b) }})
	case WeighedDry:
		w.add(act{id: id, weighed: true, after: w.couched, what: func() []run.Event {
			return w.some(1, w.couched(), run.Weighed{Of: b.Sheets, Mass: w.boneDry(b.Grams, b.RHPct)})
		}})
	}
}

func is(events ...run.Event) func() []run.Event { return func() []run.Event { return events } }

// add keeps an act; one whose time is not said is done now.
func (w *watch) add(a act) {
	if a.after == nil {
		now := w.couched()
		a.after = func() int { return now }
	}
	w.acts = append(w.acts, a)
}

func (w *watch) couched() int { return len(w.v.Posts) }

// count couches sheets, or takes the last ones of their post back.
func (w *watch) count(b Post) {
	w.v.Post = b.Post
	w.v.Live = w.v.Live || b.Pulled == 1
	for range b.Pulled - b.KissedOff {
		w.v.Posts = append(w.v.Posts, b.Post)
	}
	for range b.KissedOff - b.Pulled {
		for i, p := range slices.Backward(w.v.Posts) {
			if p == b.Post {
				w.v.Posts = slices.Delete(w.v.Posts, i, i+1)
				break
			}
		}
	}
}

// feed pours stock: where a card gives the post, evenly over it, where it says
// only how often, over the run.
func (w *watch) feed(id string, b Recharge) {
	times := max(b.Times, 1)
	poured := is(run.Recharged{Stock: measure.Volume(b.StockML / 1000 / float64(times))})
	switch {
	case b.AfterSheet != nil:
		w.v.Live = true
		w.add(act{id: id, what: poured, feeds: true, after: func() int { return *b.AfterSheet }})
	case b.Post == nil && times == 1:
		w.add(act{id: id, what: poured, feeds: true})
	default:
		for i := range times {
			w.add(act{id: id, what: poured, feeds: true, after: func() int {
				from, to := 0, w.couched()
				if b.Post != nil {
					if from = slices.Index(w.v.Posts, *b.Post); from < 0 {
						return w.couched()
					}
					for to = from; to < w.couched() && w.v.Posts[to] == *b.Post; to++ {
					}
				}
				return max(1, from+(to-from)*i/times)
			}})
		}
	}
}

func (b VatChanged) events() (list []run.Event) {
	if b.StockOffL > 0 {
		list = append(list, run.Scooped{Taken: measure.Volume(b.StockOffL)})
	}
	if b.WaterL != 0 {
		list = append(list, run.Watered{Water: measure.Volume(b.WaterL)})
	}
	if b.LevelL != nil {
		list = append(list, run.Levelled{Water: measure.Volume(*b.LevelL)})
	}
	return list
}

func (w *watch) tested(id string, b TestWeighed) {
	from := b.From
	if from == 0 {
		from = w.tests + 1
		w.tests += b.Sheets
	}
	mass := measure.Mass(b.Grams)
	if !b.BoneDry {
		mass = w.boneDry(b.Grams, b.RHPct)
	}
	now, last := w.couched(), from+b.Sheets-1
	w.add(act{id: id, weighed: true, after: func() int { return max(now, last) }, what: func() []run.Event {
		return w.some(from, last, run.Weighed{Mass: mass, Sure: b.Sure})
	}})
}

// parted are sheets of a post from the press, nobody knows which; without a post
// they are of the whole run.
func (w *watch) parted(b WeighedAtParting) []run.Event {
	from, to := 1, w.couched()
	if b.Post > 0 {
		from = slices.Index(w.v.Posts, b.Post) + 1
		to = len(w.v.Posts) - slices.Index(backward(w.v.Posts), b.Post)
	}
	if w.v.Prior.Pressed == 0 || from == 0 {
		return nil
	}
	return w.some(from, to, run.Weighed{Of: b.Sheets, Mass: measure.Mass(b.Grams), Wet: true, Sure: b.Sure})
}

func backward(list []int) []int {
	list = slices.Clone(list)
	slices.Reverse(list)
	return list
}

// some names the sheets of a weighing; more on the scale than there are is
// flagged elsewhere and passed over.
func (w *watch) some(from, to int, e run.Weighed) []run.Event {
	for n := from; n <= to; n++ {
		e.Sheets = append(e.Sheets, n)
	}
	if to > w.couched() || e.Of > len(e.Sheets) || len(e.Sheets) == 0 {
		return nil
	}
	return []run.Event{e}
}

// boneDry is a mass weighed in the room's air without its moisture.
func (w *watch) boneDry(grams, rhPct float64) measure.Mass {
	l := lesson{m: w.m}
	moist := 0.0
	for _, p := range w.m.Plan.RestsOn {
		if p.Key == "moisture_conditioned_pct_dry_basis" {
			moist = p.Value / 100
		}
	}
	return measure.Mass(l.at50(grams, rhPct) / (1 + moist))
}

// follow plays everything in its order, with what was read or without.
func (w *watch) follow(readings bool) {
	after := make([]int, len(w.acts))
	order := make([]int, 0, len(w.acts))
	for i, a := range w.acts {
		if !readings && a.weighed {
			continue
		}
		after[i] = min(a.after(), w.couched())
		order = append(order, i)
	}
	slices.SortStableFunc(order, func(a, b int) int { return after[a] - after[b] })
	next := 0
	for n := 0; ; n++ {
		for ; next < len(order) && after[order[next]] <= n; next++ {
			a := w.acts[order[next]]
			w.v.Weighed = w.v.Weighed || a.weighed
			if a.feeds {
				w.v.Fed = n
			}
			for _, e := range a.what() {
				if _, read := e.(run.Levelled); readings || !read {
					w.happen(e, a.id)
				}
			}
		}
		if n == w.couched() {
			return
		}
		w.happen(run.Pulled{}, "")
	}
}

// happen hands the run its next event; after one that cannot be, the run is
// followed no further, only counted.
func (w *watch) happen(e run.Event, id string) {
	if w.v.Stopped != nil {
		return
	}
	if w.v.Stopped = w.v.Run.Happen(e); w.v.Stopped == nil {
		w.v.IDs = append(w.v.IDs, id)
	}
}

// RunPrior is what a plan believes of a run at its vat. Errors: Infeasible for a
// way of forming that does not thin a vat, or where the plan lacks what it takes.
func RunPrior(r plan.Request, p plan.Plan) (run.Prior, error) {
	if way := r.Paper.Forming; way != "" && way != "western" {
		return run.Prior{}, fault.Infeasible("forming", "Sheets formed in this way are counted; their weight is not followed at the vat.")
	}
	figure := func(key string) float64 { return p.Figures[key].Value }
	area, each := figure("formed_long_mm")*figure("formed_short_mm")/1e6, figure("dry_solids_per_sheet_g")
	grams, litres, strong := figure("vat_first_fill_g"), figure("vat_first_fill_l"), figure("vat_consistency_g_l")
	if !(area > 0 && each > 0 && grams > 0 && litres > 0 && strong > 0) {
		return run.Prior{}, fault.Infeasible("vat_l", "The plan of this making does not say how its vat was filled, so sheets are only counted.")
	}
	level := grams / strong // but for how high a round starts
	if rows := p.Vat.Recharges; len(rows) > 0 && !rows[0].RunDown {
		level = rows[0].VatL
	} else if r.Studio.VatL != nil {
		level = *r.Studio.VatL
	}
	prior := run.Prior{
		Area: measure.Area(area), Target: measure.GrammageFormed(each / area), Sheets: max(1, int(figure("sheets_couched"))),
		Vat: measure.Volume(level), FillStock: measure.Volume(min(litres, level)), Jug: usualJug, Every: max(1, int(figure("sheets_per_recharge"))),
		Drift: run.UsualDrift, Stock: measure.Consistency(grams / litres), StockDoubt: run.UsualStockDoubt, Scale: usualScale,
		Pour: run.UsualPour, Forgetting: run.UsualForgetting, LitreDoubt: run.UsualLitreDoubt, Drying: scaleError, LevelDoubts: run.UsualPour,
	}
	if jug := r.Studio.JugML; jug != nil && *jug > 0 {
		prior.Jug = measure.Volume(*jug / 1000)
	}
	for _, b := range p.RestsOn {
		switch b.Key {
		case "effective_depth_mm":
			prior.Depth, prior.DepthDoubt = measure.Length(b.Value), doubt(b.Low, b.High)
		case "hand_scatter_pct":
			prior.Hand = b.Value / 100
		case "solids_couched_pct":
			prior.Couched, prior.WaterDoubt = measure.Solids(b.Value/100), doubt(100/b.High-1, 100/b.Low-1)
		case "solids_pressed_pct":
			prior.Pressed, prior.PressDoubt = measure.Solids(b.Value/100), doubt(b.Low, b.High)
		}
	}
	return prior, nil
}

// What a plan does not say; ours.
const (
	usualJug   = 1.0 // L
	usualScale = 0.1 // g, error of one reading
)

// doubt is the standard deviation of a logarithm whose nine-in-ten band is
// this; a fixed number has none.
func doubt(low, high float64) float64 {
	if !(low > 0 && high > low) {
		return 0
	}
	return min(0.9, math.Log(high/low)/(2*1.6448536))
}

// runFollowed learns from a run that was followed sheet by sheet: all its
// readings together, less what was believed before them, so that they count
// once. It reports whether the depth was taught.
func (l *lesson) runFollowed() bool {
	with, err := followed(l.m, l.s.Vat, true)
	if err != nil || !with.Live || with.Stopped != nil {
		return false
	}
	without, err := followed(l.m, l.s.Vat, false)
	if err != nil {
		return false
	}
	after, before := with.Run.Lesson(), without.Run.Lesson()
	if carried, ok := after.Carried.Over(before.Carried); ok { // L/g = (1/s − 1)/1000
		l.add(l.key["solids_couched_pct"], belief.Observation{Value: 1 / (1 + 1000*math.Exp(carried.Log)), SD: carried.Doubt})
	}
	depth, ok := after.Depth.Over(before.Depth)
	if ok && with.Weighed {
		l.add(l.key["effective_depth_mm"], belief.Observation{Value: math.Exp(depth.Log), SD: depth.Doubt})
	}
	return ok && with.Weighed
}
