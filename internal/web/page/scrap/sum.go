package scrap

import (
	"fmt"
	"math"

	"vatside/internal/beating"
	"vatside/internal/cookery"
	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/figure"
	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// The sheet that is thought of where none is said.
const (
	usualSheet    = "A4"
	usualGrammage = "100"
)

// ask sets the form with what was typed in it.
func (d *Data) ask(f *page.Form, of chapter) {
	if f.Values.Has("amount") { // as it was shown when it was typed
		d.System = string(page.ReadSystem(f.Get("system")))
	} else {
		d.System = string(d.Speech.System)
	}
	f.Fill("sheet", usualSheet)
	f.Fill("grammage", usualGrammage)
	s := part.Speech{System: measure.System(d.System)}
	kinds := part.Field{Name: "fibre", Label: "What it is", Kind: part.Select, Required: true}
	for _, name := range of.fibres {
		kinds.Options = append(kinds.Options, part.Option{Value: name, Label: part.Upper(name)})
	}
	asked := []part.Field{
		kinds,
		{Name: "amount", Label: "As bought or found", Kind: part.Text, Required: true, Unit: s.Bare(measure.OfMass), Bare: s.Bare(measure.OfMass), Hint: "Dry, as it lies in the room: 1 kg, 2 lb."},
		{Name: "sheet", Label: "Sheet", Kind: part.Text, Required: true, Hint: "By name, or two sides."},
		{Name: "grammage", Label: "As heavy as", Kind: part.Number, Mode: "decimal", Unit: "g/m²", Required: true, Small: true},
	}
	if of.cut == "blender" {
		asked = append(asked, part.Field{Name: "jug", Label: "The blender's jug holds", Kind: part.Number, Small: true, Unit: s.Bare(measure.OfVolume), Bare: s.Bare(measure.OfVolume), Hint: "To the brim."})
	}
	for _, fd := range asked {
		d.Fields = append(d.Fields, f.Field(fd))
	}
	d.Wrong = f.Wrong()
}

// sum reads what there is and says what it comes to; what is wrong with the
// form is noted in it.
func (d *Data) sum(f *page.Form, of chapter) error {
	typed := part.Speech{System: page.ReadSystem(f.Get("system"))}
	stuff, ok := fibre.Get(f.Get("fibre"))
	if !ok || !stuff.Yield.Known() {
		f.Refuse(fault.Invalid("fibre", "choose one of the list"))
		return nil
	}
	h := cookery.Harvest{Fibre: stuff, Stage: cookery.ForPot, LeftPct: 100 * stuff.Bought.Mid, Yield: stuff.Yield, Paper: cookery.Paper{SharePct: 100}}
	var err error
	h.AmountG, err = typed.Read("amount", f.Get("amount"), measure.OfMass)
	f.Refuse(err)
	h.Paper.LongMM, h.Paper.ShortMM, err = typed.ReadSize("sheet", f.Get("sheet"))
	f.Refuse(err)
	h.Paper.Grammage, err = typed.Read("grammage", f.Get("grammage"), measure.OfGrammage)
	f.Refuse(err)
	if len(f.Faults) > 0 {
		return nil
	}
	c, err := h.Chain()
	if fault.Refused(err) {
		f.Refuse(err)
		return nil
	}
	if err != nil {
		return err
	}
	sheets := "Good sheets, " + typed.SizeName(h.Paper.LongMM, h.Paper.ShortMM) + " at " + d.Speech.One(h.Paper.Grammage, "g/m²")
	d.add("dry", "Bone-dry, of what there is", c.Figures["pot_dry_g"])
	d.add("vat", "Left at the vat, bone-dry", c.Figures["pulp_g"])
	d.add("sheets", sheets, c.Figures["sheets"])
	if of.cut == "blender" && f.Get("jug") != "" {
		jug, err := typed.Read("jug", f.Get("jug"), measure.OfVolume)
		if err == nil {
			err = d.loads(stuff, measure.Mass(c.PotG), measure.Volume(jug))
		}
		f.Refuse(err)
	}
	return nil
}

func (d *Data) add(key, name string, f figure.Figure) {
	shown := part.NewFigure(key, f, d.Speech, "")
	shown.Name, shown.Large = name, key == "sheets"
	d.Answer = append(d.Answer, Summed{shown, part.SumOf(f)})
}

// loads says how paper goes through one blender.
func (d *Data) loads(stuff fibre.Fibre, dry measure.Mass, jug measure.Volume) error {
	turn, err := beating.BlenderLoads(dry, jug)
	if err != nil {
		return err
	}
	full, err := beating.BlenderOf("", jug)
	if err != nil {
		return err
	}
	seconds, err := beating.BlenderSeconds(stuff)
	if err != nil {
		return err
	}
	s, thick := d.Speech, beating.BlenderThick
	needs := func(gl float64) float64 { return math.Ceil(float64(dry)/(gl*float64(full.Water)) - 1e-9) }
	d.Loads = []string{
		fmt.Sprintf("%.0f blender loads, each %s of dry paper in %s of water; between %.0f and %.0f at %s.", float64(turn.Loads), s.One(float64(turn.Each), "g"), s.One(float64(turn.Water), "L"),
			needs(thick.High), needs(thick.Low), s.Range(thick.Low, thick.High, "g/L")),
		fmt.Sprintf("About %.0f s a load, between %.0f and %.0f: %s.", seconds.Mid, seconds.Low, seconds.High, seconds.Note),
	}
	for _, w := range append(beating.BlenderCautions(), beating.BlenderCuts) {
		d.Mind = append(d.Mind, Said{Text: w.Text, Source: part.Cite(w.Source, source.Must(w.Source).Grade)})
	}
	return nil
}
