package page

import (
	"strconv"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/sheet"
	"vatside/internal/web/part"
)

// mostDips bounds a count before the plan judges it.
const mostDips = 1000

// DesignFaults says in which blank a fault of the plan or of the records belongs.
func DesignFaults() map[string]string {
	return map[string]string{
		"paper.name": "name", "paper.use": "use", "paper.furnish": "furnish", "design.furnish": "furnish", "paper.additives": "additives",
		"paper.grammage_conditioned_g_m2": "grammage", "design.grammage_conditioned_g_m2": "grammage",
		"paper.tolerance_pct": "tolerance", "paper.share_within_pct": "within",
		"paper.beating_hours": "beating", "paper.drying": "drying", "paper.forming": "forming", "paper.dips": "dips", "paper.grams_per_sheet": "pour",
		"paper.surface_size": "surface", "paper.surface_bath_pct": "bath", "paper.surface_way": "way",
		"sheet": "size", "sheet.edges": "edges", "sheet.shape": "shape", "sheet.fills_pct": "fills", "sheet.trim_mm": "trim", "sheet.tolerance_mm": "play",
	}
}

// FillDesign fills the blanks of a design with it as it stands, but for what it
// is made of.
func (f *Form) FillDesign(s part.Speech, d plan.Paper, sh plan.Sheet) {
	number := func(name string, v *float64) {
		if v != nil {
			f.Fill(name, part.Written(*v))
		}
	}
	measured := func(name string, v *float64, unit string) {
		if v != nil {
			f.Fill(name, s.One(*v, unit))
		}
	}
	f.Fill("use", d.Use)
	number("grammage", &d.GrammageConditioned)
	number("tolerance", d.TolerancePct)
	number("within", d.ShareWithinPct)
	number("beating", d.BeatingHours)
	f.Fill("drying", chosen(Dryings, d.Drying).Value)
	f.Fill("surface", d.SurfaceSize)
	number("bath", d.SurfaceBathPct)
	f.Fill("way", d.SurfaceWay)
	f.Fill("forming", chosen(Formings, d.Forming).Value)
	if d.Dips != nil {
		f.Fill("dips", strconv.Itoa(*d.Dips))
	}
	measured("pour", d.PourG, "g")
	f.Fill("finish", d.Finish)
	f.Fill("size", s.SizeName(sh.LongMM, sh.ShortMM))
	f.Fill("edges", chosen(Edges, sh.Edges).Value)
	f.Fill("shape", chosen(Shapes(), sh.Shape).Value)
	number("fills", sh.FillsPct)
	measured("trim", sh.TrimMM, "mm")
	measured("play", sh.ToleranceMM, "mm")
}

// Design reads what FillDesign fills.
func (o Over) Design(d *plan.Paper, sh *plan.Sheet) {
	d.Use = o.Word("use", d.Use)
	if g := o.Quantity("grammage", measure.OfGrammage, &d.GrammageConditioned); g != nil {
		d.GrammageConditioned = *g
	} else {
		o.Refuse(fault.Invalid("grammage", "say how heavy the paper is, such as 100 g/m²"))
	}
	d.TolerancePct = o.Quantity("tolerance", measure.OfPercent, d.TolerancePct)
	d.ShareWithinPct = o.Quantity("within", measure.OfPercent, d.ShareWithinPct)
	d.BeatingHours = o.Quantity("beating", measure.OfHours, d.BeatingHours)
	d.Drying = o.Word("drying", d.Drying)
	o.surface(d)
	d.Forming, d.Finish = o.Word("forming", d.Forming), o.Word("finish", d.Finish)
	d.Dips = o.dips(d.Dips)
	d.PourG = o.Quantity("pour", measure.OfMass, d.PourG)
	o.sheet(sh)
}

func (o Over) dips(old *int) *int {
	if o.Kept("dips") {
		return old
	}
	if o.Get("dips") == "" {
		return nil
	}
	n, err := part.Count("dips", o.Get("dips"), 1, mostDips, "dips")
	o.Refuse(err)
	return &n
}

// surface reads the size, and with it its bath and how it comes on.
func (o Over) surface(d *plan.Paper) {
	d.SurfaceSize = o.Word("surface", d.SurfaceSize)
	sized := d.SurfaceSize != ""
	d.SurfaceBathPct = o.With(sized, "bath", measure.OfPercent, d.SurfaceBathPct)
	d.SurfaceWay = o.Word("way", d.SurfaceWay)
	if d.SurfaceWay == "" || sized {
		return
	}
	if !o.Kept("way") {
		o.Refuse(fault.Invalid("way", "name the surface size too, such as gelatin, or leave this"))
	}
	d.SurfaceWay = ""
}

func (o Over) sheet(sh *plan.Sheet) {
	sh.Edges, sh.Shape = o.Word("edges", sh.Edges), o.Word("shape", sh.Shape)
	sh.FillsPct = o.With(sh.Shape == sheet.Odd, "fills", measure.OfPercent, sh.FillsPct)
	sh.TrimMM = o.With(sh.Edges == trimmed, "trim", measure.OfLength, sh.TrimMM)
	sh.ToleranceMM = o.Quantity("play", measure.OfLength, sh.ToleranceMM)
	if o.Kept("size") {
		return
	}
	typed := o.Get("size")
	if sh.Shape == sheet.Round { // one diameter says it
		if v, err := o.Read("size", typed, measure.OfLength); err == nil && v > 0 {
			sh.LongMM, sh.ShortMM = v, v
			return
		}
	}
	var err error
	sh.LongMM, sh.ShortMM, err = o.ReadSize("size", typed)
	o.Refuse(err)
}
