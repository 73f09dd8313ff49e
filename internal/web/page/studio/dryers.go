package studio

import (
	"fmt"

	"vatside/internal/drying"
	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/sheet"
)

var dryers = things[plan.Dryer]{
	key: "dryer", one: "Dryer", path: "studio.dryers",
	of:   func(k *plan.Studio) *[]plan.Dryer { return &k.Dryers },
	name: func(d *plan.Dryer) *string { return &d.Name },
	blanks: []blank[plan.Dryer]{
		called(func(d *plan.Dryer) *string { return &d.Name }),
		words("kind", choice("kind", "Kind", "", "", "stack with moving air", drying.Exchange, "changed blotters", drying.Board, "boards or glass", drying.Loft, "lines, hung", drying.Free, "racks, unheld"), func(d *plan.Dryer) *string { return &d.Kind }),
		amount("places", line("places", "Sheets it holds", "Empty: as many as go on its boards."), measure.OfCount, "", val[plan.Dryer]{
			func(d *plan.Dryer) *float64 {
				if d.Places == 0 {
					return nil
				}
				v := float64(d.Places)
				return &v
			}, func(d *plan.Dryer, v *float64) {
				d.Places = 0
				if v != nil {
					d.Places = int(*v)
				}
			}}),
		amount("boards", line("boards", "Boards", "Sheets lie in the gaps between them."), measure.OfCount, "", whole(func(d *plan.Dryer) **int { return &d.Boards })),
		size("board_long_mm board_short_mm", line("size", "Size of a board", "Or the largest sheet it takes."), maybe(func(d *plan.Dryer) **float64 { return &d.LongMM }), maybe(func(d *plan.Dryer) **float64 { return &d.ShortMM })),
		amount("airflow_m3_s", line("airflow", "Air it moves", "What the fan's plate says, less what the stack holds back. Empty: no fan."), measure.OfAirflow, "m³/s", said(func(d *plan.Dryer) *float64 { return &d.AirflowM3S })),
		amount("blotters", line("blotters", "Blotters", ""), measure.OfCount, "", whole(func(d *plan.Dryer) **int { return &d.Blotters })),
	},
	settle: func(c *reading, prefix string, d, _ *plan.Dryer) {
		if c.Get(prefix+"places") == "" && (c.Get(prefix+"boards") == "" || c.Get(prefix+"size") == "") {
			c.Refuse(fault.Invalid(prefix+"places", "say how many sheets it holds, or how many boards it has and their size"))
		}
	},
}

var scales = things[plan.Scale]{
	key: "scale", one: "Scale", path: "studio.scales",
	of:   func(k *plan.Studio) *[]plan.Scale { return &k.Scales },
	name: func(s *plan.Scale) *string { return &s.Name },
	blanks: []blank[plan.Scale]{
		called(func(s *plan.Scale) *string { return &s.Name }),
		amount("step_g", must("step", "Tells apart", "The least step it shows."), measure.OfMass, "g", said(func(s *plan.Scale) *float64 { return &s.StepG })),
		amount("most_g", must("most", "Carries at most", ""), measure.OfMass, "g", said(func(s *plan.Scale) *float64 { return &s.MostG })),
	},
	note: weighingTen,
}

// usualGrammage is the sheet that a scale is judged by, g/m² conditioned: a
// book text paper (practice).
const usualGrammage measure.GrammageConditioned = 100

// weighingTen says what a scale tells apart of ten sheets weighed together.
func weighingTen(c *reading, _ string, sc *plan.Scale) string {
	area, err := sheet.ShapeArea(sheet.Rectangle, measure.Length(c.now.DefaultSheet.LongMM), measure.Length(c.now.DefaultSheet.ShortMM), 1)
	if err != nil || !(sc.StepG > 0) {
		return ""
	}
	one, err := sheet.ConditionedMass(usualGrammage, area)
	if err != nil {
		return ""
	}
	share := sc.StepG / 10 / float64(one) * 100
	text := fmt.Sprintf("Of ten usual sheets weighed together it tells %s a sheet apart: %s of a sheet of %s.", c.One(sc.StepG/10, "g"), c.One(share, "%"), c.One(float64(usualGrammage), "g/m²"))
	if sc.MostG > 0 && 10*float64(one) > sc.MostG {
		return text + " It does not carry ten: weigh fewer."
	}
	return text
}
