package making

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// mostWords bounds how many words of a search are looked for.
const mostWords = 8

// finds are the questions by which a sheet in the hand is found again.
func finds(s part.Speech) []part.Field {
	uses := []part.Option{{Value: "", Label: "Not known"}}
	for _, u := range fibre.Uses() {
		uses = append(uses, part.Option{Value: u, Label: part.Upper(u)})
	}
	return []part.Field{
		{Name: "colour", Label: "Colour", Hint: "By what was written: remarks, dyes, pigments, names of lots. Nobody measured it.", Kind: part.Text},
		{Name: "fibre", Label: "Fibre", Kind: part.Suggest, Options: part.FibreNames(fibre.Shelf{})},
		{Name: "use", Label: "Made for", Kind: part.Select, Options: uses},
		{Name: "grammage", Label: "Grammage", Kind: part.Number, Mode: "decimal", Unit: "g/m²"},
		{Name: "caliper", Label: "Thickness", Kind: part.Number, Mode: "decimal", Bare: s.Bare(measure.OfCaliper)},
		{Name: "from", Label: "Made from", Kind: part.Date},
		{Name: "to", Label: "Until", Kind: part.Date},
		{Name: "customer", Label: "For whom", Kind: part.Text},
	}
}

// wanted reads what is known of the sheet, days in the studio's zone; asked
// reports whether anything is.
func wanted(f *page.Form, s part.Speech, zone *time.Location) (w studio.Wanted, asked bool) {
	number := func(name string, kind measure.Kind) (v float64) {
		if f.Get(name) == "" {
			return 0
		}
		v, err := s.Read(name, f.Get(name), kind)
		f.Refuse(err)
		if err == nil && !(v > 0) {
			f.Refuse(fault.OutOfRange(name, "more than 0"))
		}
		return v
	}
	day := func(name string, after int) (t time.Time) {
		if f.Get(name) == "" {
			return t
		}
		t, err := time.ParseInLocation(time.DateOnly, f.Get(name), zone)
		if err != nil {
			f.Refuse(fault.Invalid(name, "a day is written 2025-03-12"))
			return time.Time{}
		}
		return t.AddDate(0, 0, after)
	}
	w = studio.Wanted{Colour: f.Get("colour"), Fibre: f.Get("fibre"), Use: f.Get("use"), Customer: f.Get("customer"),
		GrammageG: number("grammage", measure.OfGrammage), CaliperMM: number("caliper", measure.OfCaliper), From: day("from", 0), To: day("to", 1)}
	w.Words = strings.FieldsFunc(f.Get("words"), func(r rune) bool { return strings.ContainsRune(" ,;\t\n", r) })
	w.Words = w.Words[:min(len(w.Words), mostWords)]
	if !w.From.IsZero() && !w.To.IsZero() && !w.To.After(w.From) {
		f.Refuse(fault.Invalid("to", "the second day is not before the first"))
	}
	for _, name := range []string{"words", "colour", "fibre", "use", "grammage", "caliper", "from", "to", "customer"} {
		asked = asked || f.Get(name) != ""
	}
	return w, asked
}

// why says of a match what fits and what does not, in a few words.
func why(s part.Speech, w studio.Wanted, m studio.Match) string {
	g := m.Making.Progress.Gist
	var list []string
	say := func(name, fits, not string) {
		off, asked := m.Off[name]
		switch {
		case !asked:
		case off == 0:
			list = append(list, fits)
		default:
			list = append(list, not)
		}
	}
	say(studio.OffColour, "a word for "+w.Colour+" in its record", "no word for "+w.Colour)
	say(studio.OffFibre, g.Furnish, "not "+w.Fibre+" but "+g.Furnish)
	say(studio.OffUse, "for "+w.Use, "not for "+w.Use)
	say(studio.OffCustomer, "for "+w.Customer, "for another")
	say(studio.OffDate, "made then", "made another time")
	if w.GrammageG > 0 && g.GrammageG != nil {
		list = append(list, s.One(*g.GrammageG, "g/m²")+beside(*g.GrammageG, w.GrammageG, "heavier", "lighter"))
	}
	switch {
	case w.CaliperMM > 0 && g.CaliperMM != nil:
		n, u := measure.ShowCaliper(measure.Length(*g.CaliperMM), s.System)
		list = append(list, n+"\u00a0"+u+beside(*g.CaliperMM, w.CaliperMM, "thicker", "thinner"))
	case w.CaliperMM > 0:
		list = append(list, "thickness not measured")
	}
	return strings.Join(append(list, found(w, m)...), "; ")
}

// found says which of the words are there and which are not.
func found(w studio.Wanted, m studio.Match) []string {
	missing := slices.DeleteFunc(slices.Clone(w.Words), func(x string) bool { return m.Off[studio.OffWord+x] == 0 })
	there := slices.DeleteFunc(slices.Clone(w.Words), func(x string) bool { return m.Off[studio.OffWord+x] > 0 })
	var list []string
	if len(there) > 0 {
		list = append(list, "“"+strings.Join(there, "”, “")+"” in its record")
	}
	if len(missing) > 0 {
		list = append(list, "no “"+strings.Join(missing, "”, “")+"”")
	}
	return list
}

// asGood is how far a number may be off and still be called the same, a part of
// what was asked for.
const asGood = 0.03

func beside(got, asked float64, more, less string) string {
	off := got/asked - 1
	switch {
	case math.Abs(off) < asGood:
		return ""
	case off > 0:
		return fmt.Sprintf(", %.0f\u202f%% %s", 100*off, more)
	}
	return fmt.Sprintf(", %.0f\u202f%% %s", -100*off, less)
}
