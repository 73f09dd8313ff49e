package vat

import (
	"fmt"
	"math"
	"strings"
	"time"

	"vatside/internal/measure"
	"vatside/internal/studio"
	"vatside/internal/watch"
	"vatside/internal/web/part"
)

// actOf says an act, and the entries that tell it was done.
func actOf(s part.Speech, m studio.Making, n watch.Now, a watch.Act) Act {
	out := Act{After: a.After, Kind: string(a.Kind)}
	switch a.Kind {
	case watch.Weigh:
		out.Say = "Weigh " + part.Many(n.Tests, "sheet")
		out.More = "The first ones, ironed dry, together."
	case watch.Press:
		out.Say = fmt.Sprintf("Post %d is full", a.Post)
		out.More = "To the press; begin a new post."
	case watch.Finish:
		out.Say = "All couched"
		out.More = "The last post to the press."
	default:
		out.Say, out.More = poured(s, m, a)
		if a.Stock > 0 {
			out.Notes = append(out.Notes, note(studio.Recharge{AfterSheet: new(a.After), StockML: rounded(float64(a.Stock) * 1000)}))
		}
		if water := a.WaterIn - a.WaterOff; a.Scoop > 0 || water != 0 {
			out.Notes = append(out.Notes, note(studio.VatChanged{StockOffL: dipped(float64(a.Scoop)), WaterL: dipped(float64(water))}))
		}
	}
	return out
}

// rounded is stock as it is said, to three digits; dipped is water and what is
// taken off the vat, by pail and mark: to two.
func rounded(v float64) float64 { return measure.Significant(v, 3) }

func dipped(v float64) float64 { return measure.Significant(v, 2) }

// leastWater is the change of level that is worth a word, as a part of the vat;
// ours: half a centimetre of thirty would be two per cent.
const leastWater = 0.01

// poured says what goes in and comes off; stock in jugs where it comes to
// quarters of one.
func poured(s part.Speech, m studio.Making, a watch.Act) (say, more string) {
	stock := float64(a.Stock) * 1000
	say = s.One(rounded(stock), "mL") + " of stock"
	if jug := m.Request.Studio.JugML; jug != nil && *jug > 0 {
		quarters := math.Round(stock / *jug * 4)
		if quarters > 0 && math.Abs(quarters**jug/4-stock) < 0.04*stock {
			say = jugs(int(quarters))
		}
	}
	vat := float64(m.Plan.Figures["vat_first_fill_g"].Value) / max(m.Plan.Figures["vat_consistency_g_l"].Value, 1e-9)
	var rest []string
	if a.Scoop > 0 {
		rest = append(rest, "take "+s.One(dipped(float64(a.Scoop)), "L")+" off with its fibre")
	}
	switch water := float64(a.WaterIn - a.WaterOff); {
	case math.Abs(water) < leastWater*vat:
	case water > 0:
		rest = append(rest, s.One(dipped(water), "L")+" of water in")
	default:
		rest = append(rest, s.One(dipped(-water), "L")+" of water off")
	}
	if stock == 0 {
		if len(rest) == 0 {
			return "Nothing to add", "Stir."
		}
		first := strings.ToUpper(rest[0][:1]) + rest[0][1:]
		return first, strings.Join(append(rest[1:], "stir and wait."), ", ")
	}
	return say, strings.Join(append(rest, "stir and wait."), ", ")
}

// jugs says quarters of a jug.
func jugs(quarters int) string {
	whole, part := quarters/4, [...]string{"", "¼", "½", "¾"}[quarters%4]
	switch {
	case whole == 0:
		return part + " jug"
	case quarters == 4:
		return "1 jug"
	default:
		return fmt.Sprintf("%d%s jugs", whole, part)
	}
}

func note(b studio.Body) Note {
	e := studio.NewEvent("", time.Time{}, b)
	return Note{Kind: e.Kind, Body: e.Body}
}

func void(id string) Note {
	e := studio.Void("", time.Time{}, id)
	return Note{Kind: e.Kind, Body: e.Body, Corrects: id}
}

// doubted asks about a weighing.
func doubted(s part.Speech, a watch.Ask, b studio.Body) Ask {
	way := "above"
	if a.Off < 0 {
		way = "below"
	}
	out := Ask{Event: a.EventID, No: void(a.EventID), Text: fmt.Sprintf("%s: that is %.0f %% %s what was expected. Is it right?", told(s, b), 100*math.Abs(a.Off), way)}
	if sure := standing(b); sure != nil {
		n := note(sure)
		out.Yes = &Note{Kind: studio.KindCorrection, Body: n.Body, Corrects: a.EventID}
	}
	return out
}

// standing is a weighing that its maker stands by.
func standing(b studio.Body) studio.Body {
	switch b := b.(type) {
	case studio.TestWeighed:
		b.Sure = true
		return b
	case studio.WeighedAtParting:
		b.Sure = true
		return b
	case studio.VatStrained:
		b.Sure = true
		return b
	}
	return nil
}

func missed(_ part.Speech, f watch.Missed) *Ask {
	return &Ask{Event: f.EventID, No: void(f.EventID),
		Text: fmt.Sprintf("By the weighings since, the recharge before sheet %d was probably not poured (%.0f in 100). Was it forgotten?", f.Before, 100*f.Chance)}
}
