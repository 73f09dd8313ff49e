package plan

import (
	"context"
	"fmt"
	"slices"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// Equipment is what the page asks of the studio besides.
type Equipment interface {
	Profile(ctx context.Context) (studio.Profile, error)
}

// WhatIf is what changes when something is out of order. Nothing of it is kept.
type WhatIf struct {
	Things []Thing
	Asked  string // what is taken to be out of order, in words; "" where nothing was asked
	No     string // why there is no plan without it
	Same   bool   // nothing changes
	Short  []string
	Told   []string // what is taken instead, and of what nothing is left
	Mind   []string // what that plan warns of and this does not
	Gone   []string // and the other way about
	Table  part.Table
}

// whatIf answers what changes against the plan as it stands.
func (p *Page) whatIf(ctx context.Context, s part.Speech, b studio.Brief, was plan.Plan, asked []string) (WhatIf, error) {
	profile, err := p.studio.Profile(ctx)
	if err != nil {
		return WhatIf{}, err
	}
	w := WhatIf{Things: things(profile.Kit, was, asked)}
	var out []string
	for _, t := range w.Things {
		if t.Out {
			out = append(out, t.Name)
		}
	}
	if len(out) == 0 {
		return w, nil
	}
	w.Asked = part.Listed(out)
	_, now, err := p.studio.PlanBriefWithout(ctx, b, out...)
	if fault.Refused(err) {
		w.No = page.Sentence(err)
		return w, nil
	}
	if err != nil {
		return w, err
	}
	if w.No = small(s, now); w.No == "" || w.No == small(s, was) {
		w.No, w.Told = "", told(s, profile.Kit, out, was, now)
		w.set(s, was, now)
	}
	return w, nil
}

// small says that no mould gives the size, where a plan warns of it.
func small(s part.Speech, p plan.Plan) string {
	i := slices.IndexFunc(p.Warnings, func(w plan.Warning) bool { return w.Code == "mould too small" })
	if i < 0 {
		return ""
	}
	return measure.Retell(p.Warnings[i].Text, s.System)
}

// told says what is taken instead, and of which kinds nothing is left.
func told(s part.Speech, kit plan.Studio, out []string, was, now plan.Plan) []string {
	var list, instead []string
	for _, k := range kinds(kit) {
		lost, left := false, false
		for _, name := range k.names {
			lost = lost || has(out, name)
			left = left || name == "" || !has(out, name) && !has(kit.Without, name)
		}
		switch {
		case !lost || left:
		case k.name == "mould":
			list = append(list, fmt.Sprintf("No mould of yours is left. It wants one of %s inside the deckle.",
				s.SizeLine(now.Figures["formed_long_mm"].Value, now.Figures["formed_short_mm"].Value)))
		case k.name == "press":
			list = append(list, "No press of yours is left.")
		default:
			list = append(list, "No "+k.name+" of yours is left. What follows reckons with a usual one.")
		}
	}
	for _, name := range now.Uses {
		if !has(was.Uses, name) {
			instead = append(instead, name)
		}
	}
	if len(instead) > 0 {
		list = append(list, "Taken instead: "+part.Listed(instead)+".")
	}
	return list
}

// set sets the two plans side by side: what changes, and nothing else.
func (w *WhatIf) set(s part.Speech, was, now plan.Plan) {
	moves := part.Moves(was, now, s)
	w.Short = part.Told(moves)
	moves = slices.DeleteFunc(moves, func(m part.Move) bool { return m.Was == m.Now })
	w.Table = part.Moved(moves, "What changes", "As it stands", "Without")
	w.Mind, w.Gone = part.Minded(was, now, s)
	w.Same = len(moves)+len(w.Told)+len(w.Mind)+len(w.Gone) == 0
}
