package ask

import (
	"maps"
	"slices"

	"github.com/google/jsonschema-go/jsonschema"

	"vatside/internal/cooking"
	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/figure"
	"vatside/internal/measure"
)

// Cook is the form of fibre, alkali and liquor.
var Cook = newForm[CookRequest, CookAnswer]("vatside cook", custom, checkCook, amendCook)

// CookRequest asks how a weighed lot of dry fibre is cooked.
type CookRequest struct {
	DryG         float64  `json:"dry_g"`
	Alkali       string   `json:"alkali"`
	AlkaliPct    float64  `json:"alkali_pct"`
	LimePct      *float64 `json:"lime_pct,omitempty"`
	StrengthGL   *float64 `json:"strength_g_l,omitempty"`
	LiquorLPerKg *float64 `json:"liquor_l_per_kg,omitempty"`
	AltitudeM    *float64 `json:"altitude_m,omitempty"`
	SimmerC      *float64 `json:"simmer_c,omitempty"`
	WaterC       *float64 `json:"water_c,omitempty"`
	DissolveL    *float64 `json:"dissolve_l,omitempty"`
	Pot          string   `json:"pot,omitempty"`
	PotL         *float64 `json:"pot_l,omitempty"`
	Fibre        string   `json:"fibre,omitempty"`
}

// CookAnswer is the card of a cook: figures, what to heed and how to do it.
type CookAnswer struct {
	Figures  map[string]figure.Figure `json:"figures"`
	Cautions []cooking.Caution        `json:"cautions"`
	Order    []string                 `json:"order"`
	EndTests []string                 `json:"end_tests"`
	After    []string                 `json:"after"`
	Waste    []cooking.Caution        `json:"waste"`
	Notes    []string                 `json:"notes"`
	Recipes  []CookRecipe             `json:"recipes,omitempty"`
	Seed     uint64                   `json:"seed"`
}

// CookRecipe is a recipe as it stands in print, beside others that disagree.
type CookRecipe struct {
	Plant  string  `json:"plant"`
	Part   string  `json:"part"`
	Alkali string  `json:"alkali"`
	Low    float64 `json:"alkali_pct_low,omitempty"`
	High   float64 `json:"alkali_pct_high,omitempty"`
	Liquor float64 `json:"liquor_l_per_kg,omitempty"`
	Least  float64 `json:"hours_low,omitempty"`
	Most   float64 `json:"hours_high,omitempty"`
	Note   string  `json:"note,omitempty"`
	Source string  `json:"source"`
	Grade  string  `json:"grade"`
}

// CookOrder is the order in which figures of a cook are shown.
var CookOrder = []string{
	"alkali_g", "lime_g", "ash_liquor_l", "lye_made_g", "liquor_l", "alkali_g_l", "soda_ash_equal_g", "lye_reaches_c", "ph_cold", "ph_boil", "boil_c", "time_factor", "hours",
	"pot_l", "pots", "rinse_changes", "rinse_l", "waste_l", "vinegar_l", "citric_g", "pulp_dry_g",
}

// Draws of a cook's uncertain numbers: enough for a steady band of few.
const (
	cookDraws = 2000
	cookSeed  = 1
)

// mostGL is the strongest liquor answered, g/L: far over any recipe. The balance
// of ions was held against print to 100.
const mostGL = 150.0

var cookBounds = []bound{
	{"dry_g", 0.1, 1e5, 450, "bone-dry fibre as it goes into the pot"},
	{"alkali_pct", 0.1, 150, 20, "of the alkali as weighed, on dry fibre"},
	{"lime_pct", 0.1, 150, 13, "slaked lime beside soda ash, on dry fibre: the two make lye"},
	{"strength_g_l", 0.1, 500, 30, "of wood-ash lye, measured, as potassium carbonate"},
	{"liquor_l_per_kg", float64(cooking.LeastLiquor), float64(cooking.MostLiquor), 15.6, "15.6 if not said"},
	{"altitude_m", -430, 5000, 0, "0 if not said"},
	{"simmer_c", 60, 100, 95, "of the liquor; its boil if not said"},
	{"water_c", 0, 100, 20, "of the water that lye goes into, or soda ash with lime"},
	{"dissolve_l", 0.001, 1e5, 7, "water that lye is dissolved in first; all of it if not said"},
	{"pot_l", 0.1, 10000, 12, "of the pot at hand"},
}

func amendCook(request *jsonschema.Schema) {
	for _, b := range cookBounds {
		limit(at(request, b.path), b)
	}
	wordsAt(request, "alkali", cooking.AlkaliNames())
	wordsAt(request, "pot", cooking.PotMaterials())
	of := at(request, "fibre")
	of.Description, of.Examples = "of the fibre table, or a plant that recipes name; brings hours, yield and published recipes along", []any{"kozo"}
}

// Check refuses what cannot be meant or must not be done. Faults: a fault.List of
// Invalid and OutOfRange, each with its key.
func (r CookRequest) Check() error { return checkCook(r) }

func checkCook(r CookRequest) error {
	var l fault.List
	inside := func(path string, v *float64) {
		i := slices.IndexFunc(cookBounds, func(b bound) bool { return b.path == path })
		_, unit := stem(path)
		l.InsideIf(path, v, cookBounds[i].low, cookBounds[i].high, unit)
	}
	inside("dry_g", &r.DryG)
	inside("alkali_pct", &r.AlkaliPct)
	optional := r.optional()
	for _, path := range slices.Sorted(maps.Keys(optional)) {
		inside(path, optional[path])
	}
	ranged := len(l) == 0
	if r.Fibre != "" && !cooking.HasRecipes(r.Fibre) {
		_, err := fibre.Find("fibre", r.Fibre)
		l.Add(err)
	}
	if r.Pot != "" {
		l.Add(cooking.CheckPot("pot", r.Pot))
	}
	a, ok := cooking.GetAlkali(r.Alkali)
	if !ok {
		l.OneOf("alkali", r.Alkali, cooking.AlkaliNames())
		return l.OrNil()
	}
	isAsh := a.Name == cooking.WoodAshLye
	switch {
	case isAsh && r.StrengthGL == nil:
		l.Add(fault.Invalid("strength_g_l", "No two ashes are alike: measure the strength of wood-ash lye, in g/L as potassium carbonate, such as 30."))
	case !isAsh && r.StrengthGL != nil:
		l.Add(fault.Invalid("strength_g_l", "A strength is said of wood-ash lye only; weigh %s.", a.Name))
	}
	if r.LimePct != nil && a.Metal != "sodium" || r.LimePct != nil && a.Caustic {
		l.Add(fault.Invalid("lime_pct", "Lime is said beside soda ash only; lime alone is the alkali slaked lime."))
	}
	isLye, both := a.Name == cooking.Lye || a.Name == cooking.PotashLye, r.AlkaliPct
	if r.LimePct != nil {
		both += *r.LimePct
	}
	if r.WaterC != nil && !isLye && r.LimePct == nil {
		l.Add(fault.Invalid("water_c", "How warm the water is counts where lye goes into it, or soda ash with lime: leave it out with %s.", a.Name))
	}
	if r.DissolveL != nil && !isLye {
		l.Add(fault.Invalid("dissolve_l", "The water to dissolve in first is said of lye only: leave it out with %s.", a.Name))
	}
	if ranged && (isLye || r.LimePct != nil) {
		l.Add(r.checkLye(a))
	}
	if g := 10 * both / r.liquor(); ranged && !isLye && g > mostGL {
		l.Add(fault.OutOfRange("liquor_l_per_kg", "The liquor may hold from 0 to %g g of alkali to a litre, and 5 to 30 is usual; this makes %.4g g/L: take more water or less alkali.", mostGL, g))
	}
	if len(l) == 0 {
		_, err := r.Answer()
		l.Add(err)
	}
	return l.OrNil()
}

// optional are the numbers that may be left out, by key.
func (r CookRequest) optional() map[string]*float64 {
	return map[string]*float64{
		"lime_pct": r.LimePct, "strength_g_l": r.StrengthGL, "liquor_l_per_kg": r.LiquorLPerKg, "altitude_m": r.AltitudeM,
		"simmer_c": r.SimmerC, "water_c": r.WaterC, "dissolve_l": r.DissolveL, "pot_l": r.PotL,
	}
}

// checkLye refuses lye, and soda ash and lime that make it, where it is dissolved
// hot, or strong in any step: where it is dissolved first, and in the whole liquor.
func (r CookRequest) checkLye(a cooking.Alkali) error {
	lye, liquor := measure.Mass(r.DryG*r.AlkaliPct/100), measure.Volume(r.DryG/1000)*measure.Volume(r.liquor())
	if r.LimePct != nil && !a.Caustic {
		soda, _ := cooking.GetAlkali(cooking.SodaAsh)
		asAsh, err := cooking.EqualAlkalinity(lye, a, soda)
		if err != nil {
			return err
		}
		made, err := cooking.Causticise(asAsh, measure.Mass(r.DryG**r.LimePct/100))
		if err != nil {
			return err
		}
		lye = made.Lye
	}
	water := measure.Temperature(20)
	if r.WaterC != nil {
		water = measure.Temperature(*r.WaterC)
	}
	if r.DissolveL != nil && measure.Volume(*r.DissolveL) < liquor {
		return cooking.CheckLye("dissolve_l", lye, measure.Volume(*r.DissolveL), water)
	}
	return cooking.CheckLye("alkali_pct", lye, liquor, water)
}

func (r CookRequest) liquor() float64 {
	if r.LiquorLPerKg != nil {
		return *r.LiquorLPerKg
	}
	return float64(cooking.UsualLiquor)
}
