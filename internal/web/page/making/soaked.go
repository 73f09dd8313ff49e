package making

import (
	"context"
	"fmt"
	"strings"

	"vatside/internal/measure"
	"vatside/internal/sheet"
	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// soaked says how a sheet moves in a bath, both ways, and what to do about it.
func soaked(z studio.Soaked) []Finding {
	way := func(name string, before, wet, after float64) Finding {
		f := Finding{Name: "Soaked, " + name}
		s := sheet.Soaking{Before: measure.Length(before), Wet: measure.Length(wet), After: measure.Length(after)}
		if after == 0 {
			s.After = s.Before // not dried yet: only the growth is read
		}
		grew, err := s.Expansion()
		if err != nil {
			f.Value, f.Note = "cannot be", part.Upper(err.Error())
			return f
		}
		f.Value = points(grew) + " longer wet"
		if grew < 0 {
			f.Value = points(grew) + " shorter wet"
		}
		if after == 0 {
			f.Note = "Measure it again when it is dry."
			return f
		}
		stays, err := s.Lasting()
		switch {
		case err != nil:
			f.Note = part.Upper(err.Error())
		case stays > 0:
			f.Note = "Dry again it stays " + points(stays) + " smaller."
		case stays < 0:
			f.Note = "Dry again it stays " + points(stays) + " larger."
		default:
			f.Note = "Dry again it comes back to its size."
		}
		return f
	}
	long := way("long side", z.BeforeLongMM, z.WetLongMM, z.AfterLongMM)
	short := way("short side", z.BeforeShortMM, z.WetShortMM, z.AfterShortMM)
	if z.AfterLongMM > 0 && z.AfterLongMM < z.BeforeLongMM || z.AfterShortMM > 0 && z.AfterShortMM < z.BeforeShortMM {
		short.Note += " For prints in several baths: " + sheet.PreShrink
	}
	return []Finding{long, short}
}

// saidMeasured is an entry of what was measured in words.
func saidMeasured(s part.Speech, b studio.Body) string {
	mm := func(v float64) string { return s.One(v, "mm") }
	switch b := b.(type) {
	case studio.BeatReading:
		return fmt.Sprintf("Load %d after %.3g h of beating: ", b.Load, b.Hours) + beatSaid(s, b)
	case studio.Caliper:
		var all []string
		for _, t := range b.ThicknessMM {
			n, u := measure.ShowCaliper(measure.Length(t), s.System)
			all = append(all, n+"\u00a0"+u)
		}
		return "Caliper: " + strings.Join(all, ", ")
	case studio.Diagonals:
		return "Diagonals: " + mm(b.FirstMM) + " and " + mm(b.SecondMM) + " of " + s.SizeLine(b.LongMM, b.ShortMM)
	case studio.Sized:
		return "Sized: dry " + s.One(b.DryG, "g") + ", wet " + s.One(b.WetG, "g")
	case studio.Cobb:
		return fmt.Sprintf("Cobb test: dry %s, wet %s after %g s", s.One(b.DryG, "g"), s.One(b.WetG, "g"), b.Seconds)
	case studio.InkStrip:
		return "Ink strip: " + b.Says.String()
	case studio.Soaked:
		return "Soaked: " + s.SizeLine(b.BeforeLongMM, b.BeforeShortMM) + ", wet " + s.SizeLine(b.WetLongMM, b.WetShortMM)
	case studio.HandSays:
		return "The hand says: " + b.All()
	}
	return saidBench(s, b)
}

// Left is what can be kept of a making.
type Left struct{ Form, Says, Kept string }

// left lists what the record says is left over.
func (p *Page) left(ctx context.Context, s part.Speech, m studio.Making, st studio.State) ([]Left, error) {
	kept, err := p.studio.Lots(ctx, studio.LotFilter{FromMaking: m.ID})
	if err != nil {
		return nil, err
	}
	var list []Left
	for _, o := range studio.Leftovers(m, st, kept) {
		l := Left{Form: string(o.Form), Says: s.One(o.MassG, "g") + " of broke, as it lies"}
		switch o.Form {
		case studio.WetStock:
			l.Says = s.One(o.MassG/1000, "L") + " of stock"
		case studio.Sheets:
			l.Says = part.Many(o.Sheets, "good sheet")
		case studio.Retree:
			l.Says = part.Many(o.Sheets, "retree sheet")
		}
		if o.Kept != nil {
			l.Kept = "/store/" + o.Kept.ID
		}
		list = append(list, l)
	}
	return list, nil
}
