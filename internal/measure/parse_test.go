package measure

import (
	"math"
	"strings"
	"testing"

	"vatside/internal/fault"
)

// Sizes by definition: 1 in = 25.4 mm and 1 lb = 453.59237 g exactly
// (inch-pound-1959), 1 US gallon = 231 in³ = 3.785411784 L (us-gallon), an
// imperial gallon 4.54609 L (definition).
func TestParse(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind Kind
		text string
		sys  System
		want float64
	}{
		{OfMass, "12 oz", Metric, 340.19427750},
		{OfMass, "1/2 lb", Metric, 226.796185},
		{OfMass, "1 lb 4 oz", US, 566.99046250},
		{OfMass, "1lb4oz", US, 566.99046250},
		{OfMass, "2 lb 3", US, 992.23330938},
		{OfMass, "3 lbs.", US, 1360.77711},
		{OfMass, "450", Metric, 450},
		{OfMass, "16", US, 453.59237},
		{OfMass, "1,2 kg", Metric, 1200},
		{OfMass, "1,200 g", US, 1200},
		{OfMass, "12 400 g", Metric, 12400},
		{OfMass, "12\u202f400 g", Metric, 12400},
		{OfMass, "1,234.5 g", Metric, 1234.5},
		{OfMass, "1.234,5 g", Metric, 1234.5},
		{OfMass, "0,125 kg", Metric, 125},
		{OfMass, ".5 kg", US, 500},
		{OfLength, "8½\"", US, 215.9},
		{OfLength, "8 1/2 in", Metric, 215.9},
		{OfLength, "8-1/2 inches", Metric, 215.9},
		{OfLength, "17 3/16 in", Metric, 436.5625},
		{OfLength, "¾ in", US, 19.05},
		{OfLength, "22 in", Metric, 558.8},
		{OfLength, "22", US, 558.8},
		{OfLength, "22”", US, 558.8},
		{OfLength, "420 mm", US, 420},
		{OfLength, "42 cm", US, 420},
		{OfLength, "42CM", US, 420},
		{OfLength, "420", Metric, 420},
		{OfLength, "5' 3\"", US, 1600.2},
		{OfLength, "5 ft 3", US, 1600.2},
		{OfLength, "0.76 m", US, 760},
		{OfGrammage, "90 gsm", US, 90},
		{OfGrammage, "90 g/m2", Metric, 90},
		{OfGrammage, "90 g/m²", Metric, 90},
		{OfGrammage, "90", US, 90},
		{OfVolume, "2 US gal", Metric, 7.570823568},
		{OfVolume, "2 gal", US, 7.570823568},
		{OfVolume, "1 gal 2 qt", US, 5.678117676},
		{OfVolume, "2", US, 7.570823568},
		{OfVolume, "1.5 l", Metric, 1.5},
		{OfVolume, "1,5 l", Metric, 1.5},
		{OfVolume, "1,5 L", US, 1.5},
		{OfVolume, "500 mL", Metric, 0.5},
		{OfVolume, "3 cups", US, 0.709764710},
		{OfVolume, "5 imp gal", Metric, 22.73045},
		{OfSmallVolume, "8 fl oz", US, 236.5882365},
		{OfSmallVolume, "8 fl. oz.", US, 236.5882365},
		{OfSmallVolume, "0.5 L", Metric, 500},
		{OfSmallVolume, "250", Metric, 250},
		{OfTemperature, "20", Metric, 20},
		{OfTemperature, "68 °F", Metric, 20},
		{OfTemperature, "68", US, 20},
		{OfTemperature, "-40 F", Metric, -40},
		{OfTemperature, "−5 °C", US, -5},
		{OfTemperature, "23 degC", US, 23},
		{OfPercent, "80 %", Metric, 80},
		{OfPercent, "80%", US, 80},
		{OfPercent, "33,5", Metric, 33.5},
		{OfPercent, "12 per cent", Metric, 12},
		{OfNumber, "1/3", Metric, 1.0 / 3},
		{OfNumber, "-2.5", Metric, -2.5},
		{OfCount, "24", US, 24},
		{OfMinutes, "1 h 20", Metric, 80},
		{OfMinutes, "1h20", Metric, 80},
		{OfMinutes, "1:20", Metric, 80},
		{OfMinutes, "45", Metric, 45},
		{OfMinutes, "1 h 20 min", US, 80},
		{OfMinutes, "90 s", US, 1.5},
		{OfMinutes, "½ h", US, 30},
		{OfHours, "1 h 30", Metric, 1.5},
		{OfHours, "2 days", Metric, 48},
		{OfHours, "8", Metric, 8},
		{OfDays, "36 h", Metric, 1.5},
		{OfDays, "2 days 12 h", Metric, 2.5},
		{OfPressure, "50 psi", Metric, 344.73786466},
		{OfPressure, "4 bar", US, 400},
		{OfForce, "20 tons", US, 177.92886461},
		{OfForce, "6 t", Metric, 58.8399},
		{OfAirflow, "100 cfm", Metric, 0.047194745},
		{OfArea, "5 sq ft", Metric, 0.4645152},
		{OfConsistency, "1 oz/US gal", Metric, 7.489151707},
		{OfAltitude, "1000 ft", Metric, 304.8},
		{OfRate, "1 lb/h", Metric, 0.45359237},
		{OfRate, "250 g/h", US, 0.25},
		{OfVolume, "2 pints", US, 0.946352946},
		{OfVolume, "1 qt", US, 0.946352946},
		{OfVolume, "2 imp pt", Metric, 1.1365225},
		{OfPressure, "25 inHg", US, 84.659725}, // 3.386389 kPa each, conventional
		{OfPressure, "0.4 MPa", Metric, 400},
		{OfForce, "83 lb", US, 0.36920239}, // 83 · 0.45359237 · 9.80665 N
		{OfForce, "100 kg", Metric, 0.980665},
		{OfDays, "2 weeks", Metric, 14},
		{OfDays, "1 week 2", Metric, 9},
		{OfArea, "144 sq in", Metric, 0.09290304},
		{OfArea, "1250 cm2", US, 0.125},
		{OfAirflow, "108 m3/h", Metric, 0.03},
		{OfAirflow, "30 L/s", Metric, 0.03},
		{OfMass, "250 mg", US, 0.25},
		{OfLength, "180 µm", Metric, 0.18},
		{OfLength, "8 pt", Metric, 0.2032},
		{OfCaliper, "8 pt", US, 0.2032},
		{OfCaliper, "0.008", US, 0.2032},
		{OfCaliper, "8 mil", Metric, 0.2032},
		{OfCaliper, "0,2", Metric, 0.2},
		{OfGrammage, "60 lb text", Metric, 88.808789008}, // 60 · 453.59237 / (500 · 950 · 0.00064516)
		{OfGrammage, "60# text", Metric, 88.808789008},
		{OfGrammage, "60 lbs. text", Metric, 88.808789008},
		{OfGrammage, "60#book", US, 88.808789008},
		{OfGrammage, "24 lb bond paper", US, 90.2335289376},
		{OfGrammage, "80# cover", US, 216.32910141},
		{OfGrammage, "140 lb watercolour", Metric, 298.27194289},
		{OfGrammage, "140 lb watercolor", Metric, 298.27194289},
		{OfMass, "2 short tons", Metric, 1814369.48},
		{OfMass, "2 tons", US, 1814369.48},
		{OfMass, "1 long ton", US, 1016046.9088},
		{OfMass, "1.5 tonnes", US, 1500000},
		{OfForce, "1 long ton", Metric, 9.9640164182},
		{OfVolume, "1 imp fl oz", Metric, 0.0284130625},
		{OfSmallVolume, "1 imp qt", US, 1136.5225},
		{OfSmallVolume, "2 metric cups", US, 500},
		{OfSmallVolume, "1 tbsp", US, 14.78676478},
		{OfSmallVolume, "1 metric tbsp", US, 15},
		{OfSmallVolume, "2 tsp", US, 9.857843188},
		{OfSmallVolume, "2 metric teaspoons", Metric, 10},
		{OfPressure, "25 inHg vacuum", Metric, 84.659725},
		{OfPressure, "12 psi vacuum", Metric, 82.73708752},
	} {
		got, err := Parse(c.kind, c.text, c.sys)
		if err != nil {
			t.Errorf("%s %q (%s): %v", c.kind, c.text, c.sys, err)
			continue
		}
		if math.Abs(got-c.want) > 1e-8*math.Max(1, math.Abs(c.want)) {
			t.Errorf("%s %q (%s) = %.10g, want %.10g", c.kind, c.text, c.sys, got, c.want)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind Kind
		text string
		sys  System
		says string // part of the sentence
	}{
		{OfMass, "", Metric, "450 g"},
		{OfMass, "   ", Metric, "450 g"},
		{OfMass, "NaN", Metric, "450 g"},
		{OfMass, "Inf", Metric, "450 g"},
		{OfMass, "+Inf g", US, "450 g"},
		{OfMass, "infinity kg", US, "450 g"},
		{OfNumber, "nan", US, "1.5"},
		{OfNumber, "1e3", US, "1.5"},
		{OfNumber, "0x10", US, "1.5"},
		{OfMass, "-5 g", Metric, "below zero"},
		{OfMass, "a handful", Metric, "450 g"},
		{OfMass, "450 gg", Metric, "450 g"},
		{OfMass, "2 cups", US, "weigh it"},
		{OfMass, "2 L", Metric, "weigh it"},
		{OfMass, "4 oz 1 lb", US, "450 g"},
		{OfMass, "4 oz 3", US, "450 g"},
		{OfMass, "1,500 g", Metric, "1.500 or 1500"},
		{OfMass, "1.5.5 g", Metric, "1234.5"},
		{OfMass, "370–460 g", Metric, "450 g"},
		{OfMass, "99999999999999999999999 g", Metric, "digits"},
		{OfMass, "9999999999999 kg", Metric, "larger"},
		{OfMass, strings.Repeat("1", 200), Metric, "450 g"},
		{OfVolume, "12 oz", US, "fl oz"},
		{OfVolume, "2 gal", Metric, "US gal"},
		{OfVolume, "3 cups", Metric, "US cups"},
		{OfLength, "20 x 30 in", US, "16 1/2 in"},
		{OfLength, "5 m2", Metric, "420 mm"},
		{OfLength, "1/0 in", US, "1/2"},
		{OfLength, "8 5/4 in", US, "under one"},
		{OfGrammage, "60 lb", US, "ream"},
		{OfGrammage, "20#", US, "ream"},
		{OfGrammage, "20 lb", US, "which basis"},
		{OfGrammage, "20 pounds", US, "which basis"},
		{OfGrammage, "8 pt", US, "thickness"},
		{OfMass, "8 pt", Metric, "thickness"},
		{OfMass, "8 points", US, "thickness"},
		{OfMass, "3 tbsp", US, "weigh it"},
		{OfMass, "1 t", US, "450 g"},
		{OfMass, "2 tons", Metric, "long tons"},
		{OfVolume, "2 lb", Metric, "a weight"},
		{OfSmallVolume, "3 tbsp", Metric, "metric tbsp"},
		{OfSmallVolume, "3 fl oz", Metric, "imp fl oz"},
		{OfPressure, "25 psi vacuum", US, "often read inHg"},
		{OfPressure, "31 inHg vacuum", US, "one atmosphere"},
		{OfSheets, "2 reams", US, "480 or 500"},
		{OfSheets, "3 quires", Metric, "24 or 25"},
		{OfSheets, "2.5", Metric, "whole"},
		{OfCaliper, "80 gsm", Metric, "8 pt"},
		{OfCount, "2.5", Metric, "whole"},
		{OfCount, "-3", Metric, "below zero"},
		{OfPercent, "80 g", Metric, "80 %"},
		{OfMinutes, "1:75", Metric, "45 min"},
		{OfForce, "20 tons", Metric, "US tons"},
		{OfTemperature, "20 C 5 F", Metric, "68 °F"},
		{Kind("colour"), "red", Metric, "not a kind"},
	} {
		v, err := Parse(c.kind, c.text, c.sys)
		if err == nil || v != 0 {
			t.Errorf("%s %q was read as %g", c.kind, c.text, v)
			continue
		}
		if fault.KindOf(err) != fault.KindInvalid || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s %q: %q (%v), want it to say %q", c.kind, c.text, err, fault.KindOf(err), c.says)
		}
		if strings.ContainsAny(err.Error(), "\n") || strings.HasSuffix(err.Error(), ".") {
			t.Errorf("%q is not one plain sentence", err)
		}
	}
}

// Every spelling of the vocabulary is read as its own unit.
func TestEverySpellingIsRead(t *testing.T) {
	t.Parallel()
	for kind, words := range vocabulary() {
		seen := map[string]bool{}
		for _, w := range words {
			if seen[w.text] {
				t.Errorf("%s: %q stands twice", kind, w.text)
			}
			seen[w.text] = true
			got, err := Parse(kind, "3 "+w.text, US)
			if want := w.unit.canonical(3); err != nil || math.Abs(got-want) > 1e-12*math.Abs(want) {
				t.Errorf("%s: 3 %s = %g, %v; want %g", kind, w.text, got, err, want)
			}
		}
	}
	for _, row := range Units() {
		if row.Factor <= 0 || row.In == "" {
			t.Errorf("%s %s has factor %g to %q", row.Kind, row.Name, row.Factor, row.In)
		}
	}
	for kind, f := range fields {
		for _, name := range []string{f.metric, f.us} {
			if _, ok := named(kind, name); name != "" && !ok {
				t.Errorf("%s: no unit %q", kind, name)
			}
		}
	}
	for _, u := range units {
		if _, ok := named(u.kind, u.next); u.next != "" && !ok {
			t.Errorf("%s goes on in unknown %q", u.name, u.next)
		}
	}
}

// The examples in the refusing sentences are themselves accepted.
func TestExamplesAreAccepted(t *testing.T) {
	t.Parallel()
	for kind, f := range fields {
		for _, example := range strings.Split(strings.ReplaceAll(f.examples, " or ", ", "), ", ") {
			for _, sys := range []System{Metric, US} {
				if _, err := Parse(kind, example, sys); err != nil {
					t.Errorf("%s: the example %q is refused: %v", kind, example, err)
				}
			}
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"12 oz", "8½\"", "1 h 20", "1,500", "-40 °F", "80 %", "1 lb 4 oz", "2 US gal", "1.234,5", "90 g/m²", "NaN", "1/0", "8 1/2 in"} {
		f.Add(s, uint8(3), true)
	}
	kinds := []Kind{OfNumber, OfCount, OfSheets, OfPercent, OfLength, OfCaliper, OfArea, OfMass, OfVolume, OfSmallVolume, OfGrammage, OfConsistency,
		OfTemperature, OfPressure, OfForce, OfAltitude, OfAirflow, OfRate, OfMinutes, OfHours, OfDays}
	f.Fuzz(func(t *testing.T, text string, k uint8, us bool) {
		kind, sys := kinds[int(k)%len(kinds)], Metric
		if us {
			sys = US
		}
		v, err := Parse(kind, text, sys)
		if err != nil {
			if v != 0 || fault.KindOf(err) != fault.KindInvalid || len(err.Error()) > 400 {
				t.Fatalf("%q: %g, %v", text, v, err)
			}
			return
		}
		if math.IsNaN(v) || math.Abs(v) > mostValue || v < 0 && !fields[kind].negative {
			t.Fatalf("%s %q was read as %g", kind, text, v)
		}
		if again, err := Parse(kind, text, sys); err != nil || again != v {
			t.Fatalf("%q is read as %g, then as %g, %v", text, v, again, err)
		}
	})
}
