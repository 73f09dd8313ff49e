package measure

import (
	"math"
	"slices"
	"testing"

	"vatside/internal/testkit/published"
)

func TestConvertPublished(t *testing.T) {
	t.Parallel()
	for _, r := range published.Table(t, "convert.csv") {
		v, want, off := published.Number(t, r["value"]), published.Number(t, r["expected"]), published.Number(t, r["tolerance"])
		c, err := Convert(v, r["from"], r["to"], nil)
		if err != nil || math.Abs(c.Value-want) > off || c.Low != c.Value || c.High != c.Value {
			t.Errorf("%g %s is %g %s (%v), print says %g", v, r["from"], c.Value, r["to"], err, want)
		}
	}
}

func TestBasisPublished(t *testing.T) {
	t.Parallel()
	for _, r := range published.Table(t, "convert-basis.csv") {
		b := Basis{Short: published.Number(t, r["short_in"]), Long: published.Number(t, r["long_in"]), Sheets: 500}
		if want := published.Number(t, r["g_m2_per_lb"]); math.Abs(b.PerPound()-want) > published.Number(t, r["tolerance"]) {
			t.Errorf("%g × %g in: %g g/m² to the pound, print says %g", b.Short, b.Long, b.PerPound(), want)
		}
	}
}

// The printed row's faults are found out from the row itself.
func TestRowPublished(t *testing.T) {
	t.Parallel()
	rows := published.Table(t, "convert-row.csv")
	var row []Cell
	for _, r := range rows {
		row = append(row, Cell{basisOf(r["head"]), published.Number(t, r["printed_lb"])})
	}
	grammage, doubts, err := CheckRow(row)
	if err != nil || grammage < 88.6 || grammage > 89.5 {
		t.Fatalf("the row is %g g/m², %v", grammage, err)
	}
	for i, r := range rows {
		j := slices.IndexFunc(doubts, func(d Doubt) bool { return d.At == i })
		if wrong := r["ought_lb"] != ""; wrong != (j >= 0) {
			t.Errorf("%s: found wrong %v, want %v", r["head"], j >= 0, wrong)
			continue
		}
		if j < 0 {
			continue
		}
		if want := published.Number(t, r["ought_lb"]); math.Abs(doubts[j].Ought-want) > 0.5 {
			t.Errorf("%s ought to be %g, want %g", r["head"], doubts[j].Ought, want)
		}
		if fits := r["fits"]; fits == "" && len(doubts[j].Fits) > 0 || fits != "" && !slices.Contains(doubts[j].Fits, fits) {
			t.Errorf("%s fits %v, want %s", r["head"], doubts[j].Fits, fits)
		}
	}

	// The right numbers under the printed head 25 × 35: the book cell alone
	// stands out, and fits the basis of 25 × 38.
	row[0] = Cell{Basis{Name: "book as printed", Short: 25, Long: 35, Sheets: 500}, 60}
	row[1].Pounds, row[3].Pounds = 24, 41
	_, doubts, err = CheckRow(row)
	if err != nil || len(doubts) != 1 || doubts[0].At != 0 || !slices.Equal(doubts[0].Fits, []string{"book"}) {
		t.Errorf("under 25 × 35: %+v, %v", doubts, err)
	}
}

// The painter's question: 140 lb of watercolour paper is heavier than 80 lb of
// cover, and 25 × 36 for 25 × 38 makes 5.6 % (painter-pounds).
func TestPoundsHangOnTheBasis(t *testing.T) {
	t.Parallel()
	watercolour, _ := Parse(OfGrammage, "140 lb watercolour", Metric)
	cover, _ := Parse(OfGrammage, "80# cover", Metric)
	if math.Abs(watercolour-298) > 0.5 || math.Abs(cover-216) > 0.5 {
		t.Errorf("140 lb watercolour is %g, 80 lb cover %g g/m²", watercolour, cover)
	}
	sketch := Basis{Short: 25, Long: 36, Sheets: 500}
	if more := sketch.PerPound()/basisOf("book").PerPound() - 1; math.Abs(more-0.056) > 0.0005 {
		t.Errorf("25 × 36 makes %.4f more", more)
	}
}

// Three reams a day (three-reams-1909) are 1,440 or 1,500 sheets: the ream is
// asked for, not guessed.
func TestReamIsAskedFor(t *testing.T) {
	t.Parallel()
	if _, err := Parse(OfSheets, "3 reams", US); err == nil {
		t.Error("a ream of unsaid count is read")
	}
	for text, want := range map[string]float64{"3 reams of 480": 1440, "3 reams of 500": 1500, "1 ream of 472": 472, "2 reams of 516": 1032,
		"3 quires of 25": 75, "3 quires of 24": 72, "1 ream of 480 2 quires of 24": 528, "60": 60, "60 sheets": 60, "½ ream of 500": 250} {
		if got, err := Parse(OfSheets, text, Metric); err != nil || got != want {
			t.Errorf("%s is %g sheets, %v; want %g", text, got, err, want)
		}
	}
}
