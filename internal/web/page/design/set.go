package design

import (
	"strconv"
	"strings"

	"vatside/internal/fibre"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// rows are like things, one more than are filled in. Aside says what a row has
// besides, by its number and what stands in it.
func rows(f *page.Form, what, label, much, slide string, unit string, options []part.Option, aside func(i int, name string) string) []Row {
	n := fewRows
	for i := 1; i < mostRows; i++ {
		if f.Get(named(what, i)) != "" {
			n = max(n, i+1)
		}
	}
	var list []Row
	for i := 1; i <= n; i++ {
		list = append(list, Row{
			What: Question{Field: f.Field(part.Field{Name: named(what, i), Label: label + " " + strconv.Itoa(i), Hint: aside(i, f.Get(named(what, i))), Kind: part.Suggest, Options: options})},
			Much: Question{f.Field(part.Field{Name: named(much, i), Label: part.Upper(much) + " " + strconv.Itoa(i), Kind: part.Number, Mode: "decimal", Unit: unit, Small: true}), slide},
		})
	}
	return list
}

// besides is what a part of the furnish has that is not asked for here.
func besides(s part.Speech, p plan.Part) string {
	var said []string
	if p.BeatingHours != nil {
		said = append(said, "beaten by itself, "+s.One(*p.BeatingHours, "h"))
	}
	if p.Cooked != nil && *p.Cooked {
		said = append(said, "comes cooked")
	} else if p.Cooked != nil {
		said = append(said, "comes raw")
	}
	return part.Upper(strings.Join(said, "; "))
}

func named(what string, i int) string { return what + "-" + strconv.Itoa(i) }

// set sets the form with what stands in it and what is wrong with it.
func (d *Data) set(f *page.Form, old studio.Paper, shelf fibre.Shelf) {
	s := d.Speech
	d.ID, d.Name, d.System = old.ID, old.Name, string(s.System)
	if old.ID != "" {
		f.Fill("revision", strconv.Itoa(old.Revision))
		d.Revision = f.Get("revision")
		d.Keep = []part.Field{f.Field(part.Field{Name: "change", Label: "What is changed, and why?", Hint: "For whoever makes it in two years.", Kind: part.Text})}
	} else {
		f.Fill("name", old.Name)
		d.Keep = []part.Field{f.Field(part.Field{Name: "name", Label: "What is it called?", Kind: part.Text})}
	}
	d.Furnish = rows(f, "fibre", "Fibre", "share", slideShare, "%", part.FibreNames(shelf), func(i int, name string) string {
		if was := old.Design.Furnish; i <= len(was) && strings.EqualFold(was[i-1].Fibre, name) {
			return besides(s, was[i-1])
		}
		return ""
	})
	d.Added = rows(f, "additive", "Additive", "dose", slideDose, "", addable(), func(i int, name string) string {
		if was := old.Design.Additives; i <= len(was) && strings.EqualFold(was[i-1].Kind, name) && was[i-1].StrengthPct != nil {
			return "As bought it holds " + s.One(*was[i-1].StrengthPct, "%")
		}
		return ""
	})
	for _, q := range asked(s, old.Sheet) {
		d.Asked = append(d.Asked, Question{f.Field(q.Field), q.Slide})
	}
	d.Wrong = f.Wrong()
}
