package making

import (
	"fmt"
	"net/url"
	"time"

	"vatside/internal/beating"
	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// faultsAt are the fields of the form by those of the entry.
var faultsAt = map[string]string{"events[0].body.value": "value", "events[0].body.hours": "hours", "events[0].body.roll": "roll",
	"events[0].body.load": "load", "events[0].body.water_c": "water", "events[0].body.stock_g_l": "stock"}

func scaleKey(s beating.Scale) string {
	b, err := s.MarshalText()
	if err != nil {
		return ""
	}
	return string(b)
}

// readingFields are the blanks of a reading.
func readingFields(f *page.Form, s part.Speech) []part.Field {
	var scales []part.Option
	for i, label := range []string{"Seconds", "°SR", "mL CSF"} {
		note := []string{"your own drain test", "Schopper-Riegler", "freeness"}[i]
		scales = append(scales, part.Option{Value: scaleKey(beating.Scale(i)), Label: label, Note: note})
	}
	list := []part.Field{
		{Name: "hours", Label: "Beaten until now", Kind: part.Number, Mode: "text", Unit: "h", Hint: "1 h 20, or 1.5."},
		{Name: "value", Label: "The test says", Kind: part.Number, Mode: "decimal"},
		{Name: "scale", Label: "Read in", Kind: part.Choices, Options: scales},
		{Name: "roll", Label: "The roll", Kind: part.Text, Hint: "Down, brushing, two turns up: as you say it."},
		{Name: "water", Label: "Water of the test", Kind: part.Number, Mode: "decimal", Unit: s.Bare(measure.OfTemperature), Bare: s.Bare(measure.OfTemperature), Hint: "Empty: 20 °C.", Small: true},
		{Name: "stock", Label: "Stock of the test", Kind: part.Number, Mode: "decimal", Unit: s.Bare(measure.OfConsistency), Bare: s.Bare(measure.OfConsistency), Hint: "Of a drain test. Empty: 2 g/L.", Small: true},
		{Name: "load", Label: "Load", Kind: part.Number, Mode: "numeric", Small: true},
	}
	for i := range list {
		list[i] = f.Field(list[i])
	}
	return list
}

// readReading takes a reading from the form.
func readReading(f *page.Form, s part.Speech) studio.BeatReading {
	number := func(name string, kind measure.Kind) *float64 {
		if f.Get(name) == "" {
			return nil
		}
		v, err := s.Read(name, f.Get(name), kind)
		f.Refuse(err)
		return &v
	}
	b := studio.BeatReading{Load: 1, Roll: f.Get("roll")}
	if h := number("hours", measure.OfHours); h != nil {
		b.Hours = *h
	} else {
		f.Refuse(fault.Invalid("hours", "say how long it was beaten, such as 1 h 20"))
	}
	b.Value, b.WaterC, b.StockGL = number("value", measure.OfNumber), number("water", measure.OfTemperature), number("stock", measure.OfConsistency)
	if f.Get("load") != "" {
		var err error
		b.Load, err = part.Count("load", f.Get("load"), 1, 1000, "loads")
		f.Refuse(err)
	}
	f.Refuse(b.Scale.UnmarshalText([]byte(f.Get("scale"))))
	if b.Scale != beating.ByDrainTime || b.Value == nil {
		b.WaterC, b.StockGL = nil, nil
	}
	return b
}

// keep is the target in the address, so that it stays.
func keep(f *page.Form) string {
	q := url.Values{}
	for _, name := range []string{"load", "target"} {
		if f.Get(name) != "" {
			q.Set(name, f.Get(name))
		}
	}
	return q.Encode()
}

// readings is the table of what the test said.
func readings(s part.Speech, b studio.Beating) *part.Table {
	if len(b.Readings) == 0 {
		return nil
	}
	t := &part.Table{Caption: fmt.Sprintf("Load %d, %s", b.Load, b.Scale), Columns: []part.Column{
		{Label: "Beaten"}, {Label: "Read", Unit: b.Scale.Unit(), Number: true}}}
	corrected := b.Scale == beating.ByDrainTime
	if corrected {
		t.Columns = append(t.Columns, part.Column{Label: "At 20 °C and 2 g/L", Unit: b.Scale.Unit(), Number: true})
	}
	for _, r := range b.Readings {
		row := part.Row{Cells: []string{beatenFor(r.Hours), fmt.Sprintf("%.3g", *r.BeatSeen.Value)}, Note: r.Apart}
		if corrected {
			row.Cells = append(row.Cells, fmt.Sprintf("%.3g", r.Value))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func beatenFor(hours float64) string {
	return measure.ShowDuration(measure.Minutes(hours * 60))
}

// rolled lists where the roll stood.
func rolled(st studio.State, load int, now time.Time) []Rolled {
	var list []Rolled
	for _, b := range st.Beats {
		if b.Load == load && b.Roll != "" {
			list = append(list, Rolled{beatenFor(b.Hours), b.Roll})
		}
	}
	return list
}

// beatSaid is what one reading says.
func beatSaid(s part.Speech, b studio.BeatReading) string {
	text := ""
	if b.Value != nil {
		text = fmt.Sprintf("%.3g %s", *b.Value, b.Scale.Unit())
	}
	if b.Roll != "" {
		if text != "" {
			text += ", "
		}
		text += "roll " + b.Roll
	}
	return text
}
