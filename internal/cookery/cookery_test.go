package cookery

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"vatside/internal/cooking"
	"vatside/internal/fault"
	"vatside/internal/fibre"
)

var noon = time.Date(2030, 5, 3, 12, 0, 0, 0, time.UTC)

// memory is a store for tests; the file's own is tested through the pages.
type memory struct {
	cooks   []Cook
	entries []Entry
	safety  Safety
}

func (m *memory) Cooks(_ context.Context, id string) (list []Cook, _ error) {
	for _, c := range m.cooks {
		if id == "" || c.ID == id {
			list = append(list, c)
		}
	}
	return list, nil
}

func (m *memory) PutCook(_ context.Context, c Cook) error { m.cooks = append(m.cooks, c); return nil }

func (m *memory) Entries(_ context.Context, id string) (list []Entry, _ error) {
	for _, e := range m.entries {
		if id == "" || e.CookID == id {
			list = append(list, e)
		}
	}
	return list, nil
}

func (m *memory) Append(_ context.Context, e Entry) error {
	if slices.ContainsFunc(m.entries, func(o Entry) bool { return o.ID == e.ID }) {
		return nil
	}
	e.Seq = int64(len(m.entries) + 1)
	m.entries = append(m.entries, e)
	return nil
}

func (m *memory) Safety(context.Context) (Safety, error)      { return m.safety, nil }
func (m *memory) PutSafety(_ context.Context, f Safety) error { m.safety = f; return nil }

func iris(id string) Cook {
	return Cook{ID: id, Fibre: "iris leaf", DryG: 450, Alkali: cooking.SodaAsh, AlkaliPct: 20, SimmerC: 98,
		Present: []Heed{{Who: "me", Cautions: []string{"eye-soda"}}}, Begun: noon}
}

// at is an entry so many minutes after noon.
func at(id string, kind Kind, minutes int, b Body) Entry {
	return Entry{ID: id, CookID: "c", Kind: kind, Body: b, At: noon.Add(time.Duration(minutes) * time.Minute)}
}

// A cook on the flame for an hour, off it for one and on again for two took three
// hours, in whatever order the entries arrive.
func TestHoursOnTheFlame(t *testing.T) {
	t.Parallel()
	entries := []Entry{
		at("a", Simmer, 0, Body{}), at("b", Reading, 30, Body{TempC: new(96.0)}), at("c", Off, 60, Body{}), at("d", Simmer, 120, Body{}),
		at("e", Reading, 150, Body{TempC: new(98.0)}), at("f", Test, 180, Body{Passed: new(false)}), at("g", Test, 240, Body{Passed: new(true)}),
		at("h", Rinse, 300, Body{Litres: new(7.0), PH: new(8.0)}), at("i", Reading, 310, Body{TempC: new(20.0)}),
	}
	rapid.Check(t, func(t *rapid.T) {
		mixed := rapid.Permutation(entries).Draw(t, "order")
		for i := range mixed {
			mixed[i].Seq = int64(i + 1)
		}
		s := Replay(iris("c"), mixed)
		if math.Abs(float64(s.Hours)-3) > 1e-9 || math.Abs(s.TempC-97) > 1e-9 || s.Rinses != 1 || s.RinseL != 7 || s.Stage != "rinsing" || s.Parted != noon.Add(4*time.Hour) {
			t.Fatalf("%.4g h at %.4g °C, %d rinses, %s", float64(s.Hours), s.TempC, s.Rinses, s.Stage)
		}
	})
}

// A correction stands in the place of what was written, the last of several; one
// that strikes it out takes it away, and what was first written is kept.
func TestPutRight(t *testing.T) {
	t.Parallel()
	ctx := t.Context()
	s := New(&memory{}, func() time.Time { return noon })
	if err := s.Start(ctx, iris("c")); err != nil {
		t.Fatal(err)
	}
	for _, e := range []Entry{
		at("a", Simmer, 0, Body{}), at("b", Test, 60, Body{Passed: new(true)}),
		{ID: "x", CookID: "c", Kind: Correction, Corrects: "b", At: noon.Add(2 * time.Hour), Body: Body{Passed: new(true)}},
		{ID: "y", CookID: "c", Kind: Correction, Corrects: "b", At: noon.Add(3 * time.Hour), Body: Body{Passed: new(true)}},
		{ID: "y", CookID: "c", Kind: Correction, Corrects: "b", At: noon.Add(9 * time.Hour), Body: Body{Passed: new(true)}}, // sent twice
	} {
		if err := s.Append(ctx, e); err != nil {
			t.Fatal(err)
		}
	}
	_, state, err := s.Cook(ctx, "c")
	if err != nil || state.Hours != 3 || state.Lines[1].Was == nil || !state.Lines[1].Was.At.Equal(noon.Add(time.Hour)) {
		t.Errorf("%v h, %v", state.Hours, err)
	}
	if err := s.Append(ctx, Entry{ID: "z", CookID: "c", Kind: Correction, Corrects: "b", Body: Body{Struck: true}}); err != nil {
		t.Fatal(err)
	}
	if _, state, _ := s.Cook(ctx, "c"); !state.Parted.IsZero() || !state.Lines[1].Struck {
		t.Error("struck out it still counts")
	}
	for _, e := range []Entry{
		{ID: "n", CookID: "none", Kind: Simmer}, {ID: "n", CookID: "c", Kind: Correction, Corrects: "nothing"},
	} {
		if err := s.Append(ctx, e); fault.KindOf(err) != fault.KindNotFound {
			t.Errorf("%+v: %v", e, err)
		}
	}
}

// Nobody cooks without having read the cautions, and nothing is written that
// cannot be.
func TestRefused(t *testing.T) {
	t.Parallel()
	s := New(&memory{}, func() time.Time { return noon })
	for what, change := range map[string]func(*Cook){
		"nobody present":  func(c *Cook) { c.Present = nil },
		"not ticked":      func(c *Cook) { c.Present[0].Cautions = nil },
		"nothing to cook": func(c *Cook) { c.DryG = 0 },
		"no number":       func(c *Cook) { c.DryG = math.NaN() },
		"no alkali":       func(c *Cook) { c.Alkali = "wish" },
	} {
		c := iris("c")
		change(&c)
		if err := s.Start(t.Context(), c); err == nil {
			t.Errorf("%s: begun", what)
		}
	}
	for _, e := range []Entry{
		at("a", Reading, 0, Body{}), at("a", Reading, 0, Body{PH: new(15.0)}), at("a", Reading, 0, Body{TempC: new(math.Inf(1))}), at("a", Test, 0, Body{}),
		at("a", Ended, 0, Body{WetG: new(100.0)}), at("a", Ended, 0, Body{WetG: new(100.0), MoisturePct: new(100.0)}), at("a", Remark, 0, Body{}), at("a", "danced", 0, Body{}), at("", Simmer, 0, Body{}),
	} {
		if err := e.check(); err == nil {
			t.Errorf("%+v: taken", e)
		}
	}
	if err := (Safety{LowPH: new(9.0), HighPH: new(6.0)}).check(); err == nil {
		t.Error("limits upside down are taken")
	}
}

// simulated is a studio whose iris yields and hours are its own, with so many
// cooks.
func simulated(t testing.TB, cooks int, yield func() float64, hours func() float64) Known {
	t.Helper()
	m := &memory{}
	s := New(m, func() time.Time { return noon })
	for i := range cooks {
		c := iris(fmt.Sprint("c", i))
		m.cooks = append(m.cooks, c)
		wet := c.DryG * yield() / 0.15
		for _, e := range []Entry{
			at(c.ID+"a", Simmer, 0, Body{}), {ID: c.ID + "b", Kind: Test, At: noon.Add(time.Duration(hours() * float64(time.Hour))), Body: Body{Passed: new(true)}},
			at(c.ID+"c", Ended, 900, Body{WetG: &wet, MoisturePct: new(85.0), How: ByTest}),
		} {
			e.CookID = c.ID
			if err := s.Append(t.Context(), e); err != nil {
				t.Fatal(err)
			}
		}
	}
	k, err := s.Known(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// In simulated studios the band of the next cook's yield and hours, meant for
// nine in ten, holds about nine in ten, and is narrower than the handbook's.
func TestNextCookIsKnownBetter(t *testing.T) {
	t.Parallel()
	f, _ := fibre.Get("iris leaf")
	soda, _ := cooking.GetAlkali(cooking.SodaAsh)
	r := rand.New(rand.NewPCG(6, 11))
	logit := func(v float64) float64 { return math.Log(v / (1 - v)) }
	back := func(x float64) float64 { return 1 / (1 + math.Exp(-x)) }
	spread := (logit(f.Yield.High) - logit(f.Yield.Low)) / (2 * 1.645)
	const studios = 300
	heldYield, heldHours, narrower := 0, 0, 0
	for range studios {
		own := logit(f.Yield.Mid) + spread*math.Sqrt(1-yieldWithin)*r.NormFloat64()
		yield := func() float64 { return back(own + spread*math.Sqrt(yieldWithin)*r.NormFloat64()) }
		takes := 3 * math.Exp(0.3*r.NormFloat64())
		hours := func() float64 { return takes * math.Exp(0.2*r.NormFloat64()) }
		k := simulated(t, 5, yield, hours)
		l := k.Yield(f)
		if v := yield(); v >= l.Now.Low && v <= l.Now.High {
			heldYield++
		}
		if l.Now.High-l.Now.Low < l.Prior.High-l.Prior.Low {
			narrower++
		}
		_, law, seen, err := k.Hours(f, soda)
		if err != nil || len(seen) != 5 {
			t.Fatalf("%d cooks seen, %v", len(seen), err)
		}
		v, err := HoursAt(law, len(seen), 98, 0.2)
		if err != nil {
			t.Fatal(err)
		}
		if h := hours(); h >= v.Low && h <= v.High {
			heldHours++
		}
	}
	for what, held := range map[string]int{"yields": heldYield, "hours": heldHours} {
		if share := float64(held) / studios; share < 0.84 || share > 0.99 {
			t.Errorf("the band of the next cook's %s holds %.0f of 100", what, 100*share)
		}
	}
	if narrower < studios*3/4 {
		t.Errorf("only %d of %d bands of yield are narrower than the handbook's", narrower, studios)
	}
}

// A cook in a second liquor, or of another alkali, says nothing of the hours.
func TestWhatTeachesNoHours(t *testing.T) {
	t.Parallel()
	f, _ := fibre.Get("iris leaf")
	s := New(&memory{cooks: []Cook{iris("c")}}, func() time.Time { return noon })
	for _, e := range []Entry{at("a", Simmer, 0, Body{}), at("b", Second, 120, Body{}), at("d", Test, 240, Body{Passed: new(true)})} {
		if err := s.Append(t.Context(), e); err != nil {
			t.Fatal(err)
		}
	}
	k, err := s.Known(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{cooking.SodaAsh, cooking.Lye} {
		a, _ := cooking.GetAlkali(name)
		if _, _, seen, err := k.Hours(f, a); err != nil || len(seen) != 0 {
			t.Errorf("%s: %d cooks, %v", name, len(seen), err)
		}
	}
	if k.Yield(f).Changed() {
		t.Error("a batch that was not weighed taught a yield")
	}
}

// Kozo by hand: a sheet of A4 at 40 g/m² that holds 8 % of water on its dry mass
// is 2.31 g dry; twenty with a fifth lost are 57.8 g of pulp; by halves, 57 and
// 15 per cent that is 116 g of white bark, 203 g of black, 1.35 kg of green stem.
// What is cut for sheets makes them.
func TestThereAndBack(t *testing.T) {
	t.Parallel()
	f, _ := fibre.Get("kozo")
	want := Harvest{Fibre: f, Yield: f.Yield, Sheets: 20, Paper: Paper{LongMM: 297, ShortMM: 210, Grammage: 40, SharePct: 100}}
	c, err := want.Chain()
	if err != nil {
		t.Fatal(err)
	}
	for key, by := range map[string]float64{"sheet_dry_g": 2.31, "pulp_g": 57.8, "pot_dry_g": 57.8 / f.Yield.Mid, "fresh_g": 57.8 / f.Yield.Mid / 0.57 / 0.15} {
		got := c.Figures[key]
		if math.Abs(got.Value/by-1) > 0.01 || len(got.Sum) == 0 {
			t.Errorf("%s: %g, by hand %g", key, got.Value, by)
		}
	}
	have := want
	have.Sheets, have.Stage, have.AmountG = 0, Fresh, c.Figures["fresh_g"].Value
	back, err := have.Chain()
	if n := back.Figures["sheets"].Value; err != nil || n < 19 || n > 20 {
		t.Errorf("what is cut for 20 sheets makes %g, %v", n, err)
	}
	if low, high := back.Figures["pulp_g"].Low, back.Figures["pulp_g"].High; !(low < 57.8 && high > 57.8 && high/low > 1.2) {
		t.Errorf("the band of the pulp is %g to %g", low, high)
	}
}

// Whatever is asked, each step leaves no more than the one before.
func TestChainLosesOnly(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		f, _ := fibre.Get(rapid.SampledFrom([]string{"kozo", "iris leaf", "daylily", "nettle", "straw", "yucca"}).Draw(t, "plant"))
		h := Harvest{Fibre: f, Yield: f.Yield, Stage: rapid.SampledFrom([]Stage{Fresh, Dry, ForPot}).Draw(t, "stage"), AmountG: rapid.Float64Range(1, 1e5).Draw(t, "amount"),
			LeftPct: rapid.Float64Range(0, 20).Draw(t, "left"), Paper: Paper{LongMM: 300, ShortMM: 200, Grammage: rapid.Float64Range(10, 300).Draw(t, "grammage"), SharePct: rapid.Float64Range(1, 100).Draw(t, "share")}}
		if rapid.Bool().Draw(t, "tested") {
			h.Solids = new(rapid.Float64Range(0.05, 0.95).Draw(t, "solids"))
		}
		c, err := h.Chain()
		if err != nil {
			if fault.KindOf(err) != fault.KindInvalid && fault.KindOf(err) != fault.KindOutOfRange {
				t.Fatal(err)
			}
			return
		}
		most := h.AmountG
		for _, key := range []string{"fresh_g", "dry_plant_g", "pot_dry_g", "pulp_g"} {
			if v, ok := c.Figures[key]; ok {
				if v.Value > most*(1+1e-9) || !(v.Value >= 0) {
					t.Fatalf("%s is %g of %g", key, v.Value, most)
				}
				most = v.Value
			}
		}
		if n := c.Figures["sheets"].Value; n*c.Figures["sheet_dry_g"].Value > c.Figures["pulp_g"].Value*(1+1e-9) {
			t.Fatalf("%g sheets of %g g out of %g g", n, c.Figures["sheet_dry_g"].Value, c.Figures["pulp_g"].Value)
		}
	})
	for _, h := range []Harvest{{AmountG: math.NaN()}, {AmountG: math.Inf(1)}, {AmountG: -3}, {AmountG: 100, Stage: Fresh}, {Sheets: 5}} {
		h.Fibre = fibre.Fibre{Name: "a plant of nobody's"}
		if _, err := h.Chain(); err == nil {
			t.Errorf("%+v: answered", h)
		}
	}
}

// What the drain takes is the studio's own once it was asked, else none is said.
func TestLimits(t *testing.T) {
	t.Parallel()
	if (Safety{}).Limits().Said {
		t.Error("nobody was asked")
	}
	l := Safety{LowPH: new(6.5), HighPH: new(10.0)}.Limits()
	if !l.Said || l.Low != 6.5 || l.High != 10 {
		t.Errorf("%+v", l)
	}
}
