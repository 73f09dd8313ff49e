package plan

import (
	"strings"
	"testing"

	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/web/part"
)

func TestSheetsAreNamedInShort(t *testing.T) {
	t.Parallel()
	for want, list := range map[string][]int{
		"4": {4}, "4, 7": {4, 7}, "2 to 5, each": {2, 3, 4, 5}, "4, 7, every 3 to 16": {4, 7, 10, 13, 16}, "4, 7, 9": {4, 7, 9},
	} {
		if got := sheets(list); got != want {
			t.Errorf("%v: %q, want %q", list, got, want)
		}
	}
}

// No sheet of the plan's table is lost by setting the same acts in one line.
func TestRechargeTableKeepsEverySheet(t *testing.T) {
	t.Parallel()
	var list []plan.Recharge
	for n := 4; n <= 40; n += 3 {
		r := plan.Recharge{BeforeSheet: n, StockML: 1166, Jugs: 1.166, WaterOffL: 0.8, VatL: 80}
		if n > 30 {
			r = plan.Recharge{BeforeSheet: n, WaterOffL: 3, VatL: 70, RunDown: true}
		}
		list = append(list, r)
	}
	s := part.Speech{System: measure.Metric}
	named := 0
	for _, a := range acts(s, list) {
		named += len(a.sheets)
	}
	if named != len(list) {
		t.Errorf("%d sheets are named of %d", named, len(list))
	}
	table := recharges(s, list)
	if len(table.Rows) != 2 || !table.Rows[1].Apart || table.Rows[0].Apart {
		t.Fatalf("rows %+v", table.Rows)
	}
	if got := strings.Join(table.Rows[0].Cells, " | "); got != "4, 7, every 3 to 28 | 1166\u00a0mL | 1.15 | 0.8\u00a0L" && got != "4, 7, every 3 to 28 | 1170\u00a0mL | 1.15 | 0.8\u00a0L" {
		t.Errorf("first row %q", got)
	}
}

func TestWarningsStandAtTheirStep(t *testing.T) {
	t.Parallel()
	p := plan.Plan{
		Steps:    []plan.Step{{Key: "beat"}, {Key: "press"}},
		Warnings: []plan.Warning{{Code: "many loads", Text: "a"}, {Code: "vat thickens", Text: "b"}, {Code: "store short", Text: "c"}, {Code: "assumed", Text: "d"}, {Code: "a new one", Text: "e"}},
	}
	var d Data
	at := warnings(&d, p)
	if len(at["beat"]) != 1 || len(at) != 1 {
		t.Errorf("at the steps: %v", at)
	}
	// A warning whose step this making has not, and one unknown here, are not lost.
	if strings.Join(d.Warnings, "") != "bce" || strings.Join(d.Founded, "") != "d" {
		t.Errorf("at the top %v, at the foot %v", d.Warnings, d.Founded)
	}
}
