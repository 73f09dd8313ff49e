package ownfibre

import (
	"fmt"
	"slices"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// write fills the form with a fibre as it stands.
func write(f *page.Form, s part.Speech, o fibre.Own) {
	f.Fill("name", o.Name)
	f.Fill("like", o.Like)
	f.Fill("kind", o.Kind)
	f.Fill("note", o.Note)
	for _, g := range groups() {
		for _, v := range g.values {
			if b, ok := v.own(o); ok {
				f.Fill(v.field, v.write(s, b))
			}
		}
	}
}

// read takes a fibre from the form; a number nobody touched stays exactly as it
// was.
func read(f *page.Form, s part.Speech, was fibre.Own) fibre.Own {
	o := fibre.Own{Name: f.Get("name"), Kind: f.Get("kind"), Note: f.Get("note")}
	if source.Plain(o.Name) == "new" {
		f.Refuse(fault.Invalid("name", "say what it is, such as new denim"))
	}
	like, err := near(f.Get("like"))
	f.Refuse(err)
	if o.Like = like.Name; err != nil {
		o.Like = f.Get("like")
	}
	for _, g := range groups() {
		for _, v := range g.values {
			typed := f.Get(v.field)
			if typed == "" {
				continue
			}
			b, kept := v.own(was)
			if !kept || typed != v.write(s, b) {
				if b, err = v.read(s, v.width(like), typed); err != nil {
					f.Refuse(err)
					continue
				}
			}
			v.put(&o, b)
		}
	}
	return o
}

func (v value) put(o *fibre.Own, b fibre.Band) {
	to := &o.Values
	if v.hours {
		to = &o.Hours
	}
	if *to == nil {
		*to = map[string]fibre.Band{}
	}
	(*to)[v.Key] = b
}

// check refuses what the shelf would not take beside the others; what is wrong
// with those is told on their own pages.
func check(f *page.Form, s part.Speech, others []fibre.Own, o fibre.Own) {
	f.At = map[string]string{keptFibres: "name"}
	for _, g := range groups() {
		for _, v := range g.values {
			if v.hours {
				f.At["hours."+v.Key] = v.field
			} else {
				f.At["values."+v.Key] = v.field
			}
		}
	}
	mine := fmt.Sprintf("[%d].", len(others))
	_, err := fibre.NewShelf(append(others, o))
	for _, e := range fault.All(err) {
		at, ok := strings.CutPrefix(e.Field, mine)
		if !ok {
			continue
		}
		text := e.Text
		for _, q := range fibre.Quantities() {
			text = strings.ReplaceAll(text, q.Key, "“"+q.Name+"”")
		}
		if !slices.ContainsFunc(f.Faults, func(o *fault.Error) bool { return o.Field == at }) {
			f.Refuse(&fault.Error{Kind: e.Kind, Field: at, Text: measure.Retell(text, s.System)})
		}
	}
}
