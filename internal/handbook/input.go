package handbook

import (
	"reflect"
	"slices"
	"strings"

	"vatside/internal/measure"
)

// Input is one thing a formula is given.
type Input struct {
	Key     string // of the field, unique in the formula
	Symbol  string // in the formula line, "" where the contract gives none
	Label   string
	Options []string // to choose from; nil where it is typed
	Text    bool     // a word, not a number
	Range   *Range   // where the contract states it so that it can be read

	typ     reflect.Type
	reading reading
}

// Unit is the unit a bare number is taken in.
func (in Input) Unit(sys measure.System) string { return in.reading.in(sys) }

// Kind is what its field asks for.
func (in Input) Kind() measure.Kind { return in.reading.kind }

// Spell writes the unit of a system behind what was typed without one, so that
// it means the same to a reader of the other.
func (in Input) Spell(typed string, sys measure.System) string { return in.reading.spell(typed, sys) }

// Inputs are what the formula is given, a struct taken apart into its fields;
// ok says whether all of it can be typed, and what comes out be shown.
func (f Formula) Inputs() (list []Input, ok bool) {
	fn := functions[f.Name]
	if fn == nil {
		return nil, false
	}
	t := reflect.TypeOf(fn)
	if t.IsVariadic() || t.NumIn() != len(f.Params) {
		return nil, false
	}
	for i := range t.NumIn() {
		more, can := inputs(t.In(i), f.Params[i], true)
		if !can {
			return nil, false
		}
		list = append(list, more...)
	}
	for i := range t.NumOut() {
		if _, can := shown(reflect.Zero(t.Out(i)), ""); !can {
			return nil, false
		}
	}
	f.label(list)
	return list, true
}

// inputs takes one parameter apart; a struct inside a struct is not.
func inputs(t reflect.Type, p Param, open bool) ([]Input, bool) {
	in := Input{Key: strings.ToLower(p.Name), typ: t, Label: p.Note}
	if in.Key == "" {
		in.Key = strings.ToLower(t.Name())
	}
	if c, ok := choices[t]; ok {
		in.Options, in.Text = c.names(), true
		return []Input{in}, true
	}
	switch t.Kind() {
	case reflect.Float64, reflect.Int:
		in.reading = readingOf(t)
		return []Input{in}, true
	case reflect.String:
		in.Text = true
		return []Input{in}, true
	case reflect.Struct:
		if !open || t.NumField() != len(p.Fields) || t.NumField() == 0 {
			return nil, false
		}
		var list []Input
		for i := range t.NumField() {
			if !t.Field(i).IsExported() {
				return nil, false
			}
			more, ok := inputs(t.Field(i).Type, p.Fields[i], false)
			if !ok {
				return nil, false
			}
			if name := words(t.Field(i).Name); !strings.Contains(strings.ToLower(more[0].Label), name) {
				more[0].Label = strings.TrimSuffix(name+", "+more[0].Label, ", ")
			}
			if p.Name != "" { // two structs may have the same fields
				more[0].Key = strings.ToLower(p.Name) + "-" + more[0].Key
			}
			list = append(list, more...)
		}
		return list, true
	}
	return nil, false
}

// label names each input as the contract does: by the item that begins with
// its name, else in order where there are as many.
func (f Formula) label(list []Input) {
	items := strings.Split(f.Contract.Inputs, "; ")
	for i := range list {
		in := &list[i]
		item := ""
		for _, it := range items {
			if first, _, _ := strings.Cut(it, " "); strings.EqualFold(strings.TrimSuffix(first, ","), in.Key) {
				item = it
			}
		}
		switch {
		case in.Label != "": // a field of a struct has its own comment
			item = ""
		case item == "" && len(items) == len(list):
			item = items[i]
		}
		in.Symbol, item = symbol(item)
		label := clean(item, unitOf(in.typ))
		for _, other := range []string{in.Label, typeWords(in.typ), words(in.Key)} {
			if label == "" {
				label = clean(other, unitOf(in.typ))
			}
		}
		if label == "" {
			label = in.Key
		}
		in.Label = capital(label)
		in.Range = f.rangeOf(*in)
		if slices.ContainsFunc(list[:i], func(other Input) bool { return other.Key == in.Key }) {
			in.Key += "-2"
		}
	}
}

// symbol takes the symbol off an item of a contract: "h effective depth, mm".
// A word, such as hours, belongs to what is said.
func symbol(item string) (mark, rest string) {
	first, after, _ := strings.Cut(item, " ")
	first = strings.TrimSuffix(first, ",")
	if n := len([]rune(first)); n == 0 || n > 3 && !strings.ContainsAny(first, "_0123456789") {
		return first, item
	}
	return first, after
}

// clean takes the unit off the end of a label: the field shows it.
func clean(label, unit string) string {
	if at := strings.Index(label, ", "+unit+" ("); unit != "" && at >= 0 { // ", mm (= L/m²)"
		label = label[:at]
	}
	for _, end := range []string{unit, "as a fraction", "a fraction", "fractions", "fraction", "a whole number"} {
		if end == "" {
			continue
		}
		if label == end {
			return ""
		}
		if rest, ok := strings.CutSuffix(label, " "+end); ok {
			label = strings.TrimRight(rest, ", ")
		}
	}
	return label
}
