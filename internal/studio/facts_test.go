package studio_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"vatside/internal/figure"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/trouble"
)

// told are events of a making, a minute apart.
func told(bodies ...studio.Body) []studio.Event {
	var list []studio.Event
	for i, b := range bodies {
		list = append(list, studio.NewEvent(fmt.Sprintf("told-%d", i), start.Add(time.Duration(i)*time.Minute), b))
	}
	return list
}

// asked is the answer from a making's own records, and its causes by rule.
func asked(t *testing.T, symptom string, m studio.Making, events []studio.Event) (trouble.Answer, map[string]trouble.Cause) {
	t.Helper()
	a, err := trouble.Ask(symptom, studio.Facts(m, events))
	if err != nil {
		t.Fatal(err)
	}
	by := map[string]trouble.Cause{}
	for _, c := range a.Causes {
		by[c.Rule] = c
	}
	return a, by
}

// of is a making of one fibre on one mould.
func of(fibre string, mesh float64, additives ...plan.Additive) studio.Making {
	m := studio.Making{Request: aRequest(), Plan: aPlan()}
	m.Request.Paper.Furnish = []plan.Part{{Fibre: fibre, SharePct: 100}}
	m.Request.Paper.Additives = additives
	m.Request.Studio.Moulds = []plan.Mould{{Name: "other", LongMM: 300, ShortMM: 200, MeshCM: new(99.0)}, {Name: "A3", LongMM: 440, ShortMM: 311, MeshCM: &mesh}}
	return m
}

// Many sheets go back into the vat: how many is counted, and of corner, bald
// patch, edge and bubbles the test is told, because no record tells the cause.
func TestRedissolvedSheets(t *testing.T) {
	t.Parallel()
	m := of("cotton linters", 16)
	events := told(studio.Post{Post: 1, Pulled: 20, KissedOff: 5}, studio.Post{Post: 2, Pulled: 20, KissedOff: 3})
	for symptom, want := range map[string]string{"one thick corner": "lifted-early", "bald patch": "shook-late", "ragged edge": "deckle-loose", "air bubbles": "felts-dry"} {
		a, by := asked(t, symptom, m, events)
		if c, ok := by[want]; !ok || c.Speaks != trouble.Open || c.Test == "" || c.Change == "" {
			t.Errorf("%s: %s is %+v", symptom, want, c)
		}
		if !slices.ContainsFunc(a.Count, func(s string) bool { return strings.Contains(s, "8 of 40 pulls kissed off, 20 %") }) {
			t.Errorf("%s: kissed-off pulls are not counted: %q", symptom, a.Count)
		}
	}
}

// Long kozo on a coarse mould without formation aid stuck and tore; on a mould
// of twice the mesh, with aid, those causes fall away.
func TestKozoStuck(t *testing.T) {
	t.Parallel()
	a, by := asked(t, "stuck to the mould", of("kozo", 8), nil)
	if c := by["coarse-mesh"]; c.Speaks != trouble.For || !strings.Contains(c.Why, "8 wires to the cm, and long fibre (kozo)") {
		t.Errorf("coarse mesh: %s, %q", c.Speaks, c.Why)
	}
	if by["no-aid"].Speaks != trouble.For || by["long-cut"].Speaks != trouble.For || a.Causes[0].Speaks != trouble.For {
		t.Errorf("no aid %s, long cut %s, first %s", by["no-aid"].Speaks, by["long-cut"].Speaks, a.Causes[0].Rule)
	}
	_, by = asked(t, "stuck to the mould", of("kozo", 16, plan.Additive{Kind: "PEO", DoseMLL: 20}), nil)
	if by["coarse-mesh"].Speaks != trouble.Against || by["no-aid"].Speaks != trouble.Against {
		t.Errorf("coarse mesh %s, no aid %s", by["coarse-mesh"].Speaks, by["no-aid"].Speaks)
	}
}

// The first two sheets went back, pulp was beaten almost five hours, sheets are
// thin and twelve take the day.
func TestTwelveADay(t *testing.T) {
	t.Parallel()
	m := of("abaca", 16)
	m.Request.Paper.GrammageConditioned, m.Request.GoodSheets = 30, new(12)
	m.Plan.Loads = []plan.Load{{Loads: 1, Hours: 4}}
	events := told(studio.BeatReading{Load: 1, Hours: 4.9, Roll: "down"},
		studio.Post{Post: 1, Pulled: 1, KissedOff: 1}, studio.Post{Post: 1, Pulled: 1, KissedOff: 1}, studio.Post{Post: 1, Pulled: 12},
		studio.StepTime{Step: "pull and couch", Minutes: 308})
	a, by := asked(t, "first two sheets always go wrong", m, events)
	if a.Causes[0].Rule != "warm-up" || by["slow-stock"].Speaks != trouble.For {
		t.Errorf("%s first, slow stock %s", a.Causes[0].Rule, by["slow-stock"].Speaks)
	}
	for _, want := range []string{"2 warm-up sheets at the start of each run: pull at least 14 for 12", "2.73 sheets an hour, and 12 sheets take 4.4 h"} {
		if !slices.ContainsFunc(a.Count, func(s string) bool { return strings.Contains(s, want) }) {
			t.Errorf("%q lacks %q", a.Count, want)
		}
	}
	a, by = asked(t, "drains slowly", m, events)
	if a.Causes[0].Rule != "long-beaten" || !strings.Contains(by["long-beaten"].Why, "4.9 h") {
		t.Errorf("%s first: %q", a.Causes[0].Rule, by["long-beaten"].Why)
	}
	if _, by = asked(t, "clings to the watermark", m, events); by["thin-lay"].Speaks != trouble.For {
		t.Errorf("thin lay is %s", by["thin-lay"].Speaks)
	}
}

func TestFactsUnknown(t *testing.T) {
	t.Parallel()
	m := of("abaca", 16)
	f := studio.Facts(m, told(studio.Post{Post: 1, Pulled: 20, KissedOff: 2}))
	if f.FirstBad != nil {
		t.Errorf("of a post counted whole nobody knows which sheets were bad: %d", *f.FirstBad)
	}
	if f = studio.Facts(m, nil); f.Pulled != nil || f.FirstBad != nil || f.RoomRH != nil || f.MinutesASheet != nil || f.HardWater != nil || f.Drying != "" || f.Solids != nil {
		t.Errorf("nothing was said, and yet %+v", f)
	}
	f = studio.Facts(m, told(studio.Post{Post: 1, Pulled: 1}))
	if f.FirstBad == nil || *f.FirstBad != 0 {
		t.Error("the first sheet stayed, so none was bad")
	}
	m.Request.Paper.Furnish[0].Fibre = "stuff nobody knows"
	if f = studio.Facts(m, nil); f.LongFibre != nil || f.FibreLength != nil {
		t.Error("an unknown fibre has a length")
	}
}

// What the plan and the records say arrives as it was said.
func TestFactsOfAMaking(t *testing.T) {
	t.Parallel()
	m := of("abaca", 16, plan.Additive{Kind: "AKD", DosePct: 1}, plan.Additive{Kind: "kaolin", DosePct: 8})
	m.Request.Paper.Drying, m.Request.Studio.Water = "board", &plan.Water{HardnessMGL: new(250.0)}
	m.Request.Studio.Seasons = []plan.Season{{Name: "summer", Months: []int{6, 7}, TempC: 24, RHPct: 70}}
	m.Request.Studio.Month, m.Request.Studio.Air = new(7), &plan.Air{TempC: 20, RHPct: 40}
	m.Plan.Figures["press_pressure_kpa"] = figure.Figure{Value: 443}
	// 100 to 90.25 over two sheets: 5 % a sheet, worked by hand.
	m.Plan.Vat.Recharges = []plan.Recharge{{BeforeSheet: 4, GrammageAfter: 100}, {BeforeSheet: 6, GrammageBefore: 90.25, GrammageAfter: 100}}
	f := studio.Facts(m, told(
		studio.Post{Post: 1, Pulled: 20}, studio.Post{Post: 2, Pulled: 20}, studio.Recharge{Times: 7, StockML: 4000},
		studio.WeighedAtParting{Post: 2, Sheets: 10, Grams: 360}, studio.WeighedAtParting{Post: 1, Sheets: 10, Grams: 400},
		studio.Diagonals{FirstMM: 515, SecondMM: 511, LongMM: 420, ShortMM: 297}))
	near := func(what string, got, want float64) {
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("%s is %v, want %v", what, got, want)
		}
	}
	near("thinning", float64(*f.Thinning), 0.05)
	near("late weight", float64(*f.LateWeight), -0.1)
	near("recharge every", float64(*f.RechargeEvery), 5)
	near("room", float64(*f.RoomRH), 0.7)
	near("pressure", float64(*f.Pressure), 443)
	near("diagonals", float64(*f.Diagonals), 4)
	near("filler", float64(*f.Filler), 0.08)
	near("post", float64(*f.SheetsInPost), 20)
	near("first bad", float64(*f.FirstBad), 0)
	if f.Drying != trouble.Board || !*f.HardWater || !*f.InternalSize || *f.SurfaceSize || *f.FormationAid {
		t.Errorf("%+v", f)
	}
}

// Whatever was written down, every fault can be asked about.
func TestFactsCanAlwaysBeAsked(t *testing.T) {
	t.Parallel()
	m := of("kozo", 8)
	rapid.Check(t, func(t *rapid.T) {
		n := func(name string, most int) int { return rapid.IntRange(0, most).Draw(t, name) }
		v := func(name string) float64 { return rapid.Float64Range(1e-6, 1e6).Draw(t, name) }
		events := told(studio.Post{Post: 1, Pulled: n("pulled", 1000), KissedOff: n("kissed", 1000)}, studio.StepTime{Step: "pull and couch", Minutes: v("minutes")},
			studio.WeighedAtParting{Post: 1, Sheets: 1, Grams: v("first")}, studio.WeighedAtParting{Post: 3, Sheets: 1, Grams: v("last")},
			studio.WeighedDry{Sheets: 1, Grams: v("dry")}, studio.Diagonals{FirstMM: v("one"), SecondMM: v("other"), LongMM: 1, ShortMM: 1}, studio.TestWeighed{Sheets: 1, Grams: v("test")})
		for _, s := range trouble.Symptoms() {
			if _, err := trouble.Ask(s.Key, studio.Facts(m, events)); err != nil {
				t.Fatalf("%s: %v", s.Key, err)
			}
		}
	})
}
