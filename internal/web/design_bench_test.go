package web_test

import (
	"testing"

	"vatside/internal/studio"
)

// A slide moves: the paper as it is and as it would be are planned, and the
// piece of the page that says what moved is set.
func BenchmarkDesignAnswer(b *testing.B) { designs(b, "&only=answer") }

// The whole page, as it is asked for without script.
func BenchmarkDesignPage(b *testing.B) { designs(b, "") }

func designs(b *testing.B, more string) {
	pages(b, func(s *studio.Service) []string {
		papers, err := s.Papers(b.Context(), studio.PaperFilter{})
		if err != nil {
			b.Fatal(err)
		}
		var list []string
		for _, p := range papers {
			for _, change := range []string{"?grammage=120", "?beating=2.5", "?grammage=95&beating=3", "?good=80", "?drying=board"} {
				list = append(list, "/papers/"+p.ID+"/design"+change+more)
			}
		}
		return list
	})
}
