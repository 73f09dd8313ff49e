package published

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

// Row is one check value: what was read in print, and how closely it is meant.
type Row struct {
	ID, Quantity, Inputs string
	Expected             string // as printed
	Unit, Tolerance      string // as stated; free text
	Source               string
	Origin               string // read, or computed from a formula read
	LeftOut              string // why no test holds it; empty: one does
}

// Topic is the check values of one topic. A row that no test takes and that
// does not say why fails the test that asked for the topic.
type Topic struct {
	t    testing.TB
	name string
	rows []Row
	held map[string]bool
}

// Checks reads published/check-<topic>.csv. When the test ends, each row must
// have been taken by Row, or be left out with a reason.
func Checks(t testing.TB, topic string) *Topic {
	t.Helper()
	c := &Topic{t: t, name: topic, held: map[string]bool{}}
	for _, r := range Table(t, "check-"+topic+".csv") {
		c.rows = append(c.rows, Row{r["id"], r["quantity"], r["inputs"], r["expected"], r["unit"], r["tolerance"], r["source"], r["origin"], r["left_out"]})
	}
	t.Cleanup(c.close)
	return c
}

// Row takes a row to hold it.
func (c *Topic) Row(id string) Row {
	c.t.Helper()
	for _, r := range c.rows {
		if r.ID == id {
			c.held[id] = true
			return r
		}
	}
	c.t.Fatalf("check-%s.csv has no row %s", c.name, id)
	return Row{}
}

// Rows is every row, for tests that go through a whole table; nothing is
// taken by it.
func (c *Topic) Rows() []Row { return c.rows }

func (c *Topic) close() {
	if c.t.Failed() || c.t.Skipped() {
		return
	}
	held := 0
	for _, r := range c.rows {
		switch {
		case c.held[r.ID] && r.LeftOut != "":
			c.t.Errorf("check-%s.csv: %s is held, and yet left out: %s", c.name, r.ID, r.LeftOut)
		case c.held[r.ID]:
			held++
		case r.LeftOut == "":
			c.t.Errorf("check-%s.csv: %s (%s) is held by no test and says not why", c.name, r.ID, r.Quantity)
		}
	}
	c.t.Logf("%s: %d of %d check values held", c.name, held, len(c.rows))
}

// Number is the expected value as a number.
func (r Row) Number(t testing.TB) float64 {
	t.Helper()
	return Number(t, strings.TrimSpace(r.Expected))
}

// Near fails the test unless got is within by of the expected number.
func (r Row) Near(t testing.TB, got, by float64) {
	t.Helper()
	if want := r.Number(t); math.IsNaN(got) || math.Abs(got-want) > by {
		t.Errorf("%s, %s (%s): %s %s, want %s within %s [%s]", r.ID, r.Quantity, r.Inputs, strconv.FormatFloat(got, 'g', 8, 64), r.Unit, r.Expected, strconv.FormatFloat(by, 'g', 3, 64), r.Source)
	}
}

// Within is Near with a share of the expected number.
func (r Row) Within(t testing.TB, got, share float64) {
	t.Helper()
	r.Near(t, got, math.Abs(r.Number(t))*share)
}
