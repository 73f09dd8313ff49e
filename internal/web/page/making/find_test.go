package making

import (
	"net/url"
	"testing"
	"time"

	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// Days that are asked for are the studio's own, and the second is not before
// the first.
func TestWantedDays(t *testing.T) {
	t.Parallel()
	west := time.FixedZone("west", -8*3600)
	for _, c := range []struct {
		from, to string
		wrong    bool
	}{{"2026-03-04", "2026-03-04", false}, {"2026-03-04", "2026-03-05", false}, {"2026-03-04", "2026-03-03", true}, {"2026-03-04", "2026-03-02", true}} {
		f := &page.Form{Values: url.Values{"from": {c.from}, "to": {c.to}}}
		w, _ := wanted(f, part.Speech{}, west)
		if len(f.Faults) > 0 != c.wrong {
			t.Errorf("from %s to %s: %v", c.from, c.to, f.Faults)
		}
		if want := time.Date(2026, 3, 4, 8, 0, 0, 0, time.UTC); !w.From.Equal(want) {
			t.Errorf("the day begins %v, want %v", w.From, want)
		}
	}
}
