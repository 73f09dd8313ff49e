package handbook

import (
	"fmt"
	"reflect"
	"regexp"
	"strconv"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Result is one thing a formula returned: a value in its unit, or a text.
type Result struct {
	Name  string
	Value float64
	Unit  string // as its type states it; "%" of a fraction, which Value then is in
	Text  string // where it is no number

	Low, High float64 // the band, where it comes with one
}

// Answer is what came of a try.
type Answer struct {
	Results []Result
	Working string   // the formula with the numbers in it, "" where they cannot be put in
	With    []string // each symbol and what it stood for
}

// Try reads what was typed, by the keys of the inputs, and applies the formula.
// The fault list names the field each fault belongs to, as far as that can be
// told.
func (f Formula) Try(typed map[string]string, sys measure.System) (Answer, error) {
	list, ok := f.Inputs()
	if !ok {
		return Answer{}, fault.Invalid("", "This formula cannot be tried with typed numbers.")
	}
	values := make([]reflect.Value, len(list))
	var wrong fault.List
	for i, in := range list {
		v, err := in.value(typed[in.Key], sys)
		if err != nil {
			wrong.Add(fault.Invalid(in.Key, "%s", fault.All(err)[0].Text))
		}
		values[i] = v
	}
	if len(wrong) > 0 {
		return Answer{}, wrong
	}
	out, err := call(functions[f.Name], values)
	if err != nil {
		for _, e := range fault.All(err) {
			wrong = append(wrong, &fault.Error{Kind: e.Kind, Field: blame(list, values, e), Text: inPercent(e.Text)})
		}
		return Answer{}, wrong
	}
	var a Answer
	for i, o := range out {
		name := f.Results[i].Name
		if i == 0 {
			name, _, _ = strings.Cut(f.Contract.Quantity, ", ")
			name, _, _ = strings.Cut(name, " and its ") // band, which is shown anyway
		}
		more, _ := shown(o, capital(words(name)))
		a.Results = append(a.Results, more...)
	}
	f.banded(a.Results)
	if a.Working, a.With = f.working(list, values, typed); a.Working != "" {
		a.Working += " = " + plain(out[0])
	}
	return a, nil
}

// plain writes a value in the unit of its type, as a formula states it.
func plain(v reflect.Value) string {
	if !v.CanConvert(reflect.TypeFor[float64]()) {
		return fmt.Sprint(v)
	}
	n := strconv.FormatFloat(v.Convert(reflect.TypeFor[float64]()).Float(), 'g', 6, 64)
	return strings.TrimSpace(n + " " + unitOf(v.Type()))
}

// value reads one input.
func (in Input) value(typed string, sys measure.System) (reflect.Value, error) {
	typed = strings.TrimSpace(typed)
	if in.Options != nil {
		v, err := choices[in.typ].find(typed)
		return reflect.ValueOf(v), err
	}
	if in.Text {
		return reflect.ValueOf(typed).Convert(in.typ), nil
	}
	v, err := in.reading.read(typed, sys)
	return reflect.ValueOf(v).Convert(in.typ), err
}

// call applies a function to its inputs, structs put together again. What it
// panics with is a defect of ours, and told as one.
func call(fn any, values []reflect.Value) (out []reflect.Value, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("handbook: a formula panicked: %v", r)
		}
	}()
	f := reflect.ValueOf(fn)
	var args []reflect.Value
	for i := range f.Type().NumIn() {
		t := f.Type().In(i)
		if _, chosen := choices[t]; t.Kind() != reflect.Struct || chosen {
			args, values = append(args, values[0]), values[1:]
			continue
		}
		whole := reflect.New(t).Elem()
		for j := range t.NumField() {
			whole.Field(j).Set(values[0])
			values = values[1:]
		}
		args = append(args, whole)
	}
	for _, o := range f.Call(args) {
		if failed, ok := o.Interface().(error); ok {
			return nil, failed
		}
		if o.Type() != reflect.TypeFor[error]() {
			out = append(out, o)
		}
	}
	return out, nil
}

// shown takes a result apart for the page; ok says whether it can be.
func shown(v reflect.Value, name string) (list []Result, ok bool) {
	t := v.Type()
	switch {
	case t == reflect.TypeFor[error]():
		return nil, true
	case t.Kind() == reflect.Int && t.Implements(reflect.TypeFor[fmt.Stringer]()):
		return []Result{{Name: name, Text: fmt.Sprint(v)}}, true
	case t.Kind() == reflect.Float64 || t.Kind() == reflect.Int || t.Kind() == reflect.Int64:
		r := Result{Name: name, Unit: unitOf(t)}
		r.Value = v.Convert(reflect.TypeFor[float64]()).Float()
		if fractions[t] {
			r.Value, r.Unit = 100*r.Value, "%"
		}
		return []Result{r}, true
	case t.Kind() == reflect.String:
		return []Result{{Name: name, Text: v.String()}}, true
	case t.Kind() == reflect.Bool:
		text := "no"
		if v.Bool() {
			text = "yes"
		}
		return []Result{{Name: name, Text: text}}, true
	case t.Kind() == reflect.Struct && t.NumField() > 0:
		if mid, ok := band(v, name); ok {
			return []Result{mid}, true
		}
		for i := range t.NumField() {
			if !t.Field(i).IsExported() || t.Field(i).Type.Kind() == reflect.Struct {
				return nil, false
			}
			more, can := shown(v.Field(i), capital(words(t.Field(i).Name)))
			if !can {
				return nil, false
			}
			list = append(list, more...)
		}
		return list, true
	}
	return nil, false
}

// band takes a number of the tables, a middle with its band, as one result.
func band(v reflect.Value, name string) (Result, bool) {
	var of [3]float64
	for i, field := range []string{"Mid", "Low", "High"} {
		f := v.FieldByName(field)
		if f.Kind() != reflect.Float64 {
			return Result{}, false
		}
		of[i] = f.Float()
	}
	return Result{Name: name, Value: of[0], Low: of[1], High: of[2]}, true
}

// banded gives numbers of the tables the unit that the contract says they are
// in: their own type has none.
func (f Formula) banded(list []Result) {
	for i := range list {
		r := &list[i]
		if r.Low == r.High || r.Unit != "" {
			continue
		}
		last := f.Contract.Quantity[strings.LastIndex(f.Contract.Quantity, " ")+1:]
		if strings.HasPrefix(last, "fraction") {
			r.Value, r.Low, r.High, r.Unit = 100*r.Value, 100*r.Low, 100*r.High, "%"
		} else if _, known := readings[last]; known || strings.Contains(last, "/") {
			r.Unit = last
		}
	}
}

var token = regexp.MustCompile(`\p{L}[\p{L}\p{N}_]*|\d[\d.]*(?:e[-+]?\d+)?`)

// working puts the numbers into the formula, in the units it is stated in,
// where it has a place for each; and it lists what each symbol stood for.
func (f Formula) working(list []Input, values []reflect.Value, typed map[string]string) (text string, with []string) {
	numbers, put := map[string]string{}, map[string]bool{}
	for i, in := range list {
		if in.Text {
			with = append(with, strings.ToLower(in.Label)+" "+typed[in.Key])
			continue
		}
		text := plain(values[i])
		numbers[in.Symbol], _, _ = strings.Cut(text, " ")
		name := in.Symbol
		if name == "" {
			name = strings.ToLower(in.Label)
		}
		with = append(with, name+" = "+text)
	}
	if len(f.Lines) == 0 {
		return "", with
	}
	left, right, found := strings.Cut(f.Lines[0], "=")
	if !found || len(numbers) < len(list) || strings.Contains(right, "=") {
		return "", with
	}
	last := 0
	var b strings.Builder
	for _, at := range token.FindAllStringIndex(right, -1) {
		between := right[last:at[0]]
		b.WriteString(between)
		word := right[at[0]:at[1]]
		if n, ok := numbers[word]; ok {
			if last > 0 && strings.TrimSpace(between) == "" {
				b.WriteString("· ") // what stood side by side was a product
			}
			if strings.HasPrefix(n, "-") {
				n = "(" + n + ")"
			}
			put[word], word = true, n
		}
		b.WriteString(word)
		last = at[1]
	}
	if len(put) < len(numbers) {
		return "", with
	}
	return strings.TrimSpace(left) + " = " + strings.TrimSpace(b.String()+right[last:]), with
}
