package plan

import (
	"fmt"
	"strings"

	"vatside/internal/beating"
	"vatside/internal/figure"
	"vatside/internal/measure"
	"vatside/internal/source"
)

// batch is fibre that is beaten together.
type batch struct {
	name  string
	parts []part
	share float64 // of the beaten fibre
	hours measure.Hours
}

// batches are what is beaten together, and what the paper wants beaten alone.
func (m *maker) batches() []batch {
	var out []batch
	together := batch{}
	var names []string
	for _, p := range m.parts {
		if p.alone {
			out = append(out, batch{name: p.Name, parts: []part{p}, share: p.share, hours: p.hours})
			continue
		}
		together.parts, together.share, together.hours = append(together.parts, p), together.share+p.share, p.hours
		names = append(names, p.Name)
	}
	if len(names) == 0 {
		return out
	}
	together.name = strings.Join(names, " + ")
	return append([]batch{together}, out...)
}

// loadUp is the beaters: which takes how many loads of what, and how long.
func (m *maker) loadUp() {
	bk := m.bk
	if bk.Err() != nil {
		return
	}
	n, in := 0.0, m.toBeat()
	var notes []string
	for _, b := range m.batches() {
		mass := m.unbeaten(b, in.Centre())
		if mass <= 0 {
			continue
		}
		shared, err := beating.Share(mass, m.machines())
		if err != nil {
			bk.Fail(err)
			return
		}
		for _, t := range shared.Turns {
			n += float64(t.Loads)
			m.plan.Loads = append(m.plan.Loads, Load{Batch: b.name, Machine: t.Machine.Name, Loads: int(t.Loads), EachG: float64(t.Each), WaterL: float64(t.Water), Hours: float64(b.hours)})
			notes = append(notes, fmt.Sprintf("%s in %s", loadsWord(int(t.Loads), t.Each), or(t.Machine.Name, "the beater")))
		}
		m.busy += float64(shared.Rounds) * float64(b.hours)
	}
	m.loads = figure.Choose(bk, "beater loads", "{a}", []float64{n}, measure.Loads(n), nil, m.boneDry).Note(strings.Join(notes, "; "))
	m.set("beater_loads", m.loads.Figure())
	if n > 0 {
		if ready := m.readyDry(); ready > 0 {
			held := given(m, "of it beaten already", ready, "studio")
			in = figure.Map2(bk, "fibre still to beat", "{0} − {1}", func(all, held measure.Mass) (measure.Mass, error) { return max(all-held, 0), nil }, in, held)
		}
		each := figure.Map2(bk, "fibre to a load", "{0} / {1}", perLoad, in, m.loads)
		m.set("beater_load_g", each.AsDecision())
	}
	hours := figure.Choose(bk, "hours until all is beaten", "{a}", []float64{m.busy}, measure.Hours(m.busy), nil, m.loads).
		Note("machines side by side, batches one after the other")
	m.set("beater_hours", hours.AsDecision())
}

// leastLoad is less than goes into a beater for itself, g: it goes into another.
const leastLoad = 1

// unbeaten is what of a batch must go into a beater: all but what the shelf
// holds beaten.
func (m *maker) unbeaten(b batch, all measure.Mass) measure.Mass {
	mass := all * measure.Mass(b.share)
	for _, p := range b.parts {
		mass -= measure.Mass(m.ready[p.Name])
	}
	if len(m.ready) > 0 && mass < leastLoad {
		return 0
	}
	return max(mass, leastLoad)
}

// readyDry is what of this making the shelf holds beaten, bone-dry.
func (m *maker) readyDry() measure.Mass {
	sum := 0.0
	for _, p := range m.parts { // in the furnish's order, so that sums are the same every time
		sum += m.ready[p.Name]
	}
	return measure.Mass(sum)
}

// toBeat is the fibre that goes into the beaters, bone-dry: what is weighed,
// less what a cook takes.
func (m *maker) toBeat() figure.Col[measure.Mass] {
	if !m.cooks() {
		return m.boneDry
	}
	loss := figure.Choose(m.bk, "lost in all, most likely", "{0}", nil, m.loss.Centre(), nil, m.loss)
	beating := figure.Given(m.bk, "of it in beating and rinsing", measure.Share(usualLoss), "memory", source.Memory)
	return figure.Map3(m.bk, "fibre to beat, cooked", "{0} × (1 − {1}) / (1 − {2})", func(dry measure.Mass, lost, later measure.Share) (measure.Mass, error) {
		return dry * measure.Mass((1-float64(lost))/(1-float64(later))), nil
	}, m.boneDry, loss, beating)
}

func perLoad(m measure.Mass, n measure.Loads) (measure.Mass, error) {
	return measure.Mass(float64(m) / float64(n)), nil
}

// mostMachines is how many machines one making is shared among.
const mostMachines = 12

// machines are those of the kind that stands first in the studio's list: a
// blender cuts what a beater brushes out, and their pulps differ.
func (m *maker) machines() []beating.Machine {
	var out []beating.Machine
	for _, b := range m.beaters {
		if one := machineOf(b); one.Kind == machineOf(m.beaters[0]).Kind && len(out) < mostMachines {
			out = append(out, one)
		}
	}
	return out
}

func machineOf(b Beater) beating.Machine {
	return beating.Machine{Name: b.Name, Kind: beating.Kind(or(b.Kind, string(beating.Beater))), Rated: measure.Mass(b.RatedDryG), Water: measure.Volume(b.WaterL)}
}

// blends reports whether a blender beats.
func (m *maker) blends() bool { return m.machines()[0].Kind == beating.Blender }

// The minutes by hand of a load: filling and emptying a beater, and reading the
// drainage by the hour; a blender is filled, run under the hand, and emptied.
// Common practice.
const (
	minutesALoad     = 15
	minutesAnHour    = 8
	minutesABlending = 2
)

func (m *maker) beatMinutes(loads float64) float64 {
	if m.blends() {
		return minutesABlending*loads + 60*m.busy
	}
	return loads * (minutesALoad + minutesAnHour*float64(m.hours))
}

// beatNote says how long a load is beaten, of each batch, and what to do under
// rag.
func (m *maker) beatNote() string {
	list := m.batches()
	note := "each load " + hoursWord(float64(list[0].hours))
	if len(list) > 1 {
		var out []string
		for _, b := range list {
			out = append(out, b.name+" "+hoursWord(float64(b.hours)))
		}
		note = "each load of " + strings.Join(out, ", of ")
	}
	if labours := m.shouldItLabour(); labours != "" {
		note += ". " + labours
	}
	return note
}

func loadsWord(n int, each measure.Mass) string {
	if n == 1 {
		return fmt.Sprintf("one load of %s g", three(each))
	}
	return fmt.Sprintf("%d loads of %s g", n, three(each))
}

func loadHours(n measure.Loads, h measure.Hours) (measure.Hours, error) {
	return measure.Hours(float64(n) * float64(h)), nil
}

// warnBeater says what the machines have against their loads, each thing once.
func (m *maker) warnBeater() {
	said := map[string]bool{}
	for _, l := range m.plan.Loads {
		for _, w := range m.against(l) {
			if !said[w.Code] {
				said[w.Code] = true
				m.say(warned(w.Code), "%s", w.Text)
			}
		}
	}
	if loads := m.out["beater_loads"].Value; loads > 6 {
		m.say("many loads", "It takes %.0f beater loads of %.0f g: %s hours at the beater.", loads, m.out["beater_load_g"].Value, three(m.busy))
	}
}

// warned is the plan's code for a machine's.
func warned(code string) string {
	if code == "beater-overload" {
		return "beater thick"
	}
	return strings.ReplaceAll(code, "-", " ")
}

// against is what a machine has against a load of a batch.
func (m *maker) against(l Load) []beating.Warning {
	var out []beating.Warning
	for _, b := range m.batches() {
		for _, on := range m.machines() {
			if b.name != l.Batch || on.Name != l.Machine {
				continue
			}
			if w, ok := beating.Underfilled(measure.Mass(l.EachG), on.Rated); ok && on.Kind == beating.Beater {
				out = append(out, w)
			}
			for _, p := range b.parts {
				if _, err := beating.BlenderSeconds(p.Fibre); err != nil && on.Kind == beating.Blender {
					out = append(out, beating.Warning{Code: "not for a blender", Text: sentence(err)})
				}
				if w, ok := beating.Wraps(p.Fibre, measure.Mass(l.EachG*p.share/b.share), on.Rated); ok && on.Kind == beating.Beater {
					out = append(out, w)
				}
			}
			out = append(out, on.Warnings(b.parts[0].Fibre, measure.Mass(l.EachG))...)
		}
	}
	return out
}
