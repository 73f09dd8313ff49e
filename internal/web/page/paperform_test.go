package page_test

import (
	"net/url"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/sheet"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// aDesign draws a design with all a form can say of it, in digits that no blank
// shows.
func aDesign(t *rapid.T) (plan.Paper, plan.Sheet) {
	maybe := func(label string, low, high float64) *float64 {
		if !rapid.Bool().Draw(t, label+" said") {
			return nil
		}
		v := rapid.Float64Range(low, high).Draw(t, label)
		return &v
	}
	word := func(label string, options []part.Option) string {
		list := []string{""}
		for _, o := range options {
			list = append(list, o.Value)
		}
		return rapid.SampledFrom(list).Draw(t, label)
	}
	d := plan.Paper{
		Use: word("use", page.Uses()), Drying: word("drying", page.Dryings), Forming: word("forming", page.Formings),
		GrammageConditioned: rapid.Float64Range(10, 400).Draw(t, "grammage"),
		TolerancePct:        maybe("tolerance", 1, 30), ShareWithinPct: maybe("within", 50, 99),
		BeatingHours: maybe("beating", 0, 20), PourG: maybe("pour", 1, 90), Finish: rapid.SampledFrom([]string{"", "laid"}).Draw(t, "finish"),
	}
	if rapid.Bool().Draw(t, "dipped") {
		n := rapid.IntRange(1, 60).Draw(t, "dips")
		d.Dips = &n
	}
	sh := plan.Sheet{
		LongMM: rapid.Float64Range(50, 900).Draw(t, "long"), ShortMM: rapid.Float64Range(50, 900).Draw(t, "short"),
		Edges: word("edges", page.Edges), Shape: word("shape", page.Shapes()), ToleranceMM: maybe("play", 0, 9),
	}
	if sh.Edges == "trimmed" {
		sh.TrimMM = maybe("trim", 1, 20)
	}
	if sh.Shape == sheet.Odd {
		sh.FillsPct = maybe("fills", 1, 100)
	}
	if d.SurfaceSize = word("surface", page.Surfaces()); d.SurfaceSize != "" {
		d.SurfaceBathPct, d.SurfaceWay = maybe("bath", 0.5, 10), word("way", page.Ways())
	}
	return d, sh
}

func speech(t *rapid.T) part.Speech {
	return part.Speech{System: rapid.SampledFrom([]measure.System{measure.Metric, measure.US}).Draw(t, "system")}
}

// A design that nobody touched is read as it is, to the last digit, whatever its
// blanks show; and so is all of it that a form does not ask for.
func TestAnUntouchedDesignStays(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		d, sh := aDesign(t)
		s := speech(t)
		var was page.Form
		was.FillDesign(s, d, sh)
		typed := page.Form{Values: url.Values{}}
		for name := range was.Values {
			if rapid.Bool().Draw(t, name+" asked") {
				typed.Fill(name, was.Get(name))
			}
		}
		typed.FillDesign(s, d, sh)
		gotD, gotS := d, sh
		page.ReadOver(&typed, &was, s).Design(&gotD, &gotS)
		if !reflect.DeepEqual(gotD, d) || !reflect.DeepEqual(gotS, sh) || len(typed.Faults) > 0 {
			t.Errorf("%+v %+v\nis read as\n%+v %+v: %v", d, sh, gotD, gotS, typed.Faults)
		}
	})
}

// What is changed is read, and takes along what goes with it.
func TestADesignIsRead(t *testing.T) {
	t.Parallel()
	bath, trim := 4.0, 12.0
	d := plan.Paper{GrammageConditioned: 100, SurfaceSize: "gelatin", SurfaceBathPct: &bath, SurfaceWay: "brushed"}
	sh := plan.Sheet{LongMM: 297, ShortMM: 210, Edges: "trimmed", TrimMM: &trim}
	var was page.Form
	s := part.Speech{System: measure.Metric}
	was.FillDesign(s, d, sh)
	for _, c := range []struct {
		typed map[string]string
		wrong string
		want  func(d *plan.Paper, sh *plan.Sheet)
	}{
		{map[string]string{"shape": "round", "size": "25 cm"}, "", func(_ *plan.Paper, sh *plan.Sheet) { sh.Shape, sh.LongMM, sh.ShortMM = "round", 250, 250 }},
		{map[string]string{"size": "25 cm"}, "size", nil},
		{map[string]string{"grammage": ""}, "grammage", nil},
		{map[string]string{"edges": "deckle"}, "", func(_ *plan.Paper, sh *plan.Sheet) { sh.Edges, sh.TrimMM = "deckle", nil }},
		{map[string]string{"surface": ""}, "", func(d *plan.Paper, _ *plan.Sheet) { d.SurfaceSize, d.SurfaceBathPct, d.SurfaceWay = "", nil, "" }},
		{map[string]string{"surface": "", "way": "dipped"}, "way", nil},
		{map[string]string{"forming": "several dips", "dips": "3"}, "", func(d *plan.Paper, _ *plan.Sheet) { n := 3; d.Forming, d.Dips = "several dips", &n }},
		{map[string]string{"dips": "a few"}, "dips", nil},
	} {
		typed := page.Form{Values: url.Values{}}
		for name, v := range c.typed {
			typed.Fill(name, v)
		}
		typed.FillDesign(s, d, sh)
		gotD, gotS := d, sh
		page.ReadOver(&typed, &was, s).Design(&gotD, &gotS)
		if c.wrong != "" {
			if len(typed.Faults) != 1 || typed.Faults[0].Field != c.wrong {
				t.Errorf("%v: want a fault at %s, got %v", c.typed, c.wrong, typed.Faults)
			}
			continue
		}
		wantD, wantS := d, sh
		c.want(&wantD, &wantS)
		if !reflect.DeepEqual(gotD, wantD) || !reflect.DeepEqual(gotS, wantS) || len(typed.Faults) > 0 {
			t.Errorf("%v is read as\n%+v %+v: %v", c.typed, gotD, gotS, typed.Faults)
		}
	}
}

// Every design is said in the same lines, so that two stand beside each other.
func TestDesignsAreSaidInTheSameLines(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		d, sh := aDesign(t)
		s := speech(t)
		plain := page.SaidDesign(s, plan.Paper{}, plan.Sheet{})
		said := page.SaidDesign(s, d, sh)
		for i, line := range said {
			if line.Name != plain[i].Name || line.Value == "" && line.Name != "Furnish" {
				t.Errorf("%q says %q where another says %q", line.Name, line.Value, plain[i].Name)
			}
			if line.Usual && line.Value != plain[i].Value {
				t.Errorf("%q counts as usual, %q", line.Name, line.Value)
			}
		}
		if len(said) != len(plain) {
			t.Errorf("%d lines, of another design %d", len(said), len(plain))
		}
	})
}

// Additives are read as they are written.
func TestAdditivesAreReadAsWritten(t *testing.T) {
	t.Parallel()
	names := []string{"calcium carbonate", "AKD", "PEO", "iron 57 red", "tororo-aoi"}
	rapid.Check(t, func(t *rapid.T) {
		tenths := func(label string) float64 { return float64(rapid.IntRange(1, 600).Draw(t, label)) / 10 }
		list := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) plan.Additive {
			a := plan.Additive{Kind: rapid.SampledFrom(names).Draw(t, "kind")}
			switch rapid.IntRange(0, 2).Draw(t, "measure") {
			case 0:
				a.DosePct = tenths("dose")
			case 1:
				a.DoseMLL = tenths("dose")
			default:
				a.DosePct, a.DoseMLL = tenths("per cent"), tenths("mL/L")
			}
			if rapid.Bool().Draw(t, "product") {
				v := tenths("strength")
				a.StrengthPct = &v
			}
			return a
		}), 1, 4).Draw(t, "additives")
		written := page.WriteAdditives(list)
		got, err := page.ReadAdditives("additives", written)
		if err != nil || !reflect.DeepEqual(got, list) {
			t.Errorf("%q is read as %+v: %v", written, got, err)
		}
	})
}
