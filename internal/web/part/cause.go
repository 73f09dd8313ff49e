package part

import (
	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/trouble"
)

// Cause is what may be behind a fault, as a page shows it.
type Cause struct {
	Text, Why, Test, Change string
	Cautions                []string
	Source                  Cited
}

// Cited is a source as a reader meets it, with how far it is trusted.
type Cited struct{ Key, Title, RestsOn string }

// Cite names a source of the registry.
func Cite(key string, g source.Grade) Cited {
	s, ok := source.Get(key)
	if !ok {
		return Cited{RestsOn: RestsOn(g)}
	}
	return Cited{Key: key, Title: s.Title, RestsOn: RestsOn(g)}
}

// Known reports whether there is a source to name beyond the words for its grade.
func (c Cited) Known() bool { return c.Key != "" && c.Key != "practice" && c.Key != "memory" }

// Causes tells causes in the reader's units.
func Causes(list []trouble.Cause, s Speech) []Cause {
	var out []Cause
	for _, c := range list {
		told := Cause{Text: s.told(c.Text), Why: s.told(c.Why), Test: s.told(c.Test), Change: s.told(c.Change), Source: Cite(c.Source, c.Grade)}
		for _, text := range c.Cautions {
			told.Cautions = append(told.Cautions, s.told(text))
		}
		out = append(out, told)
	}
	return out
}

// told is a sentence of its own in the reader's units.
func (s Speech) told(text string) string {
	return Upper(measure.Retell(text, s.System))
}
