package record

import (
	"strconv"

	"vatside/internal/measure"
	"vatside/internal/web/part"
)

// down sets the blanks for what is counted and measured at the end.
func (s setter) down(o opened, l layout) {
	d := s.d
	d.On = s.f.Field(part.Field{Name: "on", Label: "Pulled on", Kind: part.Date})
	d.all = append(d.all, d.On)
	long, short := o.making.Plan.Figures["dry_long_mm"], o.making.Plan.Figures["dry_short_mm"]
	d.Down = append(d.Down, s.cell("stock-left", "Stock left", measure.OfVolume, ""))
	for i := 1; i <= l.sizeRows; i++ {
		of := ""
		if i > 1 {
			of = " of sheet " + strconv.Itoa(i)
		}
		a := s.cell(name("size", i, "long"), "Dry, long"+of, measure.OfLength, s.expected(o, long.Value))
		b := s.cell(name("size", i, "short"), "Dry, short"+of, measure.OfLength, s.expected(o, short.Value))
		if i == 1 {
			d.Down = append(d.Down, a, b)
			continue
		}
		d.Sizes = append(d.Sizes, a, b)
		d.SizesOpen = d.SizesOpen || a.Value+b.Value+a.Error+b.Error != ""
	}
	for i := 1; i <= l.dryRows; i++ {
		d.Down = append(d.Down, s.cell(name("dry", i, "grams"), "They weigh, dry", measure.OfMass, ""),
			s.cell(name("dry", i, "rh"), "Room humidity", measure.OfPercent, ""),
			s.cell(name("dry", i, "sheets"), "Dry sheets weighed", measure.OfCount, ""))
	}
	d.Grades = []Cell{
		s.cell("good", "Good", measure.OfCount, ""), s.cell("retree", "Retree", measure.OfCount, ""),
		s.cell("broken", "Broken", measure.OfCount, ""), s.cell("broke", "Broke", measure.OfCount, ""),
	}
}

// expected is a size as it was planned, without its unit.
func (s setter) expected(o opened, mm float64) string {
	if mm == 0 {
		return ""
	}
	return bare(o.base.Speech, mm, "mm", measure.OfLength)
}
