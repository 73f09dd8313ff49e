package studio

import (
	"fmt"
	"math"

	"vatside/internal/drying"
	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/pressing"
)

// vacuumTable is the plan's word for it.
const vacuumTable = "vacuum table"

var presses = things[plan.Press]{
	key: "press", one: "Press", path: "studio.presses",
	of:   func(k *plan.Studio) *[]plan.Press { return &k.Presses },
	name: func(p *plan.Press) *string { return &p.Name },
	blanks: []blank[plan.Press]{
		called(func(p *plan.Press) *string { return &p.Name }),
		words("kind", choice("kind", "Kind", "", "", "not said", "jack", "jack in a frame", "screw", "screw", "lever", "lever", "weights", "weights or buckets", vacuumTable, vacuumTable), func(p *plan.Press) *string { return &p.Kind }),
		asked[plan.Press]("screw", line("pull", "Pull at the bar's end", "One person pulls about 30 kg, 65 lb, steadily."), measure.OfForce, "kN"),
		asked[plan.Press]("screw", line("bar", "Bar, from axis to hand", ""), measure.OfLength, "mm"),
		asked[plan.Press]("screw", line("lead", "The platen falls in a turn", "The screw's lead."), measure.OfLength, "mm"),
		asked[plan.Press]("lever", line("weight", "Weight on the beam", ""), measure.OfMass, "g"),
		asked[plan.Press]("lever", line("long", "From pivot to weight", ""), measure.OfLength, "mm"),
		asked[plan.Press]("lever", line("short", "From pivot to post", ""), measure.OfLength, "mm"),
		asked[plan.Press]("weights", line("load", "Weight on the post", "Upper boards too. A litre of water is a kilogram, a US gallon 8.3 lb."), measure.OfMass, "g"),
		asked[plan.Press]("vacuum", line("gauge", "The gauge shows", "Such as 25 inHg or 85 kPa."), measure.OfPressure, "kPa"),
		amount("force_kn", must("force", "It gives at most", "Of a jack what is marked on it or on its frame, whichever is less: 6 t, 8 US tons, 60 kN."), measure.OfForce, "kN", said(func(p *plan.Press) *float64 { return &p.ForceKN })),
		size("platen_long_mm platen_short_mm", line("platen", "Platen", "The largest sheet it covers."), maybe(func(p *plan.Press) **float64 { return &p.LongMM }), maybe(func(p *plan.Press) **float64 { return &p.ShortMM })),
		amount("daylight_mm", line("daylight", "Its opening", "Between platen and bed, for the post."), measure.OfLength, "mm", maybe(func(p *plan.Press) **float64 { return &p.Daylight })),
	},
	settle: force, note: pressesWith,
}

// force puts in what the press gives, where it is worked out from what its
// owner knows of it.
func force(c *reading, prefix string, p, was *plan.Press) {
	worked, sum := workedOut(c, prefix, p.Kind)
	if sum == "" {
		return
	}
	text := number(c.Speech, float64(worked), measure.OfForce, "kN")
	typed := c.Get(prefix + "force")
	if typed != "" && typed != text && typed != number(c.Speech, was.ForceKN, measure.OfForce, "kN") {
		c.Refuse(fault.Invalid(prefix+"force", "what you say of the %s gives %s: empty this blank, or those", p.Kind, c.One(float64(worked), "kN")))
		return
	}
	p.ForceKN = float64(worked)
	c.Values.Set(prefix+"force", text)
}

// workedOut is the force by the kind of press, and the sum in words; none
// where too little is said.
func workedOut(c *reading, prefix, kind string) (f measure.Force, sum string) {
	missing := false
	ask := func(name string, k measure.Kind) float64 {
		typed := c.Get(prefix + name)
		if typed == "" {
			missing = true
			return 0
		}
		v, err := c.Read(prefix+name, typed, k)
		if err != nil {
			c.Refuse(err)
			missing = true
		}
		return v
	}
	var err error
	switch kind {
	case pressing.Screw:
		pull, bar, lead := ask("pull", measure.OfForce), ask("bar", measure.OfLength), ask("lead", measure.OfLength)
		if !missing {
			f, err = pressing.ForceOfScrew(measure.Force(pull), measure.Length(bar), measure.Length(lead), pressing.EfficiencyOfScrew)
		}
		sum = fmt.Sprintf("%.2g × 2π × %s × %s / %s: the thread takes the rest", float64(pressing.EfficiencyOfScrew), c.pull(pull), c.One(bar, "mm"), c.One(lead, "mm"))
	case pressing.Lever:
		weight, long, short := ask("weight", measure.OfMass), ask("long", measure.OfLength), ask("short", measure.OfLength)
		if !missing {
			f, err = pressing.ForceOfLever(measure.Kilograms(weight/1000), measure.Length(long), measure.Length(short))
		}
		sum = fmt.Sprintf("%s × %s / %s", c.One(weight, "g"), c.One(long, "mm"), c.One(short, "mm"))
	case pressing.Weights:
		load := ask("load", measure.OfMass)
		if !missing {
			f, err = pressing.ForceOfWeights(measure.Kilograms(load / 1000))
		}
		sum = "the weight of " + c.One(load, "g")
	case vacuumTable:
		gauge := ask("gauge", measure.OfPressure)
		if !missing {
			f, err = c.vacuum(measure.Pressure(gauge))
		}
		sum = fmt.Sprintf("%s on %s; a vacuum presses every size alike, and is kept as the force on your usual sheet", c.One(gauge, "kPa"), c.usual())
	}
	if missing || sum == "" {
		return 0, ""
	}
	if wrong := fault.All(err); len(wrong) > 0 {
		at := *wrong[0]
		at.Field = prefix + at.Field
		if f := wrong[0].Field; f == "vacuum" || f == "atmosphere" {
			at.Field = prefix + "gauge"
		}
		if kind == pressing.Weights {
			at.Field = prefix + "load"
		}
		c.Refuse(&at)
		return 0, ""
	}
	return f, sum
}

// vacuum is the force of a vacuum table on a sheet of the usual size.
func (c *reading) vacuum(gauge measure.Pressure) (measure.Force, error) {
	height := measure.Altitude(0)
	if c.now.Kit.AltitudeM != nil {
		height = measure.Altitude(*c.now.Kit.AltitudeM)
	}
	atmosphere, err := drying.AtmosphericPressure(height)
	if err != nil {
		return 0, err
	}
	p, err := pressing.VacuumPressure(gauge, atmosphere)
	return measure.Force(float64(p) * float64(c.area())), err
}

// pressesWith says what a press does on a sheet of the usual size.
func pressesWith(c *reading, prefix string, p *plan.Press) string {
	pressure, err := pressing.PressureOn(measure.Force(p.ForceKN), c.area())
	if err != nil {
		return ""
	}
	text := fmt.Sprintf("%s on %s is %s.", c.pull(p.ForceKN), c.usual(), c.One(float64(pressure), "kPa"))
	if worked, sum := workedOut(c, prefix, p.Kind); sum != "" && math.Abs(float64(worked)-p.ForceKN) < 1e-6 {
		text += " The force: " + sum + "."
	}
	return text
}
