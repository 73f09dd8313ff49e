package bench

import (
	"fmt"
	"time"

	"vatside/internal/studio"
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
