package ask

import (
	"fmt"
	"math"

	"vatside/internal/cookery"
	"vatside/internal/cooking"
	"vatside/internal/drying"
	"vatside/internal/fibre"
	"vatside/internal/figure"
	"vatside/internal/measure"
	"vatside/internal/source"
)

// cook is a card in the making.
type cook struct {
	CookRequest
	known  CookKnown
	alkali cooking.Alkali
	fibre  fibre.Fibre // zero: not said
	bk     *figure.Book
	a      CookAnswer

	dry      figure.Col[measure.Mass]
	mass     figure.Col[measure.Mass]
	asAsh    figure.Col[measure.Mass] // soda ash that the alkali equals
	liquor   figure.Col[measure.Volume]
	strength figure.Col[cooking.Strength]
	inPot    []inPot // what the alkali is once in water
}

// inPot is one alkali of a liquor: that which was weighed, or what soda ash and
// lime make of each other and leave.
type inPot struct {
	alkali cooking.Alkali
	mass   figure.Col[measure.Mass]
}

// CookKnown is what a studio's own records say of its cooks of a fibre with an
// alkali; its zero value is that of a studio that has none.
type CookKnown struct {
	// Hours at a simmer and a charge, from the studio's own cooks; nil: none.
	Hours  func(t measure.Temperature, c measure.Dose) (source.Value, error)
	Yield  source.Value   // pulp from dry fibre; not known: the handbook's
	Limits cooking.Limits // what the local authority lets into the drain
}

// Answer composes the card. The request is taken as checked.
func (r CookRequest) Answer() (CookAnswer, error) { return r.AnswerWith(CookKnown{}) }

// AnswerWith is Answer for a studio that knows something of its own.
func (r CookRequest) AnswerWith(known CookKnown) (CookAnswer, error) {
	alkali, _ := cooking.GetAlkali(r.Alkali)
	c := cook{CookRequest: r, known: known, alkali: alkali, bk: figure.NewBook(cookDraws, cookSeed)}
	defer c.bk.Release()
	c.a = CookAnswer{Figures: map[string]figure.Figure{}, Notes: []string{}, Seed: cookSeed}
	if r.Fibre != "" {
		f, known := fibre.Get(r.Fibre)
		if !known {
			f = fibre.Fibre{Name: r.Fibre} // a plant of which only recipes are known
		}
		c.fibre = f
	}
	for _, part := range []func() error{c.weigh, c.dissolve, c.heat, c.pot, c.rinse, c.words} {
		if err := part(); err != nil {
			return CookAnswer{}, err
		}
		if err := c.bk.Err(); err != nil {
			return CookAnswer{}, err
		}
	}
	return c.a, nil
}

// given enters a number of the request, or what stands in for it.
func given[T measure.Quantity](c *cook, what string, v *float64, scale float64, usual T, from string) figure.Col[T] {
	if v != nil {
		return figure.Given(c.bk, what, T(*v*scale), source.KeyBrief, source.Standard)
	}
	return figure.Given(c.bk, what, usual, from, source.Must(from).Grade)
}

func (c *cook) weigh() error {
	c.dry = figure.Given(c.bk, "dry fibre", measure.Mass(c.DryG), source.KeyBrief, source.Standard)
	charge := figure.Given(c.bk, "alkali on dry fibre", measure.Dose(c.AlkaliPct/100), source.KeyBrief, source.Standard)
	c.mass = figure.Map2(c.bk, c.alkali.Name, "{0} × {1}", cooking.AlkaliFor, c.dry, charge)
	ratio := given(c, "liquor to a kilogram of dry fibre", c.LiquorLPerKg, 1, cooking.UsualLiquor, "cooking-bark-sheet")
	c.liquor = figure.Map2(c.bk, "liquor", "{0} × {1} / 1000", cooking.LiquorFor, c.dry, ratio)
	c.a.Figures["alkali_g"] = c.mass.AsDecision()
	c.a.Figures["liquor_l"] = c.liquor.AsDecision()
	if c.alkali.Name == cooking.WoodAshLye && c.StrengthGL != nil {
		strong := figure.Given(c.bk, "strength of the ash liquor", cooking.Strength(*c.StrengthGL), source.KeyBrief, source.Standard)
		volume := figure.Map2(c.bk, "ash liquor", "{0} / {1}", func(m measure.Mass, s cooking.Strength) (measure.Volume, error) {
			return measure.Volume(float64(m) / float64(s)), nil
		}, c.mass, strong)
		c.a.Figures["ash_liquor_l"] = volume.AsDecision()
		if volume.Centre() > c.liquor.Centre() {
			c.a.Notes = append(c.a.Notes, "The ash liquor is too weak for that charge in that liquor: boil it down, slowly and outdoors, in goggles and gloves, for it grows as caustic as it grows strong; or take less fibre, or let the fibre have its whole pot of ash liquor and cook longer.")
		}
	}
	if note := cooking.ChargeNote(c.alkali, charge.Centre(), c.fibre); note != "" {
		c.a.Notes = append(c.a.Notes, note)
	}
	soda, _ := cooking.GetAlkali(cooking.SodaAsh)
	c.asAsh = c.mass
	if c.alkali.Name != cooking.SodaAsh {
		equal := figure.Map1(c.bk, "soda ash of equal alkalinity", "{0} × "+ratioOf(c.alkali, soda), func(m measure.Mass) (measure.Mass, error) {
			return cooking.EqualAlkalinity(m, c.alkali, soda)
		}, c.mass)
		c.a.Figures["soda_ash_equal_g"], c.asAsh = equal.Figure(), equal
		note := fmt.Sprintf("%.3g %% of %s takes up as much acid as %.3g %% of soda ash.", c.AlkaliPct, c.alkali.Name, 100*float64(equal.Centre())/c.DryG)
		if c.alkali.Caustic && c.alkali.Name != cooking.WoodAshLye { // a hydroxide
			note += " " + cooking.NotEqualHarshness
		}
		c.a.Notes = append(c.a.Notes, note)
	}
	return nil
}

// ratioOf is the factor of an equal alkalinity as it is printed in a sum.
func ratioOf(from, to cooking.Alkali) string {
	one, err := cooking.EqualAlkalinity(1, from, to)
	if err != nil {
		return "1"
	}
	return fmt.Sprintf("%.7g", float64(one))
}

// dissolve works out what the alkali is once in water, how strong, and how warm
// lye makes its water.
func (c *cook) dissolve() error {
	c.inPot = []inPot{{c.alkali, c.mass}}
	if c.LimePct != nil {
		if err := c.causticise(); err != nil {
			return err
		}
	}
	var masses []figure.Col[measure.Mass]
	for _, p := range c.inPot {
		masses = append(masses, p.mass)
	}
	c.strength = figure.Map2(c.bk, "alkali in the liquor", "{0} / {1}", cooking.StrengthOf, together(c.bk, "alkali in the pot", masses), c.liquor)
	c.a.Figures["alkali_g_l"] = c.strength.Figure()
	if c.alkali.Name == cooking.Lye || c.alkali.Name == cooking.PotashLye {
		c.warm()
	}
	return nil
}

// together adds columns; one stands for itself.
func together[T measure.Quantity](bk *figure.Book, what string, cols []figure.Col[T]) figure.Col[T] {
	if len(cols) == 1 {
		return cols[0]
	}
	return figure.Sum(bk, what, cols...)
}

func (c *cook) warm() {
	into := c.liquor
	if c.DissolveL != nil && measure.Volume(*c.DissolveL) < c.liquor.Centre() {
		into = figure.Given(c.bk, "water to dissolve it in", measure.Volume(*c.DissolveL), source.KeyBrief, source.Standard)
	}
	share := figure.Map2(c.bk, "lye by mass", "{0} / ({0} + 997 × {1})", cooking.LyeShare, c.mass, into)
	warms := figure.Map1(c.bk, "how many degrees dissolving warms it", "{0} × 1112.583 / (4.18 × (1 − {0}) + 1.5 × {0})", cooking.LyeWarms, share)
	water := given(c, "water that the lye goes into", c.WaterC, 1, measure.Temperature(20), source.KeyPractice)
	off := source.Said(0.85, 1, 1.1, source.KeyMemory, "less into little water")
	heat := figure.Leaf(c.bk, "heat of dissolving beside that remembered", measure.Number(off.Mid), c.bk.Drawn("heat", off), off.Source, off.Grade, off.Note)
	c.a.Figures["lye_reaches_c"] = figure.Map3(c.bk, "how warm dissolving makes it", "{0} + {1} × {2}", func(t measure.Temperature, by, heat measure.Number) (measure.Temperature, error) {
		return t + measure.Temperature(by*heat), nil
	}, water, warms, heat).Figure()
	if c.alkali.Name == cooking.PotashLye {
		c.a.Notes = append(c.a.Notes, "How warm potash lye makes its water is reckoned with the heat of lye, which is about a tenth more for the same mass (from memory).")
	}
}

// causticise replaces soda ash and lime by what they make of each other.
func (c *cook) causticise() error {
	dose := figure.Given(c.bk, "slaked lime on dry fibre", measure.Dose(*c.LimePct/100), source.KeyBrief, source.Standard)
	lime := figure.Map2(c.bk, "slaked lime", "{0} × {1}", cooking.AlkaliFor, c.dry, dose)
	c.a.Figures["lime_g"] = lime.AsDecision()
	made, err := cooking.Causticise(c.asAsh.Centre(), lime.Centre())
	if err != nil {
		return err
	}
	c.inPot = nil
	for _, p := range []struct {
		name, what string
		mass       measure.Mass
	}{
		{cooking.Lye, "lye that the two make, at most", made.Lye},
		{cooking.SodaAsh, "soda ash that is left", made.SodaAshLeft},
		{cooking.SlakedLime, "slaked lime that is left", made.LimeLeft},
	} {
		if p.mass > 0 {
			a, _ := cooking.GetAlkali(p.name)
			c.inPot = append(c.inPot, inPot{a, figure.Simulated(c.bk, p.what, "{a}", []float64{float64(p.mass)}, p.mass, nil, c.asAsh, lime)})
		}
	}
	c.a.Figures["lye_made_g"] = c.inPot[0].mass.Figure()
	c.a.Notes = append(c.a.Notes, fmt.Sprintf("Soda ash and lime together make lye, up to %.3g g/L of it, and chalk that settles. This is a lye liquor, not a soda liquor: handle it so.", float64(made.Lye)/float64(c.liquor.Centre())))
	return nil
}

// solution is what is in a kilogram of the water. Lime that is left beside lye
// is counted as far as it dissolves alone, which reads up to 0.15 pH too high.
func (c *cook) solution(t measure.Temperature) (cooking.Solution, error) {
	var all cooking.Solution
	for _, p := range c.inPot {
		s, err := cooking.Dissolved(p.alkali, p.mass.Centre()/measure.Mass(0.997*float64(c.liquor.Centre())), t)
		if err != nil {
			return all, err
		}
		all = all.Plus(s)
	}
	return all, nil
}

// phError is how far the balance is from two data bases: cold, and hot.
const phCold, phHot = 0.1, 0.2

// acidity enters a pH with its band.
func (c *cook) acidity(what string, t measure.Temperature, off float64) (figure.Figure, cooking.PH, error) {
	s, err := c.solution(t)
	if err != nil {
		return figure.Figure{}, 0, err
	}
	ph, err := cooking.PHOf(s, t)
	if err != nil {
		return figure.Figure{}, 0, err
	}
	middle := figure.Simulated(c.bk, what+", by the balance of ions", "{a}", []float64{float64(ph)}, ph, nil, c.strength)
	col, r := c.bk.Column(), c.bk.Stream(what)
	for i := range col {
		col[i] = off / 1.6449 * r.NormFloat64()
	}
	wrong := figure.Leaf(c.bk, "error of the balance and of pure alkali", cooking.PH(0), col, "alkali-solutions-usgs", source.Must("alkali-solutions-usgs").Grade, "")
	return figure.Sum(c.bk, what, middle, wrong).Figure(), ph, nil
}

func (c *cook) heat() error {
	var altitude measure.Altitude
	if c.AltitudeM != nil {
		altitude = measure.Altitude(*c.AltitudeM)
	}
	boils, err := drying.BoilingPoint(altitude)
	if err != nil {
		return err
	}
	high := given(c, "altitude", c.AltitudeM, 1, measure.Altitude(0), source.KeyDefinition)
	at := figure.Simulated(c.bk, "boiling point in standard weather", "{a}", []float64{float64(boils)}, boils, nil, high)
	c.a.Figures["boil_c"] = at.Figure()
	t := boils
	if c.SimmerC != nil && measure.Temperature(*c.SimmerC) < boils {
		t = measure.Temperature(*c.SimmerC)
		at = figure.Given(c.bk, "simmer", t, source.KeyBrief, source.Standard)
	} else if c.SimmerC != nil {
		c.a.Notes = append(c.a.Notes, fmt.Sprintf("Water boils at %.1f °C at this altitude: it gets no hotter than that.", float64(boils)))
	}
	e := cooking.Activation()
	rate := figure.Leaf(c.bk, "how steeply cooking goes with temperature, kJ/mol", measure.Number(e.Mid), c.bk.Drawn("activation", e), e.Source, e.Grade, e.Note)
	centre, err := cooking.TimeFactor(t, measure.Number(e.Mid))
	if err != nil {
		return err
	}
	col := c.bk.Column()
	for i := range col {
		// far draws of the rate are held where the formula stands
		f, err := cooking.TimeFactor(t, min(max(rate.At(i), 20), 200))
		if err != nil {
			return err
		}
		col[i] = float64(f)
	}
	factor := figure.Simulated(c.bk, "time beside that at 100 °C", "{a}", []float64{float64(centre)}, centre, col, at, rate)
	c.a.Figures["time_factor"] = factor.Figure()
	if err := c.hours(t, factor); err != nil {
		return err
	}
	cold, _, err := c.acidity("acidity cold, pH at 25 °C", 25, phCold)
	if err != nil {
		return err
	}
	hot, ph, err := c.acidity("acidity at the boil, pH", min(boils, 100), phHot) // the balance goes no further, and hardly changes there
	if err != nil {
		return err
	}
	c.a.Figures["ph_cold"], c.a.Figures["ph_boil"] = cold, hot
	c.a.Notes = append(c.a.Notes,
		fmt.Sprintf("Hot liquor reads lower, about pH %.1f at the boil, though it is stronger: compare readings at room temperature. Fibre takes alkali up, so the spent liquor reads lower too.", float64(ph)),
		"How time goes with temperature was measured on another process, with low confidence: the strand decides, not the clock, and your own cooks will teach it.")
	return nil
}

// hours are those of the studio's own cooks where it has some, else the usual
// ones at sea level, taken to the simmer.
func (c *cook) hours(t measure.Temperature, factor figure.Col[measure.Number]) error {
	if c.known.Hours != nil {
		own, err := c.known.Hours(t, measure.Dose(c.AlkaliPct/100))
		if err != nil {
			return err
		}
		c.a.Figures["hours"] = figure.Leaf(c.bk, "hours at the simmer, by your own cooks", measure.Hours(own.Mid), c.bk.Drawn("hours", own), own.Source, own.Grade, own.Note).Figure()
		return nil
	}
	usual, _ := cookery.UsualHours(c.fibre, c.alkali)
	sea := figure.Leaf(c.bk, "hours at 100 °C", measure.Hours(usual.Mid), c.bk.Drawn("hours", usual), usual.Source, usual.Grade, usual.Note)
	hours := figure.Map2(c.bk, "hours at the simmer", "{0} × {1}", func(h measure.Hours, f measure.Number) (measure.Hours, error) { return h * measure.Hours(f), nil }, sea, factor)
	c.a.Figures["hours"] = hours.Figure()
	return nil
}

func (c *cook) pot() error {
	full, from := cooking.Fill, "iris-daylily-1993"
	if c.fibre.Foams {
		full, from = cooking.FillFoaming, source.KeyMemory
	}
	fill := figure.Given(c.bk, "how full the pot may be", full, from, source.Must(from).Grade)
	least := figure.Map2(c.bk, "least pot", "{0} / {1}", cooking.PotFor, c.liquor, fill)
	c.a.Figures["pot_l"] = least.AsDecision()
	if c.PotL != nil {
		have := figure.Given(c.bk, "pot at hand", measure.Volume(*c.PotL), source.KeyBrief, source.Standard)
		n, err := cooking.Pots(c.liquor.Centre(), have.Centre(), full)
		if err != nil {
			return err
		}
		exact := float64(least.Centre() / have.Centre())
		c.a.Figures["pots"] = figure.Choose(c.bk, "fillings of the pot, rounded up", "{0} / {1} + {a}", []float64{float64(n) - exact}, n, nil, least, have).Figure()
	}
	return nil
}

func (c *cook) rinse() error {
	squeezed, drained, leafy := float64(cooking.HeldSqueezed), float64(cooking.HeldDrained), float64(cooking.HeldLeafy)
	held := source.Said(squeezed, drained, leafy, source.KeyMemory, "squeezed, drained, leafy, L/kg")
	if c.fibre.Kind == "leaf" && c.fibre.Raw {
		held = source.Said(drained, leafy, leafy+2, source.KeyMemory, "leafy pulp, drained")
	}
	w := figure.Leaf(c.bk, "liquor that a kilogram of dry fibre holds, L", measure.Number(held.Mid), c.bk.Drawn("held", held), held.Source, held.Grade, held.Note)
	changesFor := func(held measure.Number) (measure.Number, error) {
		return cooking.RinseChanges(cooking.Strength(math.Min(float64(c.strength.Centre()), 500)), cooking.RinseTarget, min(max(held, 0.2), 30), cooking.UsualRinse)
	}
	n, err := changesFor(w.Centre())
	if err != nil {
		return err
	}
	col := c.bk.Column()
	for i := range col {
		v, err := changesFor(w.At(i))
		if err != nil {
			return err
		}
		col[i] = float64(v)
	}
	likely := figure.Simulated(c.bk, "changes that it may take", "{a}", []float64{float64(n)}, n, col, c.strength, w)
	changes := figure.Choose(c.bk, "changes of water", "{a}", []float64{float64(n)}, n, likely, c.strength, w)
	fresh := figure.Given(c.bk, "fresh water of a change, L to a kilogram", cooking.UsualRinse, source.KeyPractice, source.Practice)
	water := figure.Map3(c.bk, "rinse water", "{0} × {1} × {2} / 1000", cooking.RinseWater, c.dry, fresh, changes)
	c.a.Figures["rinse_changes"], c.a.Figures["rinse_l"] = changes.Figure(), water.AsDecision()
	c.a.Figures["waste_l"] = figure.Map2(c.bk, "liquor and rinse water to be rid of", "{0} + {1}", cooking.WasteVolume, c.liquor, water).Figure()
	c.neutralise()
	c.a.Notes = append(c.a.Notes, cooking.WhyRinse)
	y := c.fibre.Yield
	if c.known.Yield.Known() {
		y = c.known.Yield
	}
	if y.Known() && c.fibre.MustCook() { // else the table's yield is that of ready pulp
		yield := figure.Leaf(c.bk, "pulp from dry fibre", measure.Share(y.Mid), c.bk.Drawn("yield", y), y.Source, y.Grade, y.Note)
		pulp := figure.Map2(c.bk, "pulp, bone-dry", "{0} × {1}", func(m measure.Mass, s measure.Share) (measure.Mass, error) { return m * measure.Mass(min(s, 1)), nil }, c.dry, yield)
		c.a.Figures["pulp_dry_g"] = pulp.Figure()
	}
	return nil
}

// neutralise says what acid all of the alkali would take up; the chalk apart.
func (c *cook) neutralise() {
	var vinegar []figure.Col[measure.Volume]
	var citric []figure.Col[measure.Mass]
	for _, p := range c.inPot {
		a := p.alkali
		vinegar = append(vinegar, figure.Map1(c.bk, "vinegar of 5 % that would neutralise the "+a.Name+", at most", "{0} × "+perGram(a)+" / 1000", func(m measure.Mass) (measure.Volume, error) {
			v, err := cooking.VinegarFor(a, m, 0.05)
			return measure.Volume(v / 1000), err // a kilogram to a litre, within 1 %
		}, p.mass))
		citric = append(citric, figure.Map1(c.bk, "citric acid that would do the same, at most", "{0} × "+citricPerGram(a), func(m measure.Mass) (measure.Mass, error) { return cooking.CitricFor(a, m) }, p.mass))
	}
	c.a.Figures["vinegar_l"] = together(c.bk, "vinegar of 5 % for all of the alkali, at most", vinegar).Figure()
	c.a.Figures["citric_g"] = together(c.bk, "citric acid for all of the alkali, at most", citric).Figure()
}

func perGram(a cooking.Alkali) string {
	m, err := cooking.VinegarFor(a, 1, 0.05)
	return one(float64(m), err)
}

func citricPerGram(a cooking.Alkali) string {
	m, err := cooking.CitricFor(a, 1)
	return one(float64(m), err)
}

func one(v float64, err error) string {
	if err != nil {
		return "1"
	}
	return fmt.Sprintf("%.7g", v)
}

// words adds what is done and heeded.
func (c *cook) words() error {
	alkali := c.alkali
	c.a.Cautions, c.a.Order = cooking.CautionsOf(alkali), cooking.Order(alkali)
	if c.LimePct != nil {
		c.a.Cautions, c.a.Order = cooking.CautionsWithLime(), cooking.OrderWithLime()
	}
	c.a.EndTests = cooking.EndTests(c.fibre)
	c.a.After = []string{cooking.AfterCook, cooking.SecondCook}
	c.a.Waste = cooking.Waste(cooking.PH(c.a.Figures["ph_cold"].Value), alkali.Caustic || c.LimePct != nil, c.known.Limits)
	if c.LimePct == nil {
		c.a.Notes = append(c.a.Notes, alkali.Note)
	}
	if c.inPot[len(c.inPot)-1].alkali.Name == cooking.SlakedLime {
		c.a.Notes = append(c.a.Notes, "The changes of water are reckoned as if all of the lime were dissolved; grains that lie in the fibre are stirred up and poured off, which may take twice as many.")
	}
	list := cooking.RecipesFor(c.fibre.Name)
	if c.fibre.Kind != "rag" && c.fibre.Kind != "waste" && source.Plain(c.Fibre) != cooking.AnyPlant {
		list = append(list, cooking.RecipesFor(cooking.AnyPlant)...)
	}
	for _, r := range list {
		c.a.Recipes = append(c.a.Recipes, CookRecipe{
			Plant: r.Plant, Part: r.Part, Alkali: r.Alkali, Low: r.ChargeLow, High: r.ChargeHigh, Liquor: r.LiquorLPerKg,
			Least: r.HoursLow, Most: r.HoursHigh, Note: r.Note, Source: r.Source.Title, Grade: r.Source.Grade.String(),
		})
	}
	return nil
}
