package studio

import (
	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/sheet"
	"vatside/internal/web/part"
)

// called is the blank for a thing's name, as every thing has one.
func called[T any](of func(*T) *string) blank[T] {
	return words("name", line("name", "Called", ""), of)
}

var vats = things[plan.Vat]{
	key: "vat", one: "Vat", path: "studio.vats",
	of:   func(k *plan.Studio) *[]plan.Vat { return &k.Vats },
	name: func(v *plan.Vat) *string { return &v.Name },
	blanks: []blank[plan.Vat]{
		called(func(v *plan.Vat) *string { return &v.Name }),
		amount("vat_l", must("holds", "Holds, when you work", ""), measure.OfVolume, "L", said(func(v *plan.Vat) *float64 { return &v.VatL })),
		amount("least_l", line("least", "Least level you can work at", "Empty: three quarters of it."), measure.OfVolume, "L", maybe(func(v *plan.Vat) **float64 { return &v.LeastL })),
	},
}

var moulds = things[plan.Mould]{
	key: "mould", one: "Mould", path: "studio.moulds",
	of:   func(k *plan.Studio) *[]plan.Mould { return &k.Moulds },
	name: func(m *plan.Mould) *string { return &m.Name },
	blanks: []blank[plan.Mould]{
		called(func(m *plan.Mould) *string { return &m.Name }),
		size("long_mm short_mm", must("size", "Formed size", "Of one sheet, inside the deckle."), said(func(m *plan.Mould) *float64 { return &m.LongMM }), said(func(m *plan.Mould) *float64 { return &m.ShortMM })),
		amount("sheets_at_a_pull", line("pull", "Sheets at a pull", "Of a divided deckle. Empty: one."), measure.OfCount, "", whole(func(m *plan.Mould) **int { return &m.AtAPull })),
		words("face", choice("face", "Face", "", "", "not said", "wove", "wove", "laid", "laid"), func(m *plan.Mould) *string { return &m.Face }),
		words("shape", choice("shape", "Shape", "", shapes()...), func(m *plan.Mould) *string { return &m.Shape }),
		amount("wires_per_cm", line("mesh", "Wires to a centimetre", ""), measure.OfNumber, "", maybe(func(m *plan.Mould) **float64 { return &m.MeshCM })),
		amount("count", line("count", "How many of it", "Empty: one."), measure.OfCount, "", whole(func(m *plan.Mould) **int { return &m.Count })),
	},
	settle: func(c *reading, prefix string, m, _ *plan.Mould) {
		if m.LongMM > 0 && !(m.LongMM <= mostMould && m.ShortMM >= leastMould) {
			c.Refuse(fault.OutOfRange(prefix+"size", "a mould is between %s and %s a side, not %s", c.One(leastMould, "mm"), c.One(mostMould, "mm"), c.SizeLine(m.LongMM, m.ShortMM)))
		}
	},
}

// Bounds of a mould's side in mm: those of the plan.
const (
	leastMould = 10
	mostMould  = 3000
)

func shapes() []string {
	out := []string{"", "not said"}
	for _, s := range sheet.Shapes() {
		out = append(out, s, s)
	}
	return out
}

var beaters = things[plan.Beater]{
	key: "beater", one: "Beater", path: "studio.beaters",
	of:   func(k *plan.Studio) *[]plan.Beater { return &k.Beaters },
	name: func(b *plan.Beater) *string { return &b.Name },
	blanks: []blank[plan.Beater]{
		called(func(b *plan.Beater) *string { return &b.Name }),
		words("kind", choice("kind", "Kind", "", "", "not said", "beater", "Hollander", "blender", "blender"), func(b *plan.Beater) *string { return &b.Kind }),
		amount("rated_dry_g", must("rated", "A load takes, bone-dry", "What its maker rates it at."), measure.OfMass, "g", said(func(b *plan.Beater) *float64 { return &b.RatedDryG })),
		amount("water_l", must("water", "The water that is in", ""), measure.OfVolume, "L", said(func(b *plan.Beater) *float64 { return &b.WaterL })),
		words("bars_ground", part.Field{Name: "ground", Label: "Bars last ground", Kind: part.Date}, func(b *plan.Beater) *string { return &b.Ground }),
	},
}
