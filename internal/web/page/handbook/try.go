package handbook

import (
	"strings"

	"vatside/internal/handbook"
	"vatside/internal/source"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// try applies the formula once something was asked; what was typed for other
// units is spelled out first.
func (d *FormulaData) try(form *page.Form, inputs []handbook.Input) error {
	if !form.Values.Has("system") {
		return nil
	}
	typed := map[string]string{}
	was := page.ReadSystem(form.Get("system"))
	for _, in := range inputs {
		if was != d.Speech.System {
			form.Values.Set(in.Key, in.Spell(form.Get(in.Key), was))
		}
		typed[in.Key] = form.Get(in.Key)
	}
	a, err := d.Formula.Try(typed, d.Speech.System)
	if err != nil {
		return err
	}
	for _, res := range a.Results {
		d.Answer = append(d.Answer, answer(res, d.Formula.Grade(), d.Speech))
	}
	d.Working, d.With = a.Working, strings.Join(a.With, ", ")
	return nil
}

// answer says a result in the reader's units.
func answer(res handbook.Result, g source.Grade, s part.Speech) Said {
	f := part.Figure{Key: "result", Name: res.Name, Number: res.Text, RestsOn: part.RestsOn(g), Large: true}
	if res.Text == "" {
		f.Number, f.Unit = s.Show(res.Value, res.Unit)
	}
	if res.Low < res.High {
		f.Band = "nine times in ten " + s.Span(res.Low, res.High, res.Unit)
		f.Bar = part.NewBar(res.Value, res.Low, res.High, f.Band)
	}
	said := Said{Name: res.Name, Value: res.Text, Figure: f}
	if res.Text == "" {
		said.Value = s.One(res.Value, res.Unit)
	}
	return said
}

// field asks for one input in the reader's units.
func field(in handbook.Input, s part.Speech) part.Field {
	fd := part.Field{Name: in.Key, Label: in.Label, Kind: part.Number, Required: true, Small: true}
	switch {
	case in.Options != nil:
		fd.Kind, fd.Small = part.Select, false
		for _, name := range in.Options {
			fd.Options = append(fd.Options, part.Option{Value: name, Label: name})
		}
		return fd
	case in.Text:
		fd.Kind = part.Text
		return fd
	}
	if fd.Unit = in.Unit(s.System); fd.Unit == "money" {
		fd.Unit = s.Currency
	}
	if in.Unit("metric") != in.Unit("us") {
		fd.Bare = fd.Unit
	}
	if low, high, unit, ok := in.Limits(); ok {
		fd.Hint = s.Range(low, high, unit)
	}
	return fd
}
