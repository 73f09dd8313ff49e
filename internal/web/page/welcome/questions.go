package welcome

import (
	"slices"
	"strconv"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// What a jack's tonnes press with, in kN: a metric ton-force, and the American
// short ton-force (NIST SP 811, appendix B).
const (
	tonneKN    = 9.80665
	shortTonKN = 8.896443
)

// weightsKN is a post under boards and two five-gallon buckets of water, 83 lb
// together: common practice.
const weightsKN = 0.37

// defaults fills in what most will leave as it is.
func defaults(f *page.Form, s part.Speech) {
	f.Fill("paper", "book text")
	f.Fill("good", "20")
	f.Fill("fibre", "")
	f.Fill("press", "")
	f.Fill("drying", "")
	if s.US() {
		f.Fill("size", "Letter")
		f.Fill("vat", "20 gal")
		f.Fill("jug", "1 qt")
		return
	}
	f.Fill("size", "A4")
	f.Fill("vat", "80 L")
	f.Fill("jug", "1000 mL")
}

// fill sets the questions with what was typed.
func fill(base page.Base, f *page.Form, shelf fibre.Shelf) Data {
	var kinds []part.Option
	for _, s := range studio.StartingPapers() {
		kinds = append(kinds, part.Option{Value: s.Use, Label: s.Title, Note: base.Speech.One(s.Design.GrammageConditioned, "g/m²")})
	}
	questions := []part.Field{
		{Name: "paper", Label: "What are you making?", Kind: part.Choices, Options: kinds},
		{Name: "size", Label: "What size, finished?", Hint: "By name, or two sides.", Kind: part.Suggest, Bare: base.Speech.Bare(measure.OfLength), Options: base.Speech.SizeNames(), Required: true},
		{Name: "good", Label: "How many good sheets?", Kind: part.Number, Mode: "numeric", Unit: "sheets", Required: true},
		{Name: "fibre", Label: "Which fibre?", Hint: "One name, or a blend such as: cotton rag 70, abaca 30. Empty: what is usual for this paper.", Kind: part.Suggest, Options: part.FibreNames(shelf)},
		{Name: "vat", Label: "How much does your vat hold when you work?", Hint: "Empty: not sure.", Kind: part.Number, Bare: base.Speech.Bare(measure.OfVolume)},
		{Name: "jug", Label: "Which jug do you add stock with?", Hint: "What it holds. The card counts in this jug.", Kind: part.Number, Bare: base.Speech.Bare(measure.OfSmallVolume)},
		{Name: "press", Label: "How do you press?", Kind: part.Choices, Options: presses(base.Speech)},
		{Name: "drying", Label: "How do you dry?", Kind: part.Choices, Options: append([]part.Option{{Value: "", Label: "As is usual for this paper"}}, page.Dryings...)},
	}
	d := Data{Base: base}
	for _, q := range questions {
		d.Questions = append(d.Questions, f.Field(q))
	}
	d.Wrong = f.Wrong()
	return d
}

func presses(s part.Speech) []part.Option {
	ton, word := tonneKN, " tonne jack"
	if s.US() {
		ton, word = shortTonKN, " ton jack"
	}
	jack := func(tons float64) part.Option {
		return part.Option{Value: strconv.FormatFloat(tons*ton, 'f', 2, 64), Label: strconv.FormatFloat(tons, 'f', -1, 64) + word}
	}
	return []part.Option{
		{Value: "", Label: "Not sure yet"},
		{Value: strconv.FormatFloat(weightsKN, 'f', 2, 64), Label: "No press", Note: "boards and buckets of water"},
		jack(2), jack(6), jack(12), jack(20),
	}
}

// read takes the answers from the form; what is wrong is noted in it.
func read(f *page.Form, s part.Speech, shelf fibre.Shelf) answers {
	a := answers{system: string(s.System)}
	papers := studio.StartingPapers()
	i := slices.IndexFunc(papers, func(p studio.Starting) bool { return p.Use == f.Get("paper") })
	if i < 0 {
		f.Refuse(fault.Invalid("paper", "choose what you are making"))
		i = 0
	}
	a.name, a.design, a.why = papers[i].Title, papers[i].Design, papers[i].Why
	long, short, err := s.ReadSize("size", f.Get("size"))
	f.Refuse(err)
	a.sheet = plan.Sheet{LongMM: long, ShortMM: short, Edges: papers[i].Sheet.Edges, ToleranceMM: papers[i].Sheet.ToleranceMM}
	a.good, err = part.GoodSheets("good", f.Get("good"))
	f.Refuse(err)
	if f.Get("fibre") != "" {
		a.design.Furnish, err = part.ReadFurnish(shelf, "fibre", f.Get("fibre"))
		f.Refuse(err)
		a.design.BeatingHours = nil // the hours were for another furnish: the handbook has this one's
	}
	a.vatL = quantity(f, s, "vat", measure.OfVolume, "L", 1, 2000)
	a.jugML = quantity(f, s, "jug", measure.OfSmallVolume, "mL", 10, 20_000)
	if f.Get("press") != "" {
		kn, err := strconv.ParseFloat(f.Get("press"), 64)
		if err != nil || !(kn > 0 && kn <= 2000) {
			f.Refuse(fault.Invalid("press", "choose how you press"))
		} else {
			a.press = &plan.Press{ForceKN: kn}
		}
	}
	if d := f.Get("drying"); d != "" {
		a.design.Drying = d
	}
	return a
}

// quantity reads an amount that may be skipped.
func quantity(f *page.Form, s part.Speech, name string, kind measure.Kind, unit string, low, high float64) *float64 {
	if f.Get(name) == "" {
		return nil
	}
	v, err := s.Read(name, f.Get(name), kind)
	if err == nil && !(v >= low && v <= high) {
		err = fault.OutOfRange(name, "between %s and %s", s.One(low, unit), s.One(high, unit))
	}
	if err != nil {
		f.Refuse(err)
		return nil
	}
	return &v
}
