package web_test

import (
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"testing"
	"time"

	"vatside/internal/demo"
	"vatside/internal/store"
	"vatside/internal/studio"
	"vatside/internal/testkit/laps"
	"vatside/internal/web"
)

func BenchmarkBenchPage(b *testing.B) {
	pages(b, func(*studio.Service) []string { return []string{"/"} })
}

// The plan is worked out anew for each request: nothing of it is kept.
func BenchmarkPlanPage(b *testing.B) {
	pages(b, func(s *studio.Service) []string {
		briefs, err := s.Briefs(b.Context(), studio.BriefFilter{})
		if err != nil {
			b.Fatal(err)
		}
		var list []string
		for _, br := range briefs {
			list = append(list, "/briefs/"+br.ID)
		}
		return list
	})
}

func BenchmarkMakingPage(b *testing.B) { pages(b, ofMakings(b, "")) }

func BenchmarkCardPDF(b *testing.B) { pages(b, ofMakings(b, "/card.pdf")) }

func ofMakings(b *testing.B, what string) func(*studio.Service) []string {
	return func(s *studio.Service) []string {
		makings, err := s.Makings(b.Context(), studio.MakingFilter{})
		if err != nil {
			b.Fatal(err)
		}
		var list []string
		for _, m := range makings {
			list = append(list, "/makings/"+m.ID+what)
		}
		return list
	}
}

// pages times what a request takes in the program: the real handlers over the
// filled demo studio in a file, without the network. The addresses take turns.
func pages(b *testing.B, addresses func(*studio.Service) []string) {
	b.Helper()
	file, err := store.Open(b.Context(), filepath.Join(b.TempDir(), "studio.vatside"))
	if err != nil {
		b.Fatal(err)
	}
	defer file.Close() //nolint:errcheck // the folder goes with it
	if err := demo.Fill(b.Context(), file.Records(), morning); err != nil {
		b.Fatal(err)
	}
	now := func() time.Time { return morning }
	records := studio.New(file.Records(), now)
	handler, list := web.New(web.Config{Studio: records, Now: now}).Handler(), addresses(records)
	if len(list) == 0 {
		b.Fatal("the demo has no such page")
	}
	size, n := 0, 0
	ask := func() {
		r := httptest.NewRequest(http.MethodGet, list[n%len(list)], nil)
		r.Host = own
		w := httptest.NewRecorder()
		handler.ServeHTTP(w, r)
		if w.Code != http.StatusOK {
			b.Fatalf("%s: status %d", r.URL.Path, w.Code)
		}
		size += w.Body.Len()
		n++
	}
	for range list {
		ask() // what is made when first asked for is not a page's time
	}
	l := laps.Start()
	for b.Loop() {
		l.Do(ask)
	}
	l.Report(b)
	b.ReportMetric(float64(size)/float64(n)/1000, "kB")
}
