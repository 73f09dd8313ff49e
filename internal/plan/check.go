package plan

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/fibre"
)

// Words a request may use where it must choose.
var (
	Formings = []string{"western", "several dips", "poured"}
	Edges    = []string{"deckle", "trimmed"}
)

// span is the range a number must lie in, with its unit for the sentence.
type span struct {
	low, high float64
	unit      string
}

// Check returns every fault of the request, each with the path of its key and
// one sentence that says what would be right; nil when there is none.
func Check(r Request) error {
	var l fault.List
	checkPaper(&l, r.Paper)
	checkSheet(&l, r.Sheet)
	switch {
	case r.Have == nil && r.GoodSheets == nil:
		l.Add(fault.Invalid("good_sheets", "Say how many good sheets are wanted, such as 50; or what pulp you have, under have."))
	case r.Have != nil && r.GoodSheets != nil:
		l.Add(fault.Invalid("have", "Ask either for good_sheets or, with have, how many sheets there will be; not both."))
	case r.Have != nil:
		checkHave(&l, *r.Have)
	default:
		whole(&l, "good_sheets", r.GoodSheets, 1, 20000)
	}
	number(&l, "confidence_pct", r.ConfidencePct, span{50, 99.9, "%"})
	whole(&l, "test_sheets", r.TestSheets, 0, 20)
	checkStudio(&l, r.Studio)
	checkKnown(&l, r.Known)
	checkUnused(&l, r)
	return l.OrNil()
}

func checkPaper(l *fault.List, p Paper) {
	if len(p.Name) > 200 {
		l.Add(fault.Invalid("paper.name", "A name may have at most 200 characters; this has %d.", len(p.Name)))
	}
	word(l, "paper.forming", p.Forming, Formings)
	word(l, "paper.drying", p.Drying, fibre.Dryings())
	sum := 0.0
	for i, part := range p.Furnish {
		at := fmt.Sprintf("paper.furnish[%d]", i)
		if _, err := fibre.Find(at+".fibre", part.Fibre); err != nil {
			l.Add(err)
		}
		must(l, at+".share_pct", part.SharePct, span{0.1, 100, "%"})
		number(l, at+".price_per_kg", part.PriceKg, span{0, 10000, "per kg"})
		sum += part.SharePct
	}
	switch {
	case len(p.Furnish) == 0:
		l.Add(fault.Invalid("paper.furnish", `Name at least one fibre with its share, such as {"fibre": "cotton rag", "share_pct": 100}.`))
	case math.IsNaN(sum) || math.Abs(sum-100) > 0.05:
		l.Add(fault.Invalid("paper.furnish", "The shares must add up to 100 %%; these add up to %s %%.", short(sum)))
	}
	must(l, "paper.grammage_conditioned_g_m2", p.GrammageConditioned, span{2, 3000, "g/m²"})
	number(l, "paper.tolerance_pct", p.TolerancePct, span{0.5, 50, "%"})
	number(l, "paper.share_within_pct", p.ShareWithinPct, span{50, 99.9, "%"})
	number(l, "paper.beating_hours", p.BeatingHours, span{0, 24, "h"})
	number(l, "paper.grams_per_sheet", p.PourG, span{0.01, 20000, "g"})
	whole(l, "paper.dips", p.Dips, 1, 60)
	dose := 0.0
	for i, a := range p.Additives {
		at := fmt.Sprintf("paper.additives[%d]", i)
		if strings.TrimSpace(a.Kind) == "" {
			l.Add(fault.Invalid(at+".kind", "Name the additive, such as calcium carbonate."))
		}
		must(l, at+".dose_pct", a.DosePct, span{0, 60, "% on bone-dry fibre"})
		dose += a.DosePct
	}
	if dose > 100 {
		l.Add(fault.Invalid("paper.additives", "The doses together must be at most 100 %% on bone-dry fibre; these are %s %%.", short(dose)))
	}
}

func checkSheet(l *fault.List, s Sheet) {
	must(l, "sheet.long_mm", s.LongMM, span{10, 3000, "mm"})
	must(l, "sheet.short_mm", s.ShortMM, span{10, 3000, "mm"})
	if s.LongMM > 0 && s.ShortMM > s.LongMM { // a long side that is no length has its own sentence
		l.Add(fault.Invalid("sheet.short_mm", "The short side (%s mm) is longer than the long side (%s mm): change them about.", short(s.ShortMM), short(s.LongMM)))
	}
	word(l, "sheet.edges", s.Edges, Edges)
	number(l, "sheet.trim_mm", s.TrimMM, span{0, 100, "mm an edge"})
	number(l, "sheet.tolerance_mm", s.ToleranceMM, span{0.5, 200, "mm"})
}

func checkHave(l *fault.List, h Have) {
	must(l, "have.wet_g", h.WetG, span{1, 1e6, "g"})
	must(l, "have.solids_pct[0]", h.SolidsPct[0], span{0.1, 95, "%"})
	must(l, "have.solids_pct[1]", h.SolidsPct[1], span{0.1, 95, "%"})
	if h.SolidsPct[1] < h.SolidsPct[0] {
		l.Add(fault.Invalid("have.solids_pct", "Give the lower solids first, such as [8, 15]; these are [%s, %s].", short(h.SolidsPct[0]), short(h.SolidsPct[1])))
	}
	number(l, "have.dry_g", h.DryG, span{0, 1e6, "g"})
}

func checkStudio(l *fault.List, s Studio) {
	number(l, "studio.vat_l", s.VatL, span{0.2, 5000, "L"})
	number(l, "studio.vat_least_l", s.VatLeastL, span{0, 5000, "L"})
	if s.VatL != nil && s.VatLeastL != nil && *s.VatLeastL > *s.VatL {
		l.Add(fault.Invalid("studio.vat_least_l", "The least workable level (%s L) is above the vat's %s L: it must be at most that.", short(*s.VatLeastL), short(*s.VatL)))
	}
	number(l, "studio.stock_g_l", s.StockGL, span{1, 200, "g/L"})
	number(l, "studio.jug_ml", s.JugML, span{20, 20000, "mL"})
	if s.Beater != nil {
		must(l, "studio.beater.rated_dry_g", s.Beater.RatedDryG, span{5, 500000, "g"})
		must(l, "studio.beater.water_l", s.Beater.WaterL, span{0.2, 20000, "L"})
	}
	if s.Press != nil {
		must(l, "studio.press.force_kn", s.Press.ForceKN, span{0, 5000, "kN"})
	}
	for i, m := range s.Moulds {
		must(l, fmt.Sprintf("studio.moulds[%d].long_mm", i), m.LongMM, span{10, 3000, "mm"})
		must(l, fmt.Sprintf("studio.moulds[%d].short_mm", i), m.ShortMM, span{10, 3000, "mm"})
	}
	whole(l, "studio.felts", s.Felts, 2, 2000)
	if s.Dryer != nil {
		places := s.Dryer.Places
		whole(l, "studio.dryer.places", &places, 1, 10000)
		must(l, "studio.dryer.airflow_m3_s", s.Dryer.AirflowM3S, span{0, 20, "m³/s"})
	}
	if s.Air != nil {
		must(l, "studio.air.temp_c", s.Air.TempC, span{0, 45, "°C"})
		must(l, "studio.air.rh_pct", s.Air.RHPct, span{5, 90, "%"})
	}
	number(l, "studio.altitude_m", s.AltitudeM, span{-430, 5000, "m"})
	number(l, "studio.rate_per_hour", s.RateHour, span{0, 100000, "an hour"})
	number(l, "studio.hands_hours_per_day", s.HandsADay, span{0.5, 16, "h"})
	number(l, "studio.fibre_in_store_g", s.FibreStock, span{0, 1e8, "g"})
	if c := s.Currency; c != "" && (len(c) != 3 || strings.ToUpper(c) != c) {
		l.Add(fault.Invalid("studio.currency", "A currency is three capital letters, such as EUR; this says %q.", c))
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
		must(l, "known."+k, known[k].Value, c.within)
	}
}

func must(l *fault.List, field string, v float64, s span) {
	if math.IsNaN(v) || v < s.low || v > s.high {
		l.Add(fault.OutOfRange(field, "It must be from %s to %s %s; this says %s.", short(s.low), short(s.high), s.unit, short(v)))
	}
}

func number(l *fault.List, field string, v *float64, s span) {
	if v != nil {
		must(l, field, *v, s)
	}
}

func whole(l *fault.List, field string, v *int, low, high int) {
	if v != nil && (*v < low || *v > high) {
		l.Add(fault.OutOfRange(field, "It must be a whole number from %d to %d; this says %d.", low, high, *v))
	}
}

func word(l *fault.List, field, v string, words []string) {
	if v != "" && !slices.Contains(words, v) {
		l.Add(fault.Invalid(field, "It must be one of %s; this says %q.", strings.Join(words, ", "), v))
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
	r, err := strconv.ParseFloat(strconv.FormatFloat(float64(v), 'g', 3, 64), 64)
	if err != nil {
		r = float64(v)
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}
