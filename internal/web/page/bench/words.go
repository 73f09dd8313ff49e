package bench

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"vatside/internal/studio"
	"vatside/internal/web/part"
)

func count(pr studio.Promise) string {
	return fmt.Sprintf("%d of %d good sheets", pr.Good, pr.Brief.GoodSheets)
}

func when(days int) string {
	switch {
	case days == 0:
		return "today"
	case days == 1:
		return "tomorrow"
	case days == -1:
		return "a day late"
	case days < 0:
		return fmt.Sprintf("%d days late", -days)
	}
	return fmt.Sprintf("in %d days", days)
}

func days(from, now time.Time) int { return int(now.Sub(from) / (24 * time.Hour)) }

// Use is a lot that spoils: by when it must be used.
type Use struct {
	Href, Name, Amount, When string
	Late                     bool
}

// soonDays is how far ahead the bench warns of what spoils; ours: enough to
// beat it, freeze it or dry it.
const soonDays = 3

// spoils are the lots on the shelf that are past their day or near it, the first
// day first.
func spoils(s part.Speech, lots []studio.Lot, now time.Time) []Use {
	last := now.AddDate(0, 0, soonDays).Format(time.DateOnly)
	list := slices.DeleteFunc(slices.Clone(lots), func(l studio.Lot) bool { return l.KeepBy == "" || l.KeepBy > last || l.AmountG <= 0 })
	slices.SortStableFunc(list, func(a, b studio.Lot) int { return strings.Compare(a.KeepBy, b.KeepBy) })
	var out []Use
	for _, l := range list {
		u := Use{Href: "/store/" + l.ID, Name: l.Name, Amount: s.One(l.AmountG, "g"), When: "use by " + part.Day(l.KeepBy), Late: l.PastKeepBy(now)}
		if u.Late {
			u.When = "past its day, " + part.Day(l.KeepBy)
		}
		if dry, ok := l.Dry(); ok && *l.MoisturePct > 15 { // wet enough that both are said, as on the shelf
			u.Amount += " wet, " + s.One(float64(dry), "g") + " dry"
		}
		out = append(out, u)
	}
	return out
}
