package furnish

import (
	"embed"
	"fmt"
	"slices"
	"strconv"
	"sync"

	"vatside/internal/measure"
	"vatside/internal/source"
)

//go:embed data/*.csv
var data embed.FS

type table struct {
	additives []Additive
	byName    map[string]int // names and aliases in plain form
	clashes   []clash

	requirements []Requirement
}

// load reads the table once. A malformed table is a defect of the program.
var load = sync.OnceValue(func() table {
	t, err := read()
	if err != nil {
		panic("furnish: " + err.Error())
	}
	return t
})

// otherRetained is the share retained where nothing is known of an additive.
func otherRetained() source.Value {
	return source.Said(0.40, 0.65, 0.85, source.KeyMemory, "any additive, until a sheet is ashed")
}

func read() (table, error) {
	t := table{byName: map[string]int{}}
	cautions := map[string]string{}
	err := source.Table(data, "data/cautions.csv", 3, func(r []string) error {
		cautions[r[0]] = r[1]
		return known(r[2])
	})
	if err != nil {
		return t, err
	}
	if err := source.Table(data, "data/additives.csv", 6, func(r []string) error { return t.addAdditive(r, cautions) }); err != nil {
		return t, err
	}
	if err := source.Table(data, "data/values.csv", 8, t.addValue); err != nil {
		return t, err
	}
	for i := range t.additives {
		if a := &t.additives[i]; !a.Retained.Known() {
			a.Retained = otherRetained()
		}
	}
	if err := source.Table(data, "data/permanence.csv", 6, t.addRequirement); err != nil {
		return t, err
	}
	return t, source.Table(data, "data/clashes.csv", 5, t.addClash)
}

func (t *table) addAdditive(r []string, cautions map[string]string) error {
	a := Additive{Name: r[0], Group: Group(r[1]), Aliases: source.Entries(r[2]), MakeUp: r[3], Use: r[4]}
	if !slices.Contains(Groups(), a.Group) {
		return fmt.Errorf("%q is not a group", r[1])
	}
	for _, k := range source.Entries(r[5]) {
		text, ok := cautions[k]
		if !ok {
			return fmt.Errorf("no caution %q", k)
		}
		a.Cautions = append(a.Cautions, text)
	}
	for _, n := range append([]string{a.Name}, a.Aliases...) {
		if _, doubled := t.byName[source.Plain(n)]; doubled {
			return fmt.Errorf("the name %q stands twice", n)
		}
		t.byName[source.Plain(n)] = len(t.additives)
	}
	t.additives = append(t.additives, a)
	return nil
}

func (t *table) addValue(r []string) error {
	i, ok := t.byName[source.Plain(r[0])]
	if !ok {
		return fmt.Errorf("no additive %q", r[0])
	}
	field, unit := t.additives[i].field(r[1])
	switch {
	case field == nil:
		return fmt.Errorf("no quantity %q", r[1])
	case r[2] != unit:
		return fmt.Errorf("%s is stated in %q, not in %q", r[1], unit, r[2])
	case field.Known():
		return fmt.Errorf("%s of %s stands twice", r[1], r[0])
	}
	v, err := source.ReadValue(r[3], r[4], r[5], r[6], r[7], 0)
	if err != nil {
		return err
	}
	if unit == "%" {
		v.Low, v.Mid, v.High = v.Low/100, v.Mid/100, v.High/100
	}
	*field = v
	return nil
}

// field returns where a quantity is kept, and its unit in the table.
func (a *Additive) field(quantity string) (*source.Value, string) {
	switch quantity {
	case "dose":
		return &a.Dose, "%"
	case "stock_in_vat":
		return &a.StockInVat, "L/L"
	case "retained":
		return &a.Retained, "%"
	case "retained_aided":
		return &a.RetainedAided, "%"
	case "strength":
		return &a.Strength, "%"
	case "bulk":
		return &a.Bulk, "g/mL"
	case "concentration":
		return &a.Concentration, "g/L"
	case "ash":
		return &a.Ash, "%"
	case "keeps":
		return &a.Keeps, "h"
	case "ph":
		return &a.PH, "pH"
	case "price":
		return &a.Price, "USD/kg"
	}
	return nil, ""
}

// addClash reads a row of the table of clashes; what it names must exist.
func (t *table) addClash(r []string) error {
	for _, name := range r[:2] {
		if _, ok := t.byName[source.Plain(name)]; !ok && !slices.Contains(Groups(), Group(name)) {
			return fmt.Errorf("%q is neither an additive nor a group", name)
		}
	}
	over, err := strconv.ParseFloat(r[2], 64)
	if err != nil {
		return err
	}
	t.clashes = append(t.clashes, clash{r[0], r[1], measure.Dose(over / 100), r[3], r[4]})
	return known(r[4])
}

func known(key string) error {
	if _, ok := source.Get(key); !ok {
		return fmt.Errorf("the source %q is not in the registry", key)
	}
	return nil
}
