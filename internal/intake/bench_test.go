package intake

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"vatside/internal/measure"
)

// years writes an invented notebook of twenty years.
func years(rows int) string {
	draws := rand.New(rand.NewPCG(7, 7))
	papers := []struct{ name, furnish string }{{"Heron text", "70 % cotton rag, 30 % abaca"}, {"Dusk lamp", "abaca"}, {"Quill", "cotton rag"}, {"Deckle print", "cotton linters/abaca 70/30"}}
	var b strings.Builder
	b.WriteString("No,Date,Paper,Fibre,g/m2,Beating (h),Mould (mm),Dry size (mm),Drying,Fibre weighed (g),Pulled,Kissed off,Good,Seconds,Sheet weight (g),Caliper (mm),RH,For,Notes\n")
	day := time.Date(2006, 3, 1, 0, 0, 0, 0, time.UTC)
	for i := range rows {
		p := papers[draws.IntN(len(papers))]
		if i%2 == 0 {
			day = day.AddDate(0, 0, 1+draws.IntN(4))
		}
		date := day.Format([]string{"2006-01-02", "2.1.2006", "2 Jan 2006"}[draws.IntN(3)])
		pulled := 20 + draws.IntN(60)
		good := pulled - draws.IntN(10) - 3
		fmt.Fprintf(&b, "%d,%s,%s,\"%s\",%d,%s,430 x 305,\"%d,%d x %d\",stack,%d,%d,%d,%d,%d,\"%d,%d\",0.%d,%d %%,%s,\"%s\"\n", i+1, date, p.name, p.furnish, 90+10*draws.IntN(3),
			[]string{"3", "2-3", "approx 3", "2 1/2"}[draws.IntN(4)], 420+draws.IntN(4), draws.IntN(9), 298+draws.IntN(3), 700+draws.IntN(300), pulled, draws.IntN(3), good, draws.IntN(2),
			12, draws.IntN(9), 18+draws.IntN(6), 45+draws.IntN(15), []string{"", "Invented binder", "Invented scribe"}[draws.IntN(3)], []string{"", "thin at first", "=very good", "和紙の様"}[draws.IntN(4)])
	}
	return b.String()
}

// BenchmarkNotebook takes 5,000 rows from the file to the records: read,
// matched, proposed and written.
func BenchmarkNotebook(b *testing.B) {
	text := years(5000)
	for b.Loop() {
		b.StopTimer()
		u, _ := newStudio(b)
		b.StartTimer()
		began := time.Now()
		s := open(b, text)
		read := time.Since(began)
		p, err := Propose(b.Context(), u, Source{File: "twenty years.csv", Sheet: s, Matching: Guess(s, "", measure.Metric), System: measure.Metric, Now: today})
		if err != nil {
			b.Fatal(err)
		}
		proposed := time.Since(began)
		if n := len(p.Of(Adds)); n < 4990 {
			b.Fatalf("%d rows are added: %+v", n, p.Of(Cannot)[:3])
		}
		take(b, u, p)
		b.ReportMetric(float64(read.Milliseconds()), "read-ms")
		b.ReportMetric(float64((proposed - read).Milliseconds()), "propose-ms")
		b.ReportMetric(float64((time.Since(began) - proposed).Milliseconds()), "write-ms")
	}
}

// BenchmarkPropose looks at 5,000 rows without writing them.
func BenchmarkPropose(b *testing.B) {
	s := open(b, years(5000))
	u, _ := newStudio(b)
	for b.Loop() {
		if _, err := Propose(b.Context(), u, Source{File: "twenty years.csv", Sheet: s, Matching: Guess(s, "", measure.Metric), System: measure.Metric, Now: today}); err != nil {
			b.Fatal(err)
		}
	}
}
