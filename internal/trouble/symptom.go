package trouble

import (
	"embed"
	"fmt"
	"maps"
	"slices"
	"sync"

	"vatside/internal/source"
)

//go:embed data/*.csv
var data embed.FS

// Symptom is a fault as a maker sees it.
type Symptom struct {
	Key     string   `json:"key"`
	Name    string   `json:"name"`
	Where   string   `json:"where"` // the step at which it shows: vat, forming, couching, pressing, drying, finished
	Aliases []string `json:"aliases,omitempty"`
}

// Symptoms lists what can be asked, in the order of the work.
func Symptoms() []Symptom {
	out := slices.Clone(load().symptoms)
	for i := range out {
		out[i] = out[i].clone()
	}
	return out
}

// rules are all rules by key. A cause in the table names one.
var rules = func() map[string]rule {
	all := map[string]rule{"look": look}
	maps.Copy(all, stockRules)
	maps.Copy(all, vatRules)
	maps.Copy(all, dryRules)
	return all
}()

type table struct {
	symptoms []Symptom
	heard    [][][]string       // beside symptoms: the words of each name
	causes   map[string][]Cause // by symptom
}

// load reads the table once. A malformed table is a defect of the program.
var load = sync.OnceValue(func() table {
	t, err := read()
	if err != nil {
		panic("trouble: " + err.Error())
	}
	return t
})

func read() (table, error) {
	t := table{causes: map[string][]Cause{}}
	cautions := map[string]string{}
	err := source.Table(data, "data/cautions.csv", 2, func(r []string) error {
		cautions[r[0]] = r[1]
		return nil
	})
	if err != nil {
		return t, err
	}
	err = source.Table(data, "data/symptoms.csv", 4, func(r []string) error {
		s := Symptom{Key: r[0], Name: r[1], Where: r[2], Aliases: source.Entries(r[3])}
		t.symptoms = append(t.symptoms, s)
		var names [][]string
		for _, name := range s.names() {
			names = append(names, words(name))
		}
		t.heard = append(t.heard, names)
		t.causes[r[0]] = nil
		return nil
	})
	if err != nil {
		return t, err
	}
	return t, source.Table(data, "data/causes.csv", 7, func(r []string) error { return t.addCause(r, cautions) })
}

func (t *table) addCause(r []string, cautions map[string]string) error {
	if _, ok := t.causes[r[0]]; !ok {
		return fmt.Errorf("no symptom %q", r[0])
	}
	if rules[r[1]] == nil {
		return fmt.Errorf("no rule %q", r[1])
	}
	src, ok := source.Get(r[5])
	if !ok {
		return fmt.Errorf("the source %q is not in the registry", r[5])
	}
	c := Cause{Rule: r[1], Text: r[2], Test: r[3], Change: r[4], Source: r[5], Grade: src.Grade}
	for _, key := range source.Entries(r[6]) {
		text, ok := cautions[key]
		if !ok {
			return fmt.Errorf("no caution %q", key)
		}
		c.Cautions = append(c.Cautions, text)
	}
	t.causes[r[0]] = append(t.causes[r[0]], c)
	return nil
}
