package ask

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/google/jsonschema-go/jsonschema"

	"vatside/internal/cooking"
	"vatside/internal/fault"
	"vatside/internal/figure"
	"vatside/internal/furnish"
	"vatside/internal/measure"
	"vatside/internal/source"
)

// Convert is the form of a quantity wanted in another unit.
var Convert = newForm[ConvertRequest, ConvertAnswer]("vatside convert", custom, checkConvert, amendConvert)

// ConvertRequest asks for a number in another unit: a value with the unit it
// is in, or a text as people type it.
type ConvertRequest struct {
	Value   *float64 `json:"value,omitempty"`
	From    string   `json:"from,omitempty"`
	Text    string   `json:"text,omitempty"`
	To      string   `json:"to"`
	Density *float64 `json:"density_g_ml,omitempty"`
	Product string   `json:"product,omitempty"`
}

// ConvertAnswer is the quantity as a figure, in the unit asked for.
type ConvertAnswer struct {
	figure.Figure
	Wet        *float64 `json:"wet,omitempty"`         // with its water, where the solids were said
	SecondSide *float64 `json:"second_side,omitempty"` // of a size
	Notes      []string `json:"notes"`
}

// bulk is what weighs so much by volume beside additives and alkalis;
// remembered, so wide.
var bulk = map[string]measure.Span{ // g/mL
	"stock": {Low: 0.98, Mid: 1.0, High: 1.02},  // fibre is heavier than water, and carries air
	"water": {Low: 0.99, Mid: 0.998, High: 1.0}, // 45 to 4 °C
}

// Answer converts.
//
// Errors: faults of kind Invalid or OutOfRange at the keys of the request.
func (r ConvertRequest) Answer() (ConvertAnswer, error) {
	density, from, err := r.density()
	if err != nil {
		return ConvertAnswer{}, err
	}
	var c measure.Converted
	if r.Value == nil {
		c, err = measure.ConvertText(r.Text, r.To, density)
	} else {
		c, err = measure.Convert(*r.Value, r.From, r.To, density)
	}
	if err != nil {
		return ConvertAnswer{}, sentence(err)
	}
	a := ConvertAnswer{Figure: figure.Figure{Name: "converted", Kind: figure.Outcome, Value: c.Value, Low: c.Low, High: c.High, Unit: c.Unit, Basis: source.Standard}, Notes: c.Notes}
	for _, s := range c.Steps {
		line := figure.Line{What: s.What, Working: s.Working, Result: s.Result, Source: s.Source}
		switch s.Source {
		case measure.AsSaid:
			line.Source = "brief"
		case measure.OfDensity:
			line.Source = from
			if r.Density == nil {
				a.Notes = append(a.Notes, "What it weighs by volume hangs on the grade and how it is filled: weigh it where it matters.")
			}
		}
		if of, ok := source.Get(line.Source); ok {
			line.Grade = of.Grade.String()
			a.Basis = source.Worse(a.Basis, of.Grade)
		}
		a.Sum = append(a.Sum, line)
	}
	a.Wet = c.Wet
	if c.Side != 0 {
		a.SecondSide = &c.Side
	}
	if a.Notes == nil {
		a.Notes = []string{}
	}
	return a, nil
}

// density is that of the request or of its product, and the key of its source;
// nil where neither is said.
func (r ConvertRequest) density() (*measure.Span, string, error) {
	if r.Density != nil {
		d := measure.Exactly(*r.Density)
		return &d, "brief", nil
	}
	product := strings.ToLower(strings.TrimSpace(r.Product))
	if product == "" && r.Text != "" {
		if a, err := measure.ReadAmount(r.Text, measure.US); err == nil {
			product = a.Of
		}
	}
	if d, ok := bulk[product]; ok {
		return &d, "memory", nil
	}
	if b := cooking.Bulk(product); b.Known() {
		if a, ok := cooking.GetAlkali(product); !ok || !a.Caustic { // what burns is weighed
			return &measure.Span{Low: b.Low, Mid: b.Mid, High: b.High}, b.Source, nil
		}
	}
	if a, ok := furnish.GetAdditive(product); ok && a.Bulk.Known() {
		return &measure.Span{Low: a.Bulk.Low, Mid: a.Bulk.Mid, High: a.Bulk.High}, a.Bulk.Source, nil
	}
	if r.Product != "" {
		return nil, "", fault.Invalid("product", "What %s weighs by volume is not known here: weigh it, or say density_g_ml.", cut(r.Product))
	}
	return nil, "", nil
}

func checkConvert(r ConvertRequest) error {
	var l fault.List
	if r.Value != nil {
		l.Add(measure.Inside("value", "The number to convert", *r.Value, -1e12, 1e12, ""))
	}
	if r.Density != nil {
		l.Add(measure.Inside("density_g_ml", "The density", *r.Density, measure.DensityRange.Low, measure.DensityRange.High, "g/mL"))
	}
	switch {
	case r.To == "":
		l.Add(fault.Invalid("to", "This key is missing: give the unit wanted, such as g/m2."))
	case r.Text != "" && (r.Value != nil || r.From != ""):
		l.Add(fault.Invalid("text", "Give either text, or value and from."))
	case r.Text == "" && r.Value == nil:
		l.Add(fault.Invalid("value", `This key is missing: give a number with its unit under from, or a text such as "27 lb wet at 10 %%".`))
	case r.Text == "" && r.From == "":
		l.Add(fault.Invalid("from", "This key is missing: give the unit of the value, such as lb bond."))
	}
	if len(l) == 0 {
		_, err := r.Answer()
		l.Add(err)
	}
	return l.OrNil()
}

func amendConvert(request *jsonschema.Schema) {
	request.AnyOf = []*jsonschema.Schema{{Required: []string{"value", "from"}}, {Required: []string{"text"}}}
	request.Not = &jsonschema.Schema{AnyOf: []*jsonschema.Schema{{Required: []string{"text", "value"}}, {Required: []string{"text", "from"}}}}
	limit(at(request, "value"), bound{"", -1e12, 1e12, 24, "in the unit of from"})
	limit(at(request, "density_g_ml"), bound{"", measure.DensityRange.Low, measure.DensityRange.High, 1.0, "takes a volume to a mass and back"})
	for _, s := range []struct{ key, about, example string }{
		{"from", "the unit of the value", "lb bond"},
		{"to", "the unit wanted", "g/m2"},
		{"text", "instead of value and from: a quantity as people type it", "27 lb wet at 10 %"},
		{"product", "what it is, where a volume is weighed", "soda ash"},
	} {
		of := at(request, s.key)
		of.Description, of.Examples = s.about, []any{s.example}
	}
}

// sentence writes a fault of measure as requests are answered: with a capital
// and a full stop.
func sentence(err error) error {
	var l fault.List
	for _, f := range fault.All(err) {
		first, size := utf8.DecodeRuneInString(f.Text)
		l.Add(&fault.Error{Kind: f.Kind, Field: f.Field, Text: string(unicode.ToUpper(first)) + f.Text[size:] + "."})
	}
	return l.OrNil()
}
