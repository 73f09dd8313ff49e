package trouble

import (
	"slices"
	"strings"
	"testing"

	"vatside/internal/measure"
)

// answer asks and returns the voices by rule.
func answer(t *testing.T, symptom string, f Facts) (Answer, map[string]Cause) {
	t.Helper()
	a, err := Ask(symptom, f)
	if err != nil {
		t.Fatalf("%s: %v", symptom, err)
	}
	by := map[string]Cause{}
	for _, c := range a.Causes {
		by[c.Rule] = c
	}
	return a, by
}

// first fails unless those rules stand first, in whatever order, all spoken for.
func first(t *testing.T, a Answer, rules ...string) {
	t.Helper()
	for i, c := range a.Causes[:len(rules)] {
		if !slices.Contains(rules, c.Rule) || c.Speaks != For || c.Why == "" {
			t.Errorf("%s: cause %d is %s (%s: %s); want %v first", a.Symptom.Key, i+1, c.Rule, c.Speaks, c.Why, rules)
		}
	}
}

func hold(t *testing.T, by map[string]Cause, rule string, want Speaks, part string) {
	t.Helper()
	c, ok := by[rule]
	if !ok || c.Speaks != want || !strings.Contains(c.Why, part) {
		t.Errorf("%s: %s, %q; want %s and %q", rule, c.Speaks, c.Why, want, part)
	}
}

// A sheet drained in a rush, shaken late, couched on a dry felt; then the same
// made with patience.
func TestRushedSheet(t *testing.T) {
	t.Parallel()
	rushed := Facts{
		Drain: new(measure.Minutes(0.4)), Held: new(measure.Minutes(0.1)), Shook: new(measure.Minutes(0.5)),
		FeltsDamp: new(false), DeckleRocks: new(true), Pulled: new(40), KissedOff: new(8),
	}
	a, by := answer(t, "one thick corner", rushed)
	first(t, a, "lifted-early")
	hold(t, by, "lifted-early", For, "held level for 6 s and the stock takes 24 s to drain")
	a, _ = answer(t, "bald patches when shaking too hard", rushed)
	first(t, a, "shook-late")
	a, _ = answer(t, "ragged edge", rushed)
	first(t, a, "deckle-loose", "lifted-early")
	a, _ = answer(t, "air bubbles", rushed)
	first(t, a, "felts-dry")
	if !slices.ContainsFunc(a.Count, func(s string) bool { return strings.Contains(s, "8 of 40 pulls kissed off, 20 %") }) {
		t.Errorf("kissed-off pulls are not counted: %q", a.Count)
	}

	patient := Facts{
		Drain: new(measure.Minutes(0.2)), Held: new(measure.Minutes(0.5)), Shook: new(measure.Minutes(0.08)),
		FeltsDamp: new(true), DeckleRocks: new(false), Across: new(measure.Share(0.12)),
	}
	a, by = answer(t, "one thick corner", patient)
	first(t, a, "not-level")
	hold(t, by, "lifted-early", Against, "held level for 30 s and the stock drains in 12 s")
	_, by = answer(t, "bald patch", patient)
	hold(t, by, "shook-late", Against, "")
	_, by = answer(t, "ragged edge", patient)
	hold(t, by, "deckle-loose", Against, "tight")
	_, by = answer(t, "bubbles", patient)
	hold(t, by, "felts-dry", Against, "damp")
}

// Long kozo on a coarse mesh; then on a mould of twice the mesh, which worked.
func TestKozoOnACoarseMesh(t *testing.T) {
	t.Parallel()
	f := Facts{
		Fibres: []string{"kozo"}, LongFibre: new(true), FibreLength: new(measure.Length(10)), MeshPerCm: new(measure.Number(8)),
		FormationAid: new(false), FeltsDamp: new(false),
	}
	a, by := answer(t, "A4 sheets clogged the mesh and stuck to the mould", f)
	if a.Symptom.Key != "sticks-to-mould" {
		t.Fatalf("found %s", a.Symptom.Key)
	}
	first(t, a, "coarse-mesh", "no-aid", "felts-dry", "long-cut")
	hold(t, by, "coarse-mesh", For, "8 wires to the cm, and long fibre (kozo)")
	for rule, word := range map[string]string{"coarse-mesh": "cover cloth", "no-aid": "formation aid", "felts-dry": "wetter", "long-cut": "shorter"} {
		if !strings.Contains(by[rule].Change, word) {
			t.Errorf("%s: the change %q does not speak of %s", rule, by[rule].Change, word)
		}
	}
	a, _ = answer(t, "huge air bubbles under the sheet", f)
	first(t, a, "felts-dry", "coarse-mesh", "no-aid", "long-cut")
	a, _ = answer(t, "it tore in couching", f)
	first(t, a, "coarse-mesh", "felts-dry", "no-aid")

	f.MeshPerCm, f.FormationAid, f.FeltsDamp, f.FibreLength = new(measure.Number(16)), new(true), new(true), new(measure.Length(3))
	a, by = answer(t, "stuck to the mould", f)
	for _, rule := range []string{"coarse-mesh", "no-aid", "felts-dry", "long-cut"} {
		hold(t, by, rule, Against, "")
	}
	if a.Causes[0].Speaks != Open {
		t.Errorf("%s is first, %s", a.Causes[0].Rule, a.Causes[0].Speaks)
	}
	_, by = answer(t, "stuck to the mould", Facts{LongFibre: new(false), MeshPerCm: new(measure.Number(8))})
	hold(t, by, "coarse-mesh", Against, "no long fibre")
}

// The first two sheets of each run go wrong, pulp clings to the watermark, the
// pulp was beaten almost five hours, the sheets are thin and twelve a day.
func TestSlowWatermarkedSheets(t *testing.T) {
	t.Parallel()
	f := Facts{
		BeatingHours: new(measure.Hours(4.9)), MinutesASheet: new(measure.Minutes(22)), Grammage: new(measure.GrammageConditioned(30)),
		FirstBad: new(2), Wanted: new(12), Pulled: new(14),
	}
	a, by := answer(t, "first two sheets always go wrong", f)
	first(t, a, "warm-up", "slow-stock")
	if a.Causes[0].Rule != "warm-up" {
		t.Errorf("%s is first", a.Causes[0].Rule)
	}
	hold(t, by, "warm-up", For, "2 in a row")
	for _, want := range []string{"2 warm-up sheets at the start of each run: pull at least 14 for 12", "2.73 sheets an hour, and 12 sheets take 4.4 h"} {
		if !slices.ContainsFunc(a.Count, func(s string) bool { return strings.Contains(s, want) }) {
			t.Errorf("%q lacks %q", a.Count, want)
		}
	}
	a, _ = answer(t, "drains slowly", f)
	first(t, a, "long-beaten")
	a, _ = answer(t, "pulp clung to the watermark wires", f)
	first(t, a, "thin-lay", "warm-up")

	f = Facts{BeatingHours: new(measure.Hours(1)), Drain: new(measure.Minutes(0.2)), FirstBad: new(0), Grammage: new(measure.GrammageConditioned(120)), FormationAid: new(true)}
	a, by = answer(t, "first two sheets always go wrong", f)
	hold(t, by, "warm-up", Against, "0")
	if len(a.Count) != 0 {
		t.Errorf("nothing to count with, and yet %q", a.Count)
	}
	a, by = answer(t, "drains slowly", f)
	first(t, a, "aid-on")
	hold(t, by, "long-beaten", Against, "1 h only")
}

func TestMakings(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		symptom string
		facts   Facts
		first   string
		why     string
	}{
		"a vat of six percent": {"sheets come thin later in the run", Facts{Thinning: new(measure.Share(0.06)), RechargeEvery: new(5)}, "vat-thins",
			"thins by 6 % a sheet here and was recharged every 5: sheet 5 of a round lies 21.9 % below"}, // 1 − 0.94⁴
		"a vat never recharged": {"thinner later", Facts{Thinning: new(measure.Share(0.062)), RechargeEvery: new(0), Pulled: new(10)}, "vat-thins",
			"was not recharged: sheet 10 of a round lies 43.8 % below"}, // 1 − 0.938⁹
		"doses too small": {"thinner later", Facts{Thinning: new(measure.Share(0.03)), RechargeEvery: new(1), LateWeight: new(measure.Share(-0.2))}, "recharge-weak",
			"20 % less"},
		"recycled, no long fibre": {"brittle and crisp", Facts{RecycledShare: new(measure.Share(1)), LongShare: new(measure.Share(0)), Blender: new(true)}, "short-recycled",
			"100 %"},
		"recycled, beaten long": {"brittle", Facts{RecycledShare: new(measure.Share(1)), BeatingHours: new(measure.Hours(6))}, "long-beaten", "6 h"},
		"the jack broke": {"dryer takes too long", Facts{Solids: new(measure.Solids(0.25))}, "underpressed",
			"25 % solids: 1.62 times the water"}, // (1/0.25 − 1)/(1/0.35 − 1)
		"pressed hard":      {"too hard", Facts{Pressure: new(measure.Pressure(1280))}, "high-pressure", "1280 kPa"},
		"sized, on mirror":  {"stuck to the mirror", Facts{InternalSize: new(true), Drying: Board}, "size-on-glass", "size went into the stock"},
		"vat water a week":  {"finished sheets smell", Facts{WetHours: new(measure.Hours(168))}, "stood-wet", "168 h"},
		"warm pail":         {"pulp went off", Facts{WetTemperature: new(measure.Temperature(20))}, "warm-stock", "20 °C"},
		"high-shrink, free": {"cockles", Facts{Drying: Loft, BeatingHours: new(measure.Hours(9.25))}, "free-dried", "hung"},
		"fines lost":        {"too thin", Facts{MeshPerCm: new(measure.Number(8)), LongFibre: new(false)}, "open-mesh", "8 wires"},
		"polyester":         {"felt marks", Facts{SyntheticFelts: new(true)}, "synthetic-felt", "synthetic"},
		"thirty in a post":  {"too wet", Facts{SheetsInPost: new(30)}, "tall-post", "30 sheets"},
		"crowded":           {"cloudy", Facts{Crowding: new(measure.Number(110))}, "crowded", "110"},
		"waterleaf":         {"ink bleeds", Facts{InternalSize: new(false), SurfaceSize: new(false)}, "unsized", "neither"},
		"young size":        {"ink bleeds", Facts{InternalSize: new(true), CuredDays: new(measure.Days(3))}, "size-not-cured", "3 days"},
		"denim":             {"rust spots", Facts{Fibres: []string{"abaca", "denim rag"}}, "metal-in-rag", "denim rag"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			a, by := answer(t, c.symptom, c.facts)
			if a.Causes[0].Rule != c.first {
				t.Errorf("%s is first, want %s", a.Causes[0].Rule, c.first)
			}
			hold(t, by, c.first, For, c.why)
		})
	}
}

// The same symptom with the opposite fact: the cause goes last.
func TestOppositeFactsTurnTheOrder(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		symptom, rule string
		facts         Facts
	}{
		{"thinner later", "vat-thins", Facts{Thinning: new(measure.Share(0.01)), RechargeEvery: new(2)}},
		{"too wet", "underpressed", Facts{Solids: new(measure.Solids(0.38))}},
		{"brittle", "high-pressure", Facts{Pressure: new(measure.Pressure(300))}},
		{"sticks to glass", "size-on-glass", Facts{InternalSize: new(false), Drying: Board}},
		{"sticks to glass", "size-on-glass", Facts{InternalSize: new(true), Drying: Stack}},
		{"smell", "stood-wet", Facts{WetHours: new(measure.Hours(12))}},
		{"cockles", "free-dried", Facts{Drying: Stack}},
		{"feathering", "unsized", Facts{SurfaceSize: new(true)}},
		{"rust", "metal-in-rag", Facts{Fibres: []string{"cotton linters"}}},
		{"brittle", "short-recycled", Facts{RecycledShare: new(measure.Share(0))}},
	} {
		a, by := answer(t, c.symptom, c.facts)
		hold(t, by, c.rule, Against, "")
		if last := a.Causes[len(a.Causes)-1]; last.Speaks != Against {
			t.Errorf("%s: %s is last, %s", c.symptom, last.Rule, last.Speaks)
		}
	}
}

// Sheets for a wedding stationer, made in several batches from scrap of mixed
// colours: what helps is to blend all of it dry first, weigh equal portions,
// and keep a swatch of each batch.
func TestColourOfSeveralBatches(t *testing.T) {
	t.Parallel()
	a, _ := answer(t, "the colours of my batches are not the same", Facts{Coloured: new(true), RetentionAid: new(true)})
	if a.Symptom.Key != "colour-differs" {
		t.Fatalf("understood as %q", a.Symptom.Name)
	}
	var changes []string
	for _, c := range a.Causes {
		changes = append(changes, c.Change)
	}
	all := strings.Join(changes, "\n")
	for _, want := range []string{"blend it dry", "equal portions", "swatch of each"} {
		if !strings.Contains(all, want) {
			t.Errorf("no change says %q", want)
		}
	}
}
