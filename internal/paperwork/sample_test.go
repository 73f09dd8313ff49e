package paperwork

import (
	"fmt"
	"strings"
	"time"
)

// sampleCard is a card as FromPlan would make it for so many sheets, pulled
// three to a round and pressed in posts of so many. People and papers in it
// are invented.
func sampleCard(sheets, perPost int) Card {
	c := Card{
		Tag: "K7-041", Link: "http://vatside.local/m/K7-041",
		Paper: "Text for a small edition", Use: "book text, sewn, deckle on three sides",
		By: "Ansel Quill", For: "Mirren Bookbinding", When: "Tuesday 3 March 2026",
		Date:    time.Date(2026, 3, 3, 8, 0, 0, 0, time.UTC),
		Furnish: "cotton rag 70 %, abaca 30 %; calcium carbonate 3 % on fibre; waterleaf",
		Units:   "metric", LengthUnit: "mm", MassUnit: "g",
		Promise: "50 good sheets, 95 times in 100",
		Sizes: []Entry{
			{Label: "dry size", Value: "420 × 297 mm", Band: "416–424 × 294–300"},
			{Label: "formed size", Value: "437.5 × 309.4 mm"},
			{Label: "mould", Value: "A3 wove, pair"},
			{Label: "grammage", Value: "100 g/m² ± 8 %", Band: "conditioned: 23 °C, 50 % RH"},
			{Label: "edges", Value: "deckle"},
		},
		Decisions: []Decision{
			{Label: "sheets to pull", Figure: fmt.Sprint(sheets), Unit: "sheets", Lines: []DecisionLine{
				{Amount: "3", What: "of them test sheets"}, {Amount: "3", What: "posts of up to 23"}}},
			{Label: "fibre to weigh out, air-dry", Figure: "1102", Unit: "g", Lines: []DecisionLine{
				{Amount: "771 g", What: "cotton rag", Tick: true}, {Amount: "331 g", What: "abaca", Tick: true},
				{Amount: "30 g", What: "calcium carbonate", Tick: true}, {What: "probably 980–1102 g used"}}},
			{Label: "beater", Figure: "2", Unit: "loads of 507 g dry", Lines: []DecisionLine{
				{Amount: "3 h", What: "each", Tick: true}, {Amount: "22.7 L", What: "water a load"}}},
			{Label: "first fill of the vat", Figure: "367", Unit: "g solids", Lines: []DecisionLine{
				{Amount: "12.2 L", What: "of stock at 30 g/L"}, {Amount: "12 ¼ jugs", What: ""}, {Amount: "80 L", What: "made up with water to this level"}}},
		},
		Rule:     []RulePart{{Number: true, Whole: 3}, {Word: "sheets, then"}, {Number: true, Whole: 1, Quarters: 1}, {Word: "jugs"}},
		RuleNote: []string{"exactly 1166 mL of stock at 30 g/L = 1 full jug and 166 mL: mark it on the jug", "each time 0.85 L of water off through the strainer, so that the level holds"},
		Tests: TestTable{Sheets: "three", Unit: "g", Heading: "three test sheets, ironed, weighed together", Rows: []TestRow{
			{Range: "under 33.6 g", Do: "add 1 ¾ jugs", Exact: "1790 mL"}, {Range: "33.6–35.5 g", Do: "add ¾ jug", Exact: "830 mL"},
			{Range: "35.5–39.3 g", Do: "go on"}, {Range: "39.3–41.2 g", Do: "add 3.5 L of water"}, {Range: "over 41.2 g", Do: "add 7 L of water"}}},
		Outcomes: []Entry{
			{Label: "dry size", Value: "420 × 297 mm", Band: "416–424 × 294–300"}, {Label: "grammage", Value: "100 g/m²", Band: "93–107"},
			{Label: "drying", Value: "21 h", Band: "15–30 h"}, {Label: "days to sorted sheets", Value: "9", Band: "7–12"},
			{Label: "cost of a good sheet", Value: "€ 4.10", Band: "3.40–5.20"}},
		RestsOn:  "handbook; shrinkage measured 3 times, effective depth measured 11 times",
		Cautions: []string{"A plug or socket within reach of the vat needs a residual-current device; ask an electrician, local rules apply."},
	}
	c.Notes = []string{"Each sheet takes 3 % of the fibre in the vat."}
	c.Recharges = []RechargeGroup{
		{Act: "1 ¼ jugs in", Exact: "1166 mL", WaterOff: "0.85 L off through the strainer"},
		{Act: "run down", WaterOff: "2.1 L off through the strainer", RunDown: true},
	}
	for n := 4; n <= sheets; n += 3 {
		i := 0
		if n > sheets-9 {
			i = 1
		}
		c.Recharges[i].Before = append(c.Recharges[i].Before, n)
	}
	for first := 1; first <= sheets; first += perPost {
		q := Post{First: first, Last: min(sheets, first+perPost-1)}
		if first == 1 {
			q.Test = min(3, sheets)
		}
		for _, n := range c.Recharges[0].Before {
			if n >= q.First && n <= q.Last {
				q.Recharge = append(q.Recharge, n)
			}
		}
		for _, n := range c.Recharges[1].Before {
			if n >= q.First && n <= q.Last {
				q.RunDown = append(q.RunDown, n)
			}
		}
		c.Posts = append(c.Posts, q)
	}
	c.Steps = sampleSteps()
	return c
}

func sampleSteps() []Step {
	rows := `weigh out and tear|15 min||
soak|5 min|12–48 h|
beat|50 min|6–7 h||beater: Roll covered whenever the motor can turn. Hair up, no gloves, rings or loose sleeves.
drain the stock|15 min|1–3 h|3 days
fill the vat|15 min||
test sheets|35 min||
pull and couch|2 h 40 min||
press|35 min|20–40 min||post: A wet post of felts can pass 40 kg: wheels, a hoist or two people.|jack: No hands or head between platens that the jack alone holds.
part|40 min||12 h
press the pack|20 min|8–12 h|
dry in the stack|45 min|15–30 h|
flatten|20 min|2–5 days|
sort and grade|60 min||
pack|20 min||
clean down|45 min||`
	var steps []Step
	for _, line := range strings.Split(rows, "\n") {
		f := strings.Split(line, "|")
		s := Step{Name: f[0], HandsOn: f[1], Wait: f[2], KeepBy: f[3]}
		for _, extra := range f[4:] {
			if _, text, ok := strings.Cut(extra, ": "); ok {
				s.Cautions = append(s.Cautions, text)
			}
		}
		steps = append(steps, s)
	}
	steps[1].Note = "Enough water to cover; change it once if it is stained."
	return steps
}
