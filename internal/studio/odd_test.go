package studio_test

import (
	"strings"
	"testing"
	"time"

	"vatside/internal/studio"
)

// What looks odd is flagged with its sum, never refused. The sums are worked
// by hand.
func TestOddIsFlagged(t *testing.T) {
	t.Parallel()
	m := studio.Making{Request: aRequest(), Plan: aPlan()} // A3, 100 g/m², 440 × 311 mm formed
	at := start
	for name, c := range map[string]struct {
		bodies []studio.Body
		code   string
		sum    string
	}{
		// 500 g / 60 / (0.420 m · 0.297 m) = 66.8 g/m²
		"too light":          {[]studio.Body{studio.WeighedDry{Sheets: 60, Grams: 500}}, "grammage", "500 g / 60 sheets / (420 mm × 297 mm) = 66.8 g/m²"},
		"light, not odd":     {[]studio.Body{studio.WeighedDry{Sheets: 60, Grams: 600}}, "", ""}, // 80.2 g/m²
		"larger than formed": {[]studio.Body{studio.DrySize{LongMM: 445, ShortMM: 300}}, "size", "dry 445 mm × 300 mm; formed 440 mm × 311 mm"},
		"sides swapped":      {[]studio.Body{studio.DrySize{LongMM: 297, ShortMM: 310}}, "size", "297 mm × 310 mm"},
		"graded too many": {[]studio.Body{studio.Post{Post: 1, Pulled: 20, KissedOff: 2}, studio.Graded{Good: 18, Retree: 1}},
			"grades", "18 good + 1 retree + 0 broken + 0 broke = 19; couched 18"},
		"kissed off too many": {[]studio.Body{studio.Post{Post: 2, KissedOff: 1}}, "kissed off", "0 pulled − 1 kissed off = -1"},
		"weighed too many":    {[]studio.Body{studio.Post{Post: 1, Pulled: 10}, studio.WeighedDry{Sheets: 11, Grams: 137}}, "weighed", "11 weighed; couched 10"},
		// 12.474 g dry of 100 g/m² in A3 over 125 g wet = 10 %
		"not pressed": {[]studio.Body{studio.WeighedAtParting{Post: 1, Sheets: 10, Grams: 1250}}, "parting", "dry 12.5 g / (1250 g / 10 sheets) = 10 % solids"},
		"pressed":     {[]studio.Body{studio.WeighedAtParting{Post: 1, Sheets: 10, Grams: 420}}, "", ""}, // 30 %
		"test off":    {[]studio.Body{studio.TestWeighed{Sheets: 3, Grams: 18}}, "test", "18 g / 3 sheets / (420 mm × 297 mm) = 48.1 g/m²"},
	} {
		var events []studio.Event
		for i, b := range c.bodies {
			events = append(events, studio.NewEvent(string(rune('a'+i)), at, b))
		}
		s := studio.Replay(m, events)
		switch {
		case c.code == "" && len(s.Odd) > 0:
			t.Errorf("%s: flagged %+v", name, s.Odd)
		case c.code != "" && (len(s.Odd) != 1 || s.Odd[0].Code != c.code || s.Odd[0].Sum != c.sum || s.Odd[0].Text == ""):
			t.Errorf("%s: got %+v, want %s: %s", name, s.Odd, c.code, c.sum)
		}
	}
	late := studio.NewEvent("a", at.Add(time.Hour), studio.Closed{})
	late.Received = at
	if s := studio.Replay(m, []studio.Event{late}); len(s.Odd) != 1 || s.Odd[0].Code != "clock" {
		t.Errorf("a clock ahead: %+v", s.Odd)
	}
}

func TestMissingIsNamed(t *testing.T) {
	t.Parallel()
	s := studio.Replay(studio.Making{}, nil)
	if len(s.Missing) != 9 {
		t.Errorf("of an empty record are missing: %v", s.Missing)
	}
	s = studio.Replay(studio.Making{}, []studio.Event{studio.NewEvent("a", start, studio.WeighedDry{Sheets: 3, Grams: 9})})
	if got := strings.Join(s.Missing, "; "); strings.Contains(got, "dry weight") || !strings.Contains(got, "humidity") {
		t.Errorf("after a dry weight without humidity: %s", got)
	}
}
