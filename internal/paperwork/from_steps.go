package paperwork

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"vatside/internal/drying"
	"vatside/internal/furnish"
	"vatside/internal/measure"
	"vatside/internal/plan"
)

// onCard is how many cautions of a step the card always has room for.
const onCard = 2

// gravest returns the steps with the cautions the card prints where there is no
// room for all: the gravest, which plans give first, and, the first time it is
// said, that local rules and licensed practice go first.
func gravest(steps []Step) []Step {
	out, said := slices.Clone(steps), map[string]bool{}
	for i := range out {
		var kept []string
		for j, c := range out[i].Cautions {
			defers := strings.Contains(c, "local rules")
			if j < onCard || defers && !said[c] {
				kept = append(kept, c)
				said[c] = said[c] || defers
			}
		}
		out[i].Cautions = kept
	}
	return out
}

func (f filler) steps() []Step {
	var list []Step
	for _, s := range f.plan.Steps {
		note := s.Note
		if len(f.plan.Loads) > 0 && strings.HasPrefix(note, "each load") { // the loads say it, machine by machine
			_, note, _ = strings.Cut(note, ". ")
		}
		step := Step{Name: s.Name, Note: measure.Retell(note, f.System), HandsOn: handsOn(s.HandsOn.Value), Wait: wait(s.WaitLeast, s.WaitMost)}
		if s.KeepByH > 0 {
			step.KeepBy = duration(s.KeepByH)
		}
		for _, c := range s.Cautions {
			step.Cautions = append(step.Cautions, measure.Retell(c, f.System))
		}
		if lines, ok := stepLines[s.Key]; ok {
			step.Lines = lines(f)
		}
		for _, w := range f.weighings() {
			if w.step == s.Key {
				step.Lines = append(step.Lines, f.added(w))
			}
		}
		list = append(list, step)
	}
	return list
}

// stepLines are what the plan decided for a step, by its key.
var stepLines = map[string]func(filler) []StepLine{
	"beat":           filler.loads,
	"pull and couch": filler.pulls,
	"press":          filler.pressed,
	"dry":            filler.dried,
	"size":           filler.bath,
}

// loads are the loads of the beaters, machine by machine.
func (f filler) loads() []StepLine {
	var list []StepLine
	for _, l := range f.plan.Loads {
		each := ""
		if l.Loads > 1 {
			each = " each"
		}
		where := l.Batch
		if l.Machine != "" {
			where += " in " + l.Machine
		}
		list = append(list, StepLine{
			Amount: fmt.Sprintf("%d %s of %s", l.Loads, plural(l.Loads, "load"), f.mass(l.EachG)),
			What:   fmt.Sprintf("%s, %s of water, %s%s", where, f.litres(l.WaterL), duration(l.Hours), each),
			Ticks:  l.Loads,
		})
	}
	return list
}

// readings is how many times the stock is read at the beater: once where it is
// beaten within the hour.
func (f filler) readings() int {
	longest := 0.0
	for _, l := range f.plan.Loads {
		longest = max(longest, l.Hours)
	}
	switch {
	case longest == 0:
		return 0
	case longest < 1:
		return 1
	}
	return 3
}

// goesIn is where an additive goes in: the step, and the words.
var goesIn = map[string]struct{ step, words string }{
	furnish.IntoStock: {"beat", "into the beaten stock"},
	furnish.IntoVat:   {"fill vat", "into the vat"},
	furnish.OnSheet:   {"size", "on the dry sheet"},
}

// weighing is a thing weighed out; of an additive what the paper wants of it,
// and the step at which it stands: none where the plan has no such step.
type weighing struct {
	plan.Weigh
	wanted plan.Additive
	step   string
}

// weighings are all things weighed out, in the plan's order.
func (f filler) weighings() []weighing {
	var list []weighing
	wanted := slices.Clone(f.Paper.Additives)
	for _, w := range f.plan.Weigh {
		out := weighing{Weigh: w}
		row := furnish.Any(w.What)
		i := slices.IndexFunc(wanted, func(a plan.Additive) bool { return furnish.Any(a.Kind).Name == row.Name })
		if w.Additive && i >= 0 {
			out.wanted = wanted[i]
			wanted = slices.Delete(wanted, i, i+1)
			at := goesIn[row.Where()].step
			if slices.ContainsFunc(f.plan.Steps, func(s plan.Step) bool { return s.Key == at }) {
				out.step = at
			}
		}
		list = append(list, out)
	}
	return list
}

// added says how much of an additive goes in, and how it is made up.
func (f filler) added(w weighing) StepLine {
	a := w.wanted
	l := StepLine{Amount: f.mass(w.Grams), What: w.What, How: measure.Retell(w.Note, f.System), Ticks: 1, Against: f.clashes(w.What)}
	if a.DoseMLL > 0 {
		l.Amount = f.millilitres(w.Solution)
		l.What += " made up, " + f.toALitre(a.DoseMLL) + " of vat"
		if w.Grams > 0 {
			l.What += fmt.Sprintf("; it takes %s of the powder", f.mass(w.Grams))
		}
		return l
	}
	l.What += fmt.Sprintf(", %s %% on fibre", number(a.DosePct, 2))
	if strength := w.ActiveG / w.Grams; w.Grams > 0 && strength < pure {
		l.What += fmt.Sprintf(", as bought at %s %%", number(strength*100, 1))
	}
	if w.Solution > 0 {
		l.What += ", made up to " + f.millilitres(w.Solution)
	}
	return l
}

// stray says of an additive without a step where it goes and how it is made up.
func (f filler) stray(w weighing) string {
	where := goesIn[furnish.Any(w.What).Where()].words
	return strings.TrimSpace(fmt.Sprintf("%s goes %s, for which this making has no step. %s", w.What, where, measure.Retell(w.Note, f.System)))
}

// pure is the strength from which on nobody reckons with it.
const pure = 0.995

// toALitre says how much of a solution goes to a litre, or gallon, of vat.
func (f filler) toALitre(ml float64) string {
	if f.System == measure.US {
		return number(ml*measure.Gallon/mlPerFluidOunce, 1) + " fl oz to a gallon"
	}
	return number(ml, 1) + " mL to a litre"
}

// clashes are what the plan has against an additive in company.
func (f filler) clashes(what string) []string {
	var list []string
	for _, w := range f.plan.Warnings {
		if w.Code == "clash" && clashOf(w, what) {
			list = append(list, measure.Retell(w.Text, f.System))
		}
	}
	return list
}

// atStep reports whether a clash stands at the step of an additive.
func (f filler) atStep(clash plan.Warning) bool {
	return slices.ContainsFunc(f.weighings(), func(w weighing) bool { return w.step != "" && clashOf(clash, w.What) })
}

func clashOf(w plan.Warning, what string) bool {
	return strings.HasPrefix(strings.ToLower(w.Text), strings.ToLower(what)+" with ")
}

// pulls says what is not one sheet by one dip.
func (f filler) pulls() []StepLine {
	var list []StepLine
	if n := f.atAPull(); n > 1 {
		pulls := (f.whole("sheets_couched") + n - 1) / n
		list = append(list, StepLine{Amount: fmt.Sprintf("%d %s", pulls, plural(pulls, "pull")), What: fmt.Sprintf("of %d sheets", n)})
	}
	if f.Paper.Dips != nil && *f.Paper.Dips > 1 {
		list = append(list, StepLine{Amount: fmt.Sprintf("%d dips", *f.Paper.Dips), What: "a sheet"})
	}
	return list
}

// atAPull is how many sheets come at a pull of the plan's mould.
func (f filler) atAPull() int {
	for _, m := range f.Studio.Moulds {
		size := fmt.Sprintf("%.0f × %.0f mm", max(m.LongMM, m.ShortMM), min(m.LongMM, m.ShortMM))
		if name := cmp.Or(m.Name, size); m.AtAPull != nil && name == f.plan.Mould {
			return *m.AtAPull
		}
	}
	return 1
}

func (f filler) pressed() []StepLine {
	posts, each := f.whole("posts"), f.whole("post_sheets")
	if posts == 0 || each == 0 {
		return nil
	}
	l := StepLine{Amount: fmt.Sprintf("%d %s", posts, plural(posts, "post")), What: fmt.Sprintf("of up to %d sheets", each), Ticks: posts}
	if n := f.whole("sheets_couched"); posts == 1 && n > 0 {
		l.What = fmt.Sprintf("of %d sheets", n)
	}
	if kpa, ok := f.value("press_pressure_kpa"); ok {
		l.What += ", " + f.show(kpa, "kPa") + " on the sheets"
	}
	if kg, ok := f.value("post_weight_kg"); ok {
		l.How = "the fullest weighs about " + f.show(kg, "kg")
	}
	return []StepLine{l}
}

func (f filler) dried() []StepLine {
	loads := f.whole("dryer_loads")
	if loads == 0 {
		return nil
	}
	l := StepLine{Amount: fmt.Sprintf("%d %s", loads, plural(loads, "load")), Ticks: loads}
	h, ok := f.value("drying_hours_a_load")
	if ok {
		l.What = "about " + duration(h)
		if loads > 1 {
			l.What += " each"
		}
	}
	list := []StepLine{l}
	if ok && f.Paper.Drying == drying.Exchange {
		changes := int(math.Ceil(h/float64(drying.ChangeEvery))) * loads
		list = append(list, StepLine{What: "blotters changed", Ticks: changes})
	}
	return list
}

// bath is the size bath: the size, and the water to make it up with.
func (f filler) bath() []StepLine {
	bath, ok := f.value("size_bath_l")
	size, ok2 := f.value("size_g")
	if !ok || !ok2 || bath <= 0 {
		return nil
	}
	return []StepLine{{
		Amount: f.mass(size), Ticks: 1,
		What: fmt.Sprintf("%s and %s of water: %s of bath at %s %%", f.Paper.SurfaceSize, f.litres(bath-size/1000), f.litres(bath), number(size/bath/10, 2)),
	}}
}
