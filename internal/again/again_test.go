package again_test

import (
	"math"
	"testing"

	"vatside/internal/again"
	"vatside/internal/figure"
	"vatside/internal/furnish"
	"vatside/internal/plan"
	"vatside/internal/studio"
)

func making() studio.Making {
	hours, bath, whole := 4.0, 5.0, 100.0
	return studio.Making{
		Request: plan.Request{
			Paper: plan.Paper{GrammageConditioned: 100, BeatingHours: &hours, SurfaceSize: "gelatin", SurfaceBathPct: &bath,
				Furnish: []plan.Part{{Fibre: "abaca", SharePct: 100}}, Additives: []plan.Additive{{Kind: "calcium carbonate", DosePct: 3, StrengthPct: &whole}}},
			Sheet: plan.Sheet{LongMM: 500, ShortMM: 400},
		},
		Plan: plan.Plan{Figures: map[string]figure.Figure{"fibre_bone_dry_g": {Value: 900}, "fibre_air_dry_g": {Value: 1000}}},
	}
}

func said(list []again.Differing) map[string]float64 {
	out := map[string]float64{}
	for _, d := range list {
		out[d.Key] = d.Made
	}
	return out
}

// Ten sheets of 0.2 m² weigh 224 g at 50 % humidity: 112 g/m². 2 kg of fibre as
// it lay hold 1.8 kg; 90 g of chalk, all of it chalk, on that is 5 %.
func TestDiffersByHand(t *testing.T) {
	t.Parallel()
	s := studio.State{FibreG: 2000, Dry: []studio.WeighedDry{{Sheets: 10, Grams: 224, RHPct: 50}}}
	s.Added = []studio.Added{{What: "calcium carbonate", Grams: 60}, {What: "Calcium Carbonate", Grams: 30}, {What: "petals", Grams: 10}}
	s.Beats = []studio.BeatSeen{{BeatReading: studio.BeatReading{Load: 1, Hours: 4.5}}, {BeatReading: studio.BeatReading{Load: 2, Hours: 5.5}}, {BeatReading: studio.BeatReading{Load: 2, Hours: 2}}}
	s.Sized = []studio.Sized{{DryG: 10, WetG: 20, BathPct: 3}, {DryG: 10, WetG: 20}}
	m := making()
	got := said(again.Differs(m, s))
	want := map[string]float64{again.KeyGrammage: 112, again.KeyBeating: 5, again.KeyBath: 3, again.KeyAdditive + "calcium carbonate": 5}
	if len(got) != len(want) {
		t.Fatalf("differs %v, want %v", got, want)
	}
	for k, v := range want {
		if math.Abs(got[k]-v) > 1e-9 {
			t.Errorf("%s is %g, want %g", k, got[k], v)
		}
	}
	d := again.Made(m, again.Differs(m, s))
	if d.GrammageConditioned != 112 || *d.BeatingHours != 5 || *d.SurfaceBathPct != 3 || d.Additives[0].DosePct != 5 {
		t.Errorf("made again as %+v", d)
	}
	if was := m.Request.Paper; was.GrammageConditioned != 100 || *was.BeatingHours != 4 || was.Additives[0].DosePct != 3 {
		t.Errorf("the making itself was changed: %+v", was)
	}
}

// What is within what a scale or a clock can tell is no difference; a load last
// looked at before its time says nothing; nothing recorded, nothing differs.
func TestNoDifference(t *testing.T) {
	t.Parallel()
	s := studio.State{Dry: []studio.WeighedDry{{Sheets: 10, Grams: 204, RHPct: 50}}}
	s.Beats = []studio.BeatSeen{{BeatReading: studio.BeatReading{Load: 1, Hours: 3}}}
	s.Sized = []studio.Sized{{DryG: 10, WetG: 20, BathPct: 5.1}}
	s.Added = []studio.Added{{What: "calcium carbonate", Grams: 27.5}}
	if got := said(again.Differs(making(), s)); len(got) != 0 {
		t.Errorf("differs: %v", got)
	}
	if got := again.Differs(making(), studio.State{}); len(got) != 0 {
		t.Errorf("an empty record differs: %v", got)
	}
}

// A fibre beaten by itself goes by its own hours: its loads say nothing of the
// design's. Two loads together were beaten 6 h, one of cotton for its own 2 h.
func TestBeatenApart(t *testing.T) {
	t.Parallel()
	m, own := making(), 2.0
	m.Request.Paper.Furnish = []plan.Part{{Fibre: "abaca", SharePct: 60}, {Fibre: "cotton linters", SharePct: 40, BeatingHours: &own}}
	m.Plan.Loads = []plan.Load{{Batch: "abaca", Loads: 2, Hours: 4}, {Batch: "cotton linters", Loads: 1, Hours: 2}}
	var s studio.State
	for load, h := range []float64{6, 6, 2} {
		s.Beats = append(s.Beats, studio.BeatSeen{BeatReading: studio.BeatReading{Load: load + 1, Hours: h}})
	}
	if got := said(again.Differs(m, s))[again.KeyBeating]; got != 6 {
		t.Errorf("beaten %g h, want 6", got)
	}
	s.Beats = s.Beats[2:]
	s.Beats[0].Hours = 9
	if got := said(again.Differs(m, s)); len(got) != 0 {
		t.Errorf("a load of its own hours differs: %v", got)
	}
}

// What was put in twice, once by the spoon, has no dose.
func TestPutInUnweighed(t *testing.T) {
	t.Parallel()
	for _, list := range [][]studio.Added{
		{{What: "calcium carbonate", Grams: 60}, {What: "calcium carbonate", ML: 200}},
		{{What: "calcium carbonate", ML: 200}, {What: "calcium carbonate", Grams: 60}},
	} {
		var s studio.State
		s.Added = list
		if got := again.Differs(making(), s); len(got) != 0 {
			t.Errorf("differs: %v", got)
		}
	}
}

// An additive that the design has not is added by the dose that was put in, and
// a wish that nothing was said of differs from what was measured.
func TestAdded(t *testing.T) {
	t.Parallel()
	m := making()
	m.Request.Paper.Additives, m.Request.Paper.SurfaceBathPct = nil, nil
	var s studio.State
	s.Added = []studio.Added{{What: "calcium carbonate", Grams: 18 / furnish.Any("calcium carbonate").Strength.Mid}}
	s.Sized = []studio.Sized{{DryG: 10, WetG: 20, BathPct: 4}}
	list := again.Differs(m, s)
	d := again.Made(m, list)
	if len(d.Additives) != 1 || d.Additives[0].DosePct != 2 || d.SurfaceBathPct == nil || *d.SurfaceBathPct != 4 {
		t.Errorf("%+v gives %+v", list, d)
	}
	for _, x := range list {
		if x.Said {
			t.Errorf("%s was never said", x.Key)
		}
	}
}
