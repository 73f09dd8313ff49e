package plan

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/sheet"
)

// Words a request may use where it must choose.
var (
	Formings = []string{"western", "several dips", "poured"}
	Edges    = []string{"deckle", "trimmed"}
	Faces    = []string{"wove", "laid"}

	BeaterKinds = []string{"beater", "blender"}
	PressKinds  = []string{"jack", "screw", "lever", "weights", "vacuum table"}
)

// MostGood is the most good sheets one making is planned for; ours: a year of
// days at the vat.
const MostGood = 20_000

// span is the range a number must lie in, with its unit for the sentence.
type span struct {
	low, high float64
	unit      string
}

// Check returns every fault of the request, each with the path of its key and
// one sentence that says what would be right; nil when there is none.
func Check(r Request) error {
	var l fault.List
	shelf, err := fibre.NewShelf(r.Studio.Fibres)
	for _, f := range fault.All(err) {
		f.Field = "studio.fibres" + f.Field
		l.Add(f)
	}
	checkPaper(&l, shelf, r.Paper)
	checkSheet(&l, r.Sheet)
	switch {
	case r.Have == nil && r.GoodSheets == nil:
		l.Add(fault.Invalid("good_sheets", "Say how many good sheets are wanted, such as 50; or what pulp you have, under have."))
	case r.Have != nil && r.GoodSheets != nil:
		l.Add(fault.Invalid("have", "Ask either for good_sheets or, with have, how many sheets there will be; not both."))
	case r.Have != nil:
		checkHave(&l, *r.Have)
	default:
		l.WholeIf("good_sheets", r.GoodSheets, 1, MostGood)
	}
	l.InsideIf("confidence_pct", r.ConfidencePct, 50, 99.9, "%")
	l.WholeIf("test_sheets", r.TestSheets, 0, 20)
	checkStudio(&l, r.Studio)
	checkKnown(&l, r.Known)
	checkUnused(&l, r)
	return l.OrNil()
}

func checkPaper(l *fault.List, shelf fibre.Shelf, p Paper) {
	if len(p.Name) > 200 {
		l.Add(fault.Invalid("paper.name", "A name may have at most 200 characters; this has %d.", len(p.Name)))
	}
	l.OneOf("paper.forming", p.Forming, Formings)
	l.OneOf("paper.drying", p.Drying, fibre.Dryings())
	sum := 0.0
	for i, part := range p.Furnish {
		at := fmt.Sprintf("paper.furnish[%d]", i)
		if _, err := shelf.Find(at+".fibre", part.Fibre); err != nil {
			l.Add(err)
		}
		l.Inside(at+".share_pct", part.SharePct, 0.1, 100, "%")
		l.InsideIf(at+".beating_hours", part.BeatingHours, 0, 24, "h")
		l.InsideIf(at+".price_per_kg", part.PriceKg, 0, 10000, "per kg")
		sum += part.SharePct
	}
	switch {
	case len(p.Furnish) == 0:
		l.Add(fault.Invalid("paper.furnish", `Name at least one fibre with its share, such as {"fibre": "cotton rag", "share_pct": 100}.`))
	case math.IsNaN(sum) || math.Abs(sum-100) > 0.05:
		l.Add(fault.Invalid("paper.furnish", "The shares must add up to 100 %%; these add up to %s %%.", short(sum)))
	}
	l.Inside("paper.grammage_conditioned_g_m2", p.GrammageConditioned, 2, 3000, "g/m²")
	l.InsideIf("paper.tolerance_pct", p.TolerancePct, 0.5, 50, "%")
	l.InsideIf("paper.share_within_pct", p.ShareWithinPct, 50, 99.9, "%")
	l.InsideIf("paper.beating_hours", p.BeatingHours, 0, 24, "h")
	l.InsideIf("paper.grams_per_sheet", p.PourG, 0.01, 20000, "g")
	l.WholeIf("paper.dips", p.Dips, 1, 60)
	l.InsideIf("paper.surface_bath_pct", p.SurfaceBathPct, 0.05, 20, "%")
	dose := 0.0
	for i, a := range p.Additives {
		at := fmt.Sprintf("paper.additives[%d]", i)
		if strings.TrimSpace(a.Kind) == "" {
			l.Add(fault.Invalid(at+".kind", "Name the additive, such as calcium carbonate."))
		}
		l.Inside(at+".dose_pct", a.DosePct, 0, 60, "% on bone-dry fibre")
		l.Inside(at+".dose_ml_l", a.DoseMLL, 0, 500, "mL of its solution to a litre of vat")
		l.InsideIf(at+".strength_pct", a.StrengthPct, 0.1, 100, "%")
		l.InsideIf(at+".price_per_kg", a.PriceKg, 0, 10000, "per kg")
		dose += a.DosePct
	}
	if dose > 100 {
		l.Add(fault.Invalid("paper.additives", "The doses together must be at most 100 %% on bone-dry fibre; these are %s %%.", short(dose)))
	}
}

func checkSheet(l *fault.List, s Sheet) {
	l.Inside("sheet.long_mm", s.LongMM, 10, 3000, "mm")
	l.Inside("sheet.short_mm", s.ShortMM, 10, 3000, "mm")
	if s.LongMM > 0 && s.ShortMM > s.LongMM { // a long side that is no length has its own sentence
		l.Add(fault.Invalid("sheet.short_mm", "The short side (%s mm) is longer than the long side (%s mm): change them about.", short(s.ShortMM), short(s.LongMM)))
	}
	l.OneOf("sheet.edges", s.Edges, Edges)
	l.OneOf("sheet.shape", s.Shape, sheet.Shapes())
	l.InsideIf("sheet.fills_pct", s.FillsPct, 5, 100, "% of its box")
	if s.Shape == "round" && s.LongMM != s.ShortMM {
		l.Add(fault.Invalid("sheet.short_mm", "A round sheet is as long as it is broad: give its diameter twice, or call it oval."))
	}
	l.InsideIf("sheet.trim_mm", s.TrimMM, 0, 100, "mm an edge")
	l.InsideIf("sheet.tolerance_mm", s.ToleranceMM, 0.5, 200, "mm")
}

func checkHave(l *fault.List, h Have) {
	l.Inside("have.wet_g", h.WetG, 1, 1e6, "g")
	l.Inside("have.solids_pct[0]", h.SolidsPct[0], 0.1, 95, "%")
	l.Inside("have.solids_pct[1]", h.SolidsPct[1], 0.1, 95, "%")
	if h.SolidsPct[1] < h.SolidsPct[0] {
		l.Add(fault.Invalid("have.solids_pct", "Give the lower solids first, such as [8, 15]; these are [%s, %s].", short(h.SolidsPct[0]), short(h.SolidsPct[1])))
	}
	l.InsideIf("have.dry_g", h.DryG, 0, 1e6, "g")
}

func checkStudio(l *fault.List, s Studio) {
	l.InsideIf("studio.vat_l", s.VatL, 0.2, 5000, "L")
	l.InsideIf("studio.vat_least_l", s.VatLeastL, 0, 5000, "L")
	if s.VatL != nil {
		leastBelow(l, "studio.vat_least_l", s.VatLeastL, *s.VatL)
	}
	for i, v := range s.Vats {
		at := fmt.Sprintf("studio.vats[%d]", i)
		l.Inside(at+".vat_l", v.VatL, 0.2, 5000, "L")
		l.InsideIf(at+".least_l", v.LeastL, 0, 5000, "L")
		leastBelow(l, at+".least_l", v.LeastL, v.VatL)
	}
	l.InsideIf("studio.stock_g_l", s.StockGL, 1, 200, "g/L")
	l.InsideIf("studio.jug_ml", s.JugML, 20, 20000, "mL")
	list(s.Beater, s.Beaters, "studio.beater", func(at string, b Beater) {
		l.OneOf(at+".kind", b.Kind, BeaterKinds)
		l.Inside(at+".rated_dry_g", b.RatedDryG, 5, 500000, "g")
		l.Inside(at+".water_l", b.WaterL, 0.2, 20000, "L")
		date(l, at+".bars_ground", b.Ground)
	})
	list(s.Press, s.Presses, "studio.press", func(at string, p Press) {
		l.OneOf(at+".kind", p.Kind, PressKinds)
		l.Inside(at+".force_kn", p.ForceKN, 0, 5000, "kN")
		l.InsideIf(at+".daylight_mm", p.Daylight, 10, 3000, "mm")
		l.InsideIf(at+".platen_long_mm", p.LongMM, 50, 5000, "mm")
		l.InsideIf(at+".platen_short_mm", p.ShortMM, 50, 5000, "mm")
	})
	for i, m := range s.Moulds {
		checkMould(l, fmt.Sprintf("studio.moulds[%d]", i), m)
	}
	l.WholeIf("studio.felts", s.Felts, 2, 2000)
	l.InsideIf("studio.lift_kg", s.LiftKG, 1, 500, "kg")
	list(s.Dryer, s.Dryers, "studio.dryer", func(at string, d Dryer) { checkDryer(l, at, d) })
	for i, sc := range s.Scales {
		at := fmt.Sprintf("studio.scales[%d]", i)
		l.Inside(at+".step_g", sc.StepG, 0.0001, 1000, "g")
		l.Inside(at+".most_g", sc.MostG, 1, 1e6, "g")
	}
	checkRoom(l, s)
	l.InsideIf("studio.rate_per_hour", s.RateHour, 0, 100000, "an hour")
	l.InsideIf("studio.overhead_pct", s.Overhead, 0, 500, "%")
	l.InsideIf("studio.hands_hours_per_day", s.HandsADay, 0.5, 16, "h")
	l.InsideIf("studio.fibre_in_store_g", s.FibreStock, 0, 1e8, "g")
	for i, lot := range s.Lots {
		at := fmt.Sprintf("studio.lots[%d]", i)
		l.Inside(at+".wet_g", lot.WetG, 0, 1e8, "g")
		l.InsideIf(at+".moisture_pct_wet_basis", lot.MoisturePct, 0, 99, "%")
		l.InsideIf(at+".price_per_kg", lot.PriceKg, 0, 10000, "per kg")
	}
	if c := s.Currency; c != "" && (len(c) != 3 || strings.ToUpper(c) != c) {
		l.Add(fault.Invalid("studio.currency", "A currency is three capital letters, such as EUR; this says %q.", c))
	}
}

func checkMould(l *fault.List, at string, m Mould) {
	l.Inside(at+".long_mm", m.LongMM, 10, 3000, "mm")
	l.Inside(at+".short_mm", m.ShortMM, 10, 3000, "mm")
	l.WholeIf(at+".sheets_at_a_pull", m.AtAPull, 1, 24)
	l.InsideIf(at+".wires_per_cm", m.MeshCM, 1, 100, "wires to a centimetre")
	l.OneOf(at+".face", m.Face, Faces)
	l.OneOf(at+".shape", m.Shape, sheet.Shapes())
	l.WholeIf(at+".count", m.Count, 1, 100)
}

func checkDryer(l *fault.List, at string, d Dryer) {
	l.OneOf(at+".kind", d.Kind, fibre.Dryings())
	l.Inside(at+".airflow_m3_s", d.AirflowM3S, 0, 20, "m³/s")
	l.WholeIf(at+".boards", d.Boards, 2, 1000)
	l.InsideIf(at+".board_long_mm", d.LongMM, 50, 5000, "mm")
	l.InsideIf(at+".board_short_mm", d.ShortMM, 50, 5000, "mm")
	l.WholeIf(at+".blotters", d.Blotters, 0, 10000)
	if d.Boards == nil || d.LongMM == nil || d.ShortMM == nil || d.Places != 0 {
		l.WholeIf(at+".places", &d.Places, 1, 10000)
	}
}

func checkRoom(l *fault.List, s Studio) {
	if s.Air != nil {
		l.Inside("studio.air.temp_c", s.Air.TempC, 0, 45, "°C")
		l.Inside("studio.air.rh_pct", s.Air.RHPct, 5, 90, "%")
	}
	for i, season := range s.Seasons {
		at := fmt.Sprintf("studio.seasons[%d]", i)
		l.Inside(at+".temp_c", season.TempC, 0, 45, "°C")
		l.Inside(at+".rh_pct", season.RHPct, 5, 90, "%")
		for j, m := range season.Months {
			l.WholeIf(fmt.Sprintf("%s.months[%d]", at, j), &m, 1, 12)
		}
	}
	l.WholeIf("studio.month", s.Month, 1, 12)
	if w := s.Water; w != nil {
		l.InsideIf("studio.water.hardness_mg_l", w.HardnessMGL, 0, 2000, "mg/L as calcium carbonate")
		l.InsideIf("studio.water.ph", w.PH, 3, 11, "pH")
		l.InsideIf("studio.water.iron_mg_l", w.IronMGL, 0, 50, "mg/L")
	}
	l.InsideIf("studio.altitude_m", s.AltitudeM, -430, 5000, "m")
}

// list visits the one under the short key and those of the list.
func list[T any](one *T, many []T, key string, each func(at string, v T)) {
	if one != nil {
		each(key, *one)
	}
	plural := key + "s"
	if strings.HasSuffix(key, "s") {
		plural = key + "es"
	}
	for i, v := range many {
		each(fmt.Sprintf("%s[%d]", plural, i), v)
	}
}

func leastBelow(l *fault.List, at string, least *float64, vat float64) {
	if least != nil && *least > vat {
		l.Add(fault.Invalid(at, "The least workable level (%s L) is above the vat's %s L: it must be at most that.", short(*least), short(vat)))
	}
}

func date(l *fault.List, at, day string) {
	if _, err := time.Parse(time.DateOnly, day); day != "" && err != nil {
		l.Add(fault.Invalid(at, "Write the day as year-month-day, such as 2026-03-01; this says %q.", day))
	}
}

// checkUnused refuses what the request's own choices leave without effect, so
// that nothing said is passed over in silence.
func checkUnused(l *fault.List, r Request) {
	if forming := or(r.Paper.Forming, "western"); forming == "western" {
		if r.Paper.Dips != nil {
			l.Add(fault.Invalid("paper.dips", "One dip is western forming; for several, set paper.forming to several dips."))
		}
		if r.Paper.PourG != nil {
			l.Add(fault.Invalid("paper.grams_per_sheet", "A western sheet weighs what its grammage and size say; grams_per_sheet is for several dips and poured sheets."))
		}
	}
	if r.Sheet.FillsPct != nil && r.Sheet.Shape != "odd" {
		l.Add(fault.Invalid("sheet.fills_pct", "How much of its box a sheet fills is asked of odd shapes only; set sheet.shape to odd, or leave fills_pct out."))
	}
	if r.Sheet.FillsPct == nil && r.Sheet.Shape == "odd" {
		l.Add(fault.Invalid("sheet.fills_pct", "Say how much of the box around it the odd shape fills, such as 60."))
	}
	if r.Paper.SurfaceBathPct != nil && strings.TrimSpace(r.Paper.SurfaceSize) == "" {
		l.Add(fault.Invalid("paper.surface_bath_pct", "Name the size under surface_size, such as gelatin, or leave the bath out."))
	}
	if r.Sheet.TrimMM != nil && or(r.Sheet.Edges, "deckle") == "deckle" {
		l.Add(fault.Invalid("sheet.trim_mm", "Deckle edges are not trimmed; set sheet.edges to trimmed, or leave trim_mm out."))
	}
}

func checkKnown(l *fault.List, known map[string]Pin) {
	keys := make([]string, 0, len(known))
	for k := range known {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	for _, k := range keys {
		c, ok := coefficientOf(k)
		if !ok {
			l.Add(fault.Invalid("known."+k, "There is no such coefficient; known are %s.", strings.Join(KnownKeys(), ", ")))
			continue
		}
		l.Inside("known."+k, known[k].Value, c.within.low, c.within.high, c.within.unit)
	}
}

// placed puts a fault that a formula found where the request has its key: the
// formulas know a vat, not the studio it stands in.
func placed(err error) error {
	var e *fault.Error
	if !errors.As(err, &e) || !slices.Contains([]string{"vat_l", "vat_least_l", "stock_g_l"}, e.Field) {
		return err
	}
	at := *e
	at.Field = "studio." + e.Field
	return &at
}

// short prints a number for a sentence.
func short(v float64) string { return fmt.Sprintf("%.6g", v) }

// three prints a quantity for a sentence to three digits, never as a power of
// ten.
func three[T ~float64](v T) string {
	return strconv.FormatFloat(measure.Significant(float64(v), 3), 'f', -1, 64)
}
