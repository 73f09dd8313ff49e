package store

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"vatside/internal/measure"
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

// finishedSheets is the one group of all that is counted.
const finishedSheets = "finished sheets"

// groups are the lots by what they are, and those used up.
func groups(s part.Speech, lots []studio.Lot, now time.Time) (list []Group, gone []Line) {
	sums := map[string]float64{}
	for _, l := range lots {
		if l.AmountG == 0 {
			gone = append(gone, line(s, l, now))
			continue
		}
		what := l.What
		if l.Finished() {
			what = finishedSheets
		}
		i := slices.IndexFunc(list, func(g Group) bool { return g.What == what })
		if i < 0 {
			i = len(list)
			list = append(list, Group{What: what})
		}
		list[i].Lots = append(list[i].Lots, line(s, l, now))
		dry, ok := l.Dry()
		switch {
		case l.Finished():
			dry = measure.Mass(l.Count(l.AmountG))
		case !ok:
			dry = 0
		}
		sums[what] += float64(dry)
	}
	slices.SortStableFunc(list, func(a, b Group) int { return strings.Compare(strings.ToLower(a.What), strings.ToLower(b.What)) })
	for i, g := range list {
		switch {
		case len(g.Lots) < 2 || sums[g.What] <= 0:
		case g.What == finishedSheets:
			list[i].All = part.Many(int(sums[g.What]), "sheet") + " together"
		default:
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
	if l.AmountG <= 0 || l.Finished() {
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
	if l.Finished() {
		return part.Many(l.Count(grams), "sheet")
	}
	if l.Form == studio.WetStock {
		return s.One(grams/1000, "L") // a litre of stock is taken as a litre of water
	}
	return s.One(grams, "g")
}

// about says what else is known: water, price.
func about(s part.Speech, l studio.Lot) string {
	said := sheetsSaid(s, l)
	switch {
	case l.MoisturePct == nil:
	case l.Form == studio.WetStock:
		said = append(said, "stock of "+s.One((100-*l.MoisturePct)*10, "g/L"))
	default:
		said = append(said, fmt.Sprintf("%.3g\u202f%% water", *l.MoisturePct))
	}
	if l.Cooked {
		said = append(said, cooked)
	}
	if l.Form == studio.Scraps {
		said = append(said, "scraps")
	}
	if l.PriceKg != nil {
		said = append(said, fmt.Sprintf("%.2f\u00a0%s a kilogram", *l.PriceKg, l.Currency))
	}
	return part.Upper(strings.Join(said, ", "))
}
