package cook

import (
	"strings"

	"vatside/internal/ask"
	"vatside/internal/cooking"
	"vatside/internal/figure"
	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/web/part"
)

// Shown is a figure with its sum.
type Shown struct {
	part.Figure
	Sum part.Sum
}

// Group is what is read together at one step of the work.
type Group struct {
	ID, Name string
	Figures  []Shown
	Notes    []string
}

// Said is a caution with what it rests on.
type Said struct {
	Code, Text string
	Source     part.Cited
}

// Answer is the card of a cook.
type Answer struct {
	Groups               []Group
	Order, Tests, After  []string
	Notes                []string
	Cautions, WasteWords []Said
	Recipes              part.Table
	Call                 []string // whom to call, the studio's own
}

// names are what the figures are called here.
var names = map[string]string{
	"fresh_g": "Fresh plant", "dry_plant_g": "Dry plant", "pot_dry_g": "Clean dry fibre for the pot", "pulp_g": "Pulp, bone-dry", "sheets": "Good sheets", "sheet_dry_g": "Dry fibre in a sheet",
	"alkali_g": "Alkali", "lime_g": "Slaked lime", "ash_liquor_l": "Ash liquor", "lye_made_g": "Lye that they make", "liquor_l": "Liquor", "alkali_g_l": "Alkali in the liquor",
	"soda_ash_equal_g": "Soda ash of equal alkalinity", "lye_reaches_c": "Dissolving warms it to", "ph_cold": "pH, cold", "ph_boil": "pH at the boil", "boil_c": "It boils here at",
	"time_factor": "Time beside that at 100 °C", "hours": "Hours at the simmer", "pot_l": "Least pot", "pots": "Fillings of your pot", "rinse_changes": "Changes of water", "rinse_l": "Rinse water",
	"waste_l": "Liquor and rinse water to be rid of", "vinegar_l": "Vinegar that would neutralise it all", "citric_g": "Citric acid that would", "pulp_dry_g": "Pulp, bone-dry",
}

// steps are the figures by the step at which they are wanted.
var steps = []struct{ id, name, keys string }{
	{"weigh", "Weigh and fill", "alkali_g lime_g ash_liquor_l liquor_l alkali_g_l pot_l pots soda_ash_equal_g lye_made_g lye_reaches_c"},
	{"heat", "Heat", "hours boil_c time_factor ph_cold ph_boil"},
	{"rinse", "Rinse", "rinse_changes rinse_l vinegar_l citric_g"},
	{"comes", "What will come", "pulp_dry_g"},
	{"waste", "Liquor to be rid of", "waste_l"},
}

func shown(figures map[string]figure.Figure, keys []string, s part.Speech) []Shown {
	var out []Shown
	for _, key := range keys {
		f, ok := figures[key]
		if !ok {
			continue
		}
		v := Shown{Figure: part.NewFigure(key, f, s, ""), Sum: part.SumOf(f)}
		v.Name = names[key]
		if f.Unit == "h" && v.Band != "" { // a band from 2 to 20 h is not one from 0 to 20
			v.Band = "nine times in ten " + s.Range(f.Low, f.High, f.Unit)
		}
		out = append(out, v)
	}
	return out
}

// answerOf sets a card in the reader's units.
func answerOf(a ask.CookAnswer, r ask.CookRequest, s part.Speech) Answer {
	out := Answer{Order: told(a.Order, s), Tests: told(a.EndTests, s), After: told(a.After, s), Cautions: cited(a.Cautions, s), WasteWords: cited(a.Waste, s)}
	for _, st := range steps {
		g := Group{ID: st.id, Name: st.name, Figures: shown(a.Figures, strings.Fields(st.keys), s)}
		switch st.id {
		case "weigh":
			for i := range g.Figures {
				if g.Figures[i].Key == "alkali_g" {
					g.Figures[i].Name = part.Upper(r.Alkali)
				}
			}
			g.Notes = append(g.Notes, spoons(r.Alkali, a.Figures["alkali_g"].Value)...)
		case "rinse":
			g.Notes = append(g.Notes, cooking.WhyRinse)
		}
		if len(g.Figures) > 0 {
			out.Groups = append(out.Groups, g)
		}
	}
	for _, n := range a.Notes {
		if n != cooking.WhyRinse { // it stands beside its sum
			out.Notes = append(out.Notes, measure.Retell(n, s.System))
		}
	}
	out.Recipes = recipes(a.Recipes)
	return out
}

// told says sentences in the reader's units.
func told(list []string, s part.Speech) []string {
	out := make([]string, len(list))
	for i, text := range list {
		out[i] = measure.Retell(text, s.System)
	}
	return out
}

func cited(list []cooking.Caution, s part.Speech) []Said {
	var out []Said
	for _, c := range list {
		grade := source.Memory
		if of, ok := source.Get(c.Source); ok {
			grade = of.Grade
		}
		out = append(out, Said{c.Code, measure.Retell(c.Text, s.System), part.Cite(c.Source, grade)})
	}
	return out
}
