package store

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"vatside/internal/studio"
	"vatside/internal/web/part"
)

func itoa(n int) string { return strconv.Itoa(n) }

// soonDays is how far ahead the shelf warns; ours: a working week.
const soonDays = 7

// soon are the lots that must be used, the first day first.
func soon(s part.Speech, lots []studio.Lot, now time.Time) []Line {
	last := now.AddDate(0, 0, soonDays).Format(time.DateOnly)
	list := slices.DeleteFunc(slices.Clone(lots), func(l studio.Lot) bool { return l.KeepBy == "" || l.KeepBy > last || l.AmountG <= 0 })
	slices.SortStableFunc(list, func(a, b studio.Lot) int { return strings.Compare(a.KeepBy, b.KeepBy) })
	var out []Line
	for _, l := range list {
		out = append(out, line(s, l, now))
	}
	return out
}

// groups are the lots by what they are, and those used up.
func groups(s part.Speech, lots []studio.Lot, now time.Time) (list []Group, gone []Line) {
	sums := map[string]float64{}
	for _, l := range lots {
		if l.AmountG == 0 {
			gone = append(gone, line(s, l, now))
			continue
		}
		i := slices.IndexFunc(list, func(g Group) bool { return g.What == l.What })
		if i < 0 {
			i = len(list)
			list = append(list, Group{What: l.What})
		}
		list[i].Lots = append(list[i].Lots, line(s, l, now))
		dry, ok := l.Dry()
		if !ok {
			dry = 0
		}
		sums[l.What] += float64(dry)
	}
	slices.SortStableFunc(list, func(a, b Group) int { return strings.Compare(strings.ToLower(a.What), strings.ToLower(b.What)) })
	for i, g := range list {
		if len(g.Lots) > 1 && sums[g.What] > 0 {
			list[i].All = s.One(sums[g.What], "g") + " dry, where the water is known"
		}
		list[i].What = part.Upper(tight(g.What))
	}
	return list, gone
}

func line(s part.Speech, l studio.Lot, now time.Time) Line {
	out := Line{Href: "/store/" + l.ID, Name: tight(l.Name), Amount: amount(s, l), About: about(s, l), When: "since " + part.Day(l.Since)}
	if l.KeepBy != "" {
		out.When = "use by " + part.Day(l.KeepBy)
		if out.Late = l.PastKeepBy(now) && l.AmountG > 0; out.Late {
			out.When = "past its day, " + part.Day(l.KeepBy)
		}
	}
	return out
}

// tight keeps the shares in a name from the end of a line.
func tight(name string) string { return strings.ReplaceAll(name, " %", "\u202f%") }

// amount says how much there is: of stock in litres with its dry fibre.
func amount(s part.Speech, l studio.Lot) string {
	text := quantity(s, l, l.AmountG)
	if l.AmountG <= 0 {
		return text
	}
	if dry, ok := l.Dry(); ok && l.Form == studio.WetStock {
		text += ", " + s.One(float64(dry), "g") + " of it dry fibre"
	} else if ok && *l.MoisturePct >= wet {
		text += " wet, " + s.One(float64(dry), "g") + " dry"
	}
	return text
}

// wet is from how much water on the dry mass is said beside the amount, %; ours:
// fibre in a damp room holds less.
const wet = 15

func quantity(s part.Speech, l studio.Lot, grams float64) string {
	if l.Form == studio.WetStock {
		return s.One(grams/1000, "L") // a litre of stock is taken as a litre of water
	}
	return s.One(grams, "g")
}

// about says what else is known: water, price.
func about(s part.Speech, l studio.Lot) string {
	var said []string
	switch {
	case l.MoisturePct == nil:
	case l.Form == studio.WetStock:
		said = append(said, "stock of "+s.One((100-*l.MoisturePct)*10, "g/L"))
	default:
		said = append(said, fmt.Sprintf("%.3g\u202f%% water", *l.MoisturePct))
	}
	if l.Form == studio.Scraps {
		said = append(said, "scraps")
	}
	if l.PriceKg != nil {
		said = append(said, fmt.Sprintf("%.2f\u00a0%s a kilogram", *l.PriceKg, l.Currency))
	}
	return part.Upper(strings.Join(said, ", "))
}

// said is one change in words.
func said(s part.Speech, l studio.Lot, m studio.Movement) string {
	size := quantity(s, l, max(m.MassG, -m.MassG))
	switch {
	case m.Kind == studio.Received:
		return size + " came"
	case m.Kind == studio.Thrown:
		return size + " thrown away"
	case m.Kind == studio.Used && m.MassG < 0:
		return size + " used"
	case m.Kind == studio.Used:
		return size + " given back"
	case m.MassG < 0:
		return "Counted: " + size + " less than thought"
	}
	return "Counted: " + size + " more than thought"
}
