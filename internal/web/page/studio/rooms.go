package studio

import (
	"fmt"
	"maps"
	"slices"

	"vatside/internal/drying"
	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/page"
)

// year is the room where no season is told apart.
const year = ""

// southern is the hemisphere whose summer begins in December.
const southern = "south"

var seasons = []string{"spring", "summer", "autumn", "winter"}

// monthsOf are the months of a season, by whole months as weather offices
// count them (practice).
func monthsOf(season, hemisphere string) []int {
	first := 3 + 3*slices.Index(seasons, season)
	if hemisphere == southern {
		first += 6
	}
	var out []int
	for m := first; m < first+3; m++ {
		out = append(out, (m-1)%12+1)
	}
	return out
}

func rooms() []blank[draft] {
	of := func(season string) func(*draft) *room { return func(d *draft) *room { return d.rooms[season] } }
	var out []blank[draft]
	add := func(season, before, label string) {
		r := of(season)
		out = append(out,
			amount("", line(before+"temp", "Temperature"+label, ""), measure.OfTemperature, "°C", maybe(func(d *draft) **float64 { return &r(d).temp })),
			amount("", line(before+"rh", "Humidity"+label, ""), measure.OfPercent, "%", maybe(func(d *draft) **float64 { return &r(d).rh })))
	}
	add(year, "", "")
	hemisphere := choice("hemisphere", "Where the studio is", "It says which months a season has.", "", "north of the equator", southern, "south of the equator")
	out = append(out, words("", hemisphere, func(d *draft) *string { return &d.south }))
	for _, s := range seasons {
		add(s, s+"-", " in "+s)
	}
	return out
}

// apart takes the profile apart into its blanks.
func apart(p studio.Profile) draft {
	d := draft{Profile: p, rooms: map[string]*room{year: {}}}
	if p.Kit.Water != nil {
		d.water = *p.Kit.Water
	}
	if a := p.Kit.Air; a != nil {
		*d.rooms[year] = room{&a.TempC, &a.RHPct}
	}
	for _, name := range seasons {
		d.rooms[name] = &room{}
	}
	for _, s := range p.Kit.Seasons {
		if r, ok := d.rooms[s.Name]; ok {
			*r = room{&s.TempC, &s.RHPct}
			if slices.Equal(s.Months, monthsOf(s.Name, southern)) {
				d.south = southern
			}
		}
	}
	return d
}

// together puts the profile together again; a season that is none of the four,
// or that has months of its own, keeps them.
func (d draft) together(c *reading, was draft) studio.Profile {
	p := d.Profile
	p.Kit.Water, p.Kit.Air, p.Kit.Seasons = nil, nil, nil
	if d.water != (plan.Water{}) {
		p.Kit.Water = &d.water
	}
	if r := d.rooms[year]; both(c.Form, "temp", r.temp, "the temperature", "rh", r.rh, "the humidity") {
		p.Kit.Air = &plan.Air{TempC: *r.temp, RHPct: *r.rh}
	}
	months := map[string][]int{}
	for _, s := range was.Kit.Seasons {
		if d.rooms[s.Name] == nil {
			p.Kit.Seasons = append(p.Kit.Seasons, s)
		} else if d.south == was.south {
			months[s.Name] = s.Months
		}
	}
	for _, name := range seasons {
		r := d.rooms[name]
		if !both(c.Form, name+"-temp", r.temp, "the temperature", name+"-rh", r.rh, "the humidity") {
			continue
		}
		if months[name] == nil {
			months[name] = monthsOf(name, d.south)
		}
		for _, key := range []string{"temp", "rh"} {
			unit := map[string]string{"temp": "temp_c", "rh": "rh_pct"}[key]
			c.At[fmt.Sprintf("studio.seasons[%d].%s", len(p.Kit.Seasons), unit)] = name + "-" + key
		}
		p.Kit.Seasons = append(p.Kit.Seasons, plan.Season{Name: name, Months: months[name], TempC: *r.temp, RHPct: *r.rh})
	}
	return p
}

// clone keeps a draft from the rooms of the one it began as.
func (d draft) clone() draft {
	d.rooms = maps.Clone(d.rooms)
	for name, r := range d.rooms {
		own := *r
		d.rooms[name] = &own
	}
	return d
}

// both reports whether two numbers that mean something only together are both
// said; of one alone it says what is missing.
func both(f *page.Form, nameA string, a *float64, whatA, nameB string, b *float64, whatB string) bool {
	switch {
	case a != nil && b == nil && f.Get(nameB) == "":
		f.Refuse(fault.Invalid(nameB, "say %s too, or leave both blank", whatB))
	case a == nil && b != nil && f.Get(nameA) == "":
		f.Refuse(fault.Invalid(nameA, "say %s too, or leave both blank", whatA))
	}
	return a != nil && b != nil
}

// boils says where water boils at the studio's height.
func boils(c *reading) string {
	if c.now.Kit.AltitudeM == nil {
		return ""
	}
	t, err := drying.BoilingPoint(measure.Altitude(*c.now.Kit.AltitudeM))
	if err != nil {
		return ""
	}
	return "Water boils at " + c.One(float64(t), "°C") + " here: a simmer is no hotter, and cooks take longer the lower it is."
}
