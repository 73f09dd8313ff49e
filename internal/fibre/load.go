package fibre

import (
	"embed"
	"fmt"
	"slices"
	"sync"

	"vatside/internal/source"
)

//go:embed data/*.csv
var data embed.FS

type table struct {
	fibres []Fibre
	byName map[string]int // names and aliases in plain form
	cook   string         // the care that every cook takes
}

// CookCaution is the care that every cook takes.
func CookCaution() string { return load().cook }

// load reads the table once. A malformed table is a defect of the program.
var load = sync.OnceValue(func() table {
	t, err := read()
	if err != nil {
		panic("fibre: " + err.Error())
	}
	return t
})

// bases says, for each way the shrinkage curve was come by, how far off it may
// be (a fraction of the shrinkage) and what the reader is told.
var bases = map[string]struct {
	band float64
	note string
}{
	"table":         {0.40, "a fitted curve from memory, held only by one measured flax sheet"},
	"as-cotton-rag": {0.50, "taken as cotton rag, which it is; from memory"},
	"range":         {0.60, "drawn through a remembered range at the usual beat; no measurement stands behind it"},
	"as-near":       {0.70, "taken as the nearest fibre of the table; nothing of its own is known"},
}

func read() (table, error) {
	t := table{byName: map[string]int{}}
	cautions := map[string]string{}
	err := source.Table(data, "data/cautions.csv", 2, func(r []string) error {
		cautions[r[0]] = r[1]
		return nil
	})
	if err != nil {
		return t, err
	}
	if t.cook = cautions["alkali"]; t.cook == "" {
		return t, fmt.Errorf("no caution of the cook")
	}
	if err := source.Table(data, "data/fibres.csv", 14, func(r []string) error { return t.addFibre(r, cautions) }); err != nil {
		return t, err
	}
	if err := source.Table(data, "data/values.csv", 8, t.addValue); err != nil {
		return t, err
	}
	return t, source.Table(data, "data/hours.csv", 7, t.addHours)
}

func (t *table) addFibre(r []string, cautions map[string]string) error {
	basis, ok := bases[r[8]]
	if !ok {
		return fmt.Errorf("%q is not a basis of shrinkage", r[8])
	}
	keys := source.Entries(r[7])
	f := Fibre{
		Name: r[0], Kind: r[1], Aliases: source.Entries(r[2]), Forms: source.Entries(r[3]), Preparation: r[4], Drainage: r[5], Forming: r[6],
		LongFibre: slices.Contains(keys, "long"), HoldFlat: slices.Contains(keys, "hold-flat"), Foams: slices.Contains(keys, "foam"),
		ShrinkBand: basis.band, ShrinkNote: basis.note,
		Translucency: r[9], Strength: r[10], Dryings: source.Entries(r[11]), Raw: r[12] == "raw",
	}
	if r[13] != "" {
		f.Cook = &Cook{With: r[13]}
	}
	for _, d := range f.Dryings {
		if !slices.Contains(Dryings(), d) {
			return fmt.Errorf("%q is not a way of drying", d)
		}
	}
	for _, k := range keys {
		text, ok := cautions[k]
		if !ok {
			return fmt.Errorf("no caution %q", k)
		}
		f.Cautions = append(f.Cautions, text)
	}
	for _, n := range append([]string{f.Name}, f.Aliases...) {
		if _, doubled := t.byName[source.Plain(n)]; doubled {
			return fmt.Errorf("the name %q stands twice", n)
		}
		t.byName[source.Plain(n)] = len(t.fibres)
	}
	t.fibres = append(t.fibres, f)
	return nil
}

func (t *table) addValue(r []string) error {
	i, ok := t.byName[source.Plain(r[0])]
	if !ok {
		return fmt.Errorf("no fibre %q", r[0])
	}
	f := &t.fibres[i]
	q, ok := quantityOf(r[1])
	if !ok {
		return fmt.Errorf("no quantity %q", r[1])
	}
	if r[2] != q.Unit {
		return fmt.Errorf("%s is stated in %q, not in %q", r[1], q.Unit, r[2])
	}
	field := q.of(f)
	if field == nil {
		return fmt.Errorf("%s of %s, which is not cooked", r[1], f.Name)
	}
	if field.Known() {
		return fmt.Errorf("%s of %s stands twice", r[1], f.Name)
	}
	spread := 0.0
	if q.curve {
		spread = f.ShrinkBand
	}
	v, err := source.ReadValue(r[3], r[4], r[5], r[6], r[7], spread)
	if err != nil {
		return err
	}
	*field = q.kept(v)
	return nil
}

func (t *table) addHours(r []string) error {
	i, ok := t.byName[source.Plain(r[0])]
	if !ok {
		return fmt.Errorf("no fibre %q", r[0])
	}
	if r[1] != Usual && !slices.Contains(Uses(), r[1]) {
		return fmt.Errorf("no use %q", r[1])
	}
	if _, doubled := t.fibres[i].HoursFor(r[1]); doubled {
		return fmt.Errorf("%s for %s stands twice", r[0], r[1])
	}
	v, err := source.ReadValue(r[2], r[3], r[4], r[5], r[6], 0)
	if err != nil {
		return err
	}
	t.fibres[i].uses = append(t.fibres[i].uses, UseHours{Use: r[1], Hours: v})
	return nil
}
