package reserve

import (
	"strconv"

	"vatside/internal/furnish"
	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// What can be tried: doses that are still paper, and shares that a sheet was
// ashed for.
const (
	mostDose            = 40.0 // % on dry fibre
	leastKept, mostKept = 5.0, 100.0
)

// ask reads the dose and the share that are tried instead of the design's and
// the known ones, and sets the form.
func (d *Data) ask(f *page.Form, dose measure.Dose, kept source.Value) (measure.Dose, source.Value) {
	d.Asked = "The design asks for no chalk."
	if dose > 0 {
		d.Asked = glued("The design asks for " + part.Written(100*float64(dose)) + " % calcium carbonate on dry fibre.")
	}
	f.Fill("dose", part.Written(100*float64(dose)))
	read := func(field, what string, low, high float64) (float64, bool) {
		v, err := d.Speech.Read(field, f.Get(field), measure.OfPercent)
		if err == nil {
			err = measure.Inside(field, what, v, low, high, "%")
		}
		f.Refuse(err)
		return v, err == nil
	}
	if v, ok := read("dose", "the chalk on dry fibre", 0, mostDose); ok {
		dose = measure.Dose(v / 100)
	}
	if f.Get("kept") != "" {
		if v, ok := read("kept", "the share that stays", leastKept, mostKept); ok {
			kept = source.Value{Low: v / 100, Mid: v / 100, High: v / 100, Source: source.KeyStudio, Grade: source.Measured}
		}
	}
	for _, fd := range []part.Field{
		{Name: "dose", Label: "Chalk on dry fibre", Kind: part.Number, Mode: "decimal", Unit: "%", Required: true, Small: true},
		{Name: "kept", Label: "Of it stays in the sheet", Kind: part.Number, Mode: "decimal", Unit: "%", Small: true, Hint: "Where a sheet was burnt to ash and weighed."},
	} {
		d.Fields = append(d.Fields, f.Field(fd))
	}
	d.Wrong = f.Wrong()
	return dose, kept
}

// other says a requirement; the tear of a light paper hangs on its grammage.
func other(s part.Speech, q furnish.Requirement, grammage float64) Requirement {
	out := Requirement{Name: part.Upper(q.Quantity), Here: part.Upper(measure.Retell(q.Here, s.System)) + "."}
	if q.Unit == "pH" {
		out.Name = q.Quantity // which begins small in any sentence
	}
	say := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	unit := ""
	if q.Unit != "pH" && q.Unit != "" {
		unit = " " + q.Unit
	}
	switch {
	case q.Low > 0 && q.High < 1e6:
		out.Limit = say(q.Low) + " to " + say(q.High) + unit
	case q.Low > 0:
		out.Limit = "at least " + say(q.Low) + unit
	default:
		out.Limit = "at most " + say(q.High) + unit
	}
	if q.Unit == "mN" {
		if tear, err := furnish.TearAsked(measure.GrammageConditioned(grammage)); err == nil {
			out.Name, out.Limit = "Tear, either way", "at least "+s.One(float64(tear), "mN")+" at "+s.One(grammage, "g/m²")
		}
	}
	return out
}
