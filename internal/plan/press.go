package plan

import (
	"vatside/internal/belief"
	"vatside/internal/drying"
	"vatside/internal/figure"
	"vatside/internal/measure"
	"vatside/internal/pressing"
	"vatside/internal/sizing"
	"vatside/internal/source"
)

// press works out posts, pressure on the real sheet area, and the water left.
func (m *maker) press() {
	if m.bk.Err() != nil {
		return
	}
	bk := m.bk
	per, limit, err := m.postAtMost()
	if err != nil {
		bk.Fail(err)
		return
	}
	perPost := given(m, "sheets to a post, one felt more than sheets", per, "studio")
	if limit != "felts" {
		perPost = perPost.Note("held down by " + limitWords[limit])
	}
	m.set("post_sheets", perPost.AsDecision())
	exact := figure.Map2(bk, "posts, as a quotient", "{0} / {1}", func(n, per measure.Sheets) (measure.Posts, error) { return measure.Posts(n / per), nil }, m.couchedSheets, perPost)
	posts, err := pressing.Posts(m.couchedSheets.Centre(), int(per))
	if err != nil {
		bk.Fail(err)
		return
	}
	m.posts = figure.Choose(bk, "posts", "{0} + {a}", []float64{float64(posts) - float64(exact.Centre())}, posts, nil, exact).Note("rounded up to a whole post")
	m.set("posts", m.posts.Figure())
	m.postWeight(min(per, m.couchedSheets.Centre()))
	if m.force() > 0 {
		force := given(m, "force of the press", m.force(), "studio")
		p := figure.Map2(bk, "pressure on the sheets", "{0} / {1}", pressing.PressureOn, force, m.formedArea)
		m.set("press_pressure_kpa", p.Figure())
	}
	m.pressed = draw[measure.Solids](m, "solids_pressed_pct")
	all := figure.Map2(bk, "solids in all sheets", "{0} × {1}", timesMass, m.couchedSheets, m.solids)
	m.water = figure.Map2(bk, "water left after the press", "{0} × (1 / {1} − 1) / 1000", pressing.WaterLeft, all, m.pressed)
	m.set("water_after_press_kg", m.water.Figure())
}

// limitWords say what holds a post down.
var limitWords = map[string]string{"daylight": "the opening of the press", "lift": "what hands lift here"}

// postAtMost is the most sheets in a post: by the felts, by the opening of the
// press, and by what is lifted, where the studio says them.
func (m *maker) postAtMost() (measure.Sheets, string, error) {
	if m.presser.Daylight == nil && m.lift == nil {
		n, err := pressing.PostSheets(m.felts)
		return n, "felts", err
	}
	l := pressing.PostLimits{Felts: m.felts, Layer: pressing.LayerThick}
	if m.presser.Daylight != nil {
		l.Daylight = measure.Length(*m.presser.Daylight)
	}
	if m.lift != nil {
		area := float64(m.formedArea.Centre())
		l.Lift = measure.Kilograms(*m.lift)
		l.Weight = measure.Kilograms(area*usualFelt/1000 + float64(m.solids.Centre())/float64(m.couched.Centre())/1000)
	}
	return pressing.PostSheetsAtMost(l)
}

// usualFelt is a square metre of wet felt, g: 800 to 2,800, from memory.
const usualFelt = 1500

// postWeight works out what the fullest post weighs as it goes to the press:
// the press is fed by hands. A wet felt holds 1.5 kg on a square metre, 0.8 to
// 2.8 (from memory); felts are taken as large as the sheet.
func (m *maker) postWeight(fullest measure.Sheets) {
	bk := m.bk
	soaked := prior("wet felt", "a square metre of wet felt", bandBelief(800, usualFelt, 2800), "memory")
	soaked.Unit = "g/m²"
	felt := figure.Map2(bk, "a wet felt", "{0} × {1}", soakedFelt, drawBelief[measure.GrammageFormed](m, soaked.With(m.known)), m.formedArea)
	n := given(m, "sheets in the fullest post", fullest, "derived")
	m.post = figure.Map4(bk, "weight of the fullest post", "({0} × {1} / {2} + ({0} + 1) × {3}) / 1000", pressing.PostWeight, n, m.solids, m.couched, felt)
	m.set("post_weight_kg", m.post.Figure())
}

// soakedFelt is a wet felt of the size of the sheet; a far draw is kept inside
// what the post's weight allows.
func soakedFelt(soaked measure.GrammageFormed, area measure.Area) (measure.Mass, error) {
	return min(measure.Mass(float64(soaked)*float64(area)), 20000), nil
}

// dry works out loads of the dryer and how long they take.
func (m *maker) dry() {
	if m.bk.Err() != nil {
		return
	}
	bk := m.bk
	places := given(m, "places in the dryer", measure.Sheets(m.places), "studio")
	exact := figure.Map2(bk, "dryer loads, as a quotient", "{0} / {1}", func(n, per measure.Sheets) (measure.Loads, error) { return measure.Loads(n / per), nil }, m.couchedSheets, places)
	loads, err := drying.Loads(m.couchedSheets.Centre(), m.places)
	if err != nil {
		bk.Fail(err)
		return
	}
	m.dryerLoads = figure.Choose(bk, "dryer loads", "{0} + {a}", []float64{float64(loads) - float64(exact.Centre())}, loads, nil, exact).Note("rounded up to a whole load")
	m.set("dryer_loads", m.dryerLoads.Figure())
	each := m.hoursOfLoad()
	if bk.Err() != nil {
		return
	}
	m.dryHours = figure.Map2(bk, "hours in the dryer", "{0} × {1}", loadHours, m.dryerLoads, each)
	m.set("drying_hours", m.dryHours.Figure())
	m.set("drying_hours_a_load", each.Figure())
}

// hoursOfLoad: with a fan, the longer of what the air can carry off at the
// dryer's efficiency and what a stack never beats; without one, the waiting
// time of the trade, by this room's weather and by how wet the sheets come.
func (m *maker) hoursOfLoad() figure.Col[measure.Hours] {
	bk := m.bk
	if m.drying != drying.Stack || m.airflow == 0 {
		return m.unforced()
	}
	perLoad := figure.Map2(bk, "water in a load", "{0} / {1}", func(w measure.Kilograms, n measure.Loads) (measure.Kilograms, error) {
		return w / measure.Kilograms(n), nil
	}, m.water, m.dryerLoads)
	capacity, err := drying.Capacity(m.airflow, m.temp, m.rh, m.altitude)
	if err != nil {
		bk.Fail(err)
		return figure.Col[measure.Hours]{}
	}
	can := figure.Given(bk, "water this air can carry off", capacity, "ashrae-psychrometrics", 0)
	bound := figure.Map2(bk, "hours at the very least", "{0} / {1}", drying.HoursAtLeast, perLoad, can)
	eff := draw[measure.Number](m, "dryer_efficiency_pct")
	learned := figure.Map2(bk, "hours by the dryer's efficiency", "{0} / {1}", drying.HoursLearned, bound, eff)
	usual := m.waits()
	floor := figure.Map2(bk, "least hours of it for sheets so wet", "{0} × {1}", timesHours, usual, m.wetness())
	return stackHours(m, learned, floor)
}

func (m *maker) wetness() figure.Col[measure.Number] {
	return figure.Map2(m.bk, "water on a square metre over 203 g", "({0} × (1 / {1} − 1)) / 203", func(g measure.GrammageConditioned, s measure.Solids) (measure.Number, error) {
		return Wetness(g, s), nil
	}, m.grammage, m.pressed)
}

// stackHours takes the longer of the two, and its working shows which.
func stackHours(m *maker, learned, floor figure.Col[measure.Hours]) figure.Col[measure.Hours] {
	working := "{1}"
	if learned.Centre() > floor.Centre() {
		working = "{0}"
	}
	return figure.Map2(m.bk, "hours of a load", working, drying.StackHours, learned, floor).Note("the longer of the two")
}

// What the hours of drying that no known key names are called: StackLeast, and
// HoursToDry before a way of drying.
const (
	StackLeast = "least hours of a stack"
	HoursToDry = "hours to dry, "
)

// waiting is the time that drying never beats in a stack with a fan, and that
// it takes in any other way: known by its band.
func (s *settled) waiting() (belief.Belief, error) {
	what := StackLeast
	low, mid, high, key := drying.StackLeast()
	if s.drying != drying.Stack || s.airflow == 0 {
		kind := s.drying
		if kind == drying.Stack {
			kind = drying.Exchange // a stack without air is changed blotters
		}
		var err error
		if low, mid, high, key, err = drying.Unforced(kind); err != nil {
			return belief.Belief{}, err
		}
		what = HoursToDry + kind
	}
	b := prior(what, what, bandBelief(float64(low), float64(mid), float64(high)), key)
	b.Unit = "h"
	return b, nil
}

// waits enters it.
func (m *maker) waits() figure.Col[measure.Hours] {
	b, err := m.waiting()
	if err != nil {
		m.bk.Fail(err)
		return figure.Col[measure.Hours]{}
	}
	return drawBelief[measure.Hours](m, b.With(m.known))
}

func (m *maker) unforced() figure.Col[measure.Hours] {
	typical := m.waits()
	if m.bk.Err() != nil {
		return typical
	}
	weather, err := drying.WeatherFactor(m.temp, m.rh, m.altitude)
	if err != nil {
		m.bk.Fail(err)
		return typical
	}
	room := figure.Given(m.bk, "this room against 20 °C and 50 % RH", weather, "ashrae-psychrometrics", 0)
	here := figure.Map2(m.bk, "hours to dry in this room", "{0} × {1}", drying.UnforcedHours, typical, room)
	return figure.Map2(m.bk, "hours of a load", "{0} × {1}", timesHours, here, m.wetness())
}

func timesHours(h measure.Hours, f measure.Number) (measure.Hours, error) {
	return h * measure.Hours(f), nil
}

// usualWet is the water on a square metre of a sheet of 100 g/m² pressed to 33 %
// solids, g: the waiting times are stated for such sheets.
const usualWet = 203

// Wetness is the water on a square metre of sheet over that of the sheets the
// waiting times are stated for: half as wet, half as long (common practice:
// soft-pressed sheets take almost twice as long, very thin ones a third of a
// day).
func Wetness(g measure.GrammageConditioned, s measure.Solids) measure.Number {
	return measure.Number(float64(g) * (1/float64(s) - 1) / usualWet)
}

// trayHeel is the bath that stays in the tray to work in, L; common practice.
const trayHeel = 1.5

// bathe works out the size bath for the sheets that are couched for the run.
func (m *maker) bathe() {
	if m.bk.Err() != nil || m.surface == nil {
		return
	}
	bk := m.bk
	heel := given(m, "bath that stays in the tray", measure.Volume(trayHeel), "practice")
	bath := figure.Map4(bk, "size bath", "{0} × {1} × {2} / 1000 + {3}", sizing.BathVolume, m.couchedSheets, m.waterleaf, m.uptake, heel)
	make := figure.Enough(bk, "size bath, enough for the sheets", m.conf, 0, bath)
	strength := figure.Given(bk, "strength of the bath", m.bath, "brief", source.Standard)
	size := figure.Map2(bk, "size for the bath", "{0} × 1000 × {1}", sizing.SizeMass, make, strength)
	m.set("size_bath_l", make.Figure())
	m.set("size_g", size.AsDecision())
}
