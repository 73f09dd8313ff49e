package sizing

import (
	"slices"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/source"
)

// Surface is a size for the dry sheet.
type Surface struct {
	Name        string
	Aliases     []string
	MakeUp      string
	Bath        source.Value // strength, size over the mass of the bath, a fraction
	Temperature source.Value // of the bath, °C
	Rest        source.Value // wet sheets stacked before they are hung, hours
	Cure        source.Value // hung or under weight until it is used, days
	Keeps       source.Value // the bath, cold and covered, hours
	Cautions    []string
}

// Cautions of baths (sources: scald-table, formaldehyde-osha, icsc-alum, practice).
// The maker's data sheet and local rules go first.
const (
	scald  = "A warm bath scalds: water of 60 °C burns to the full depth in 5 seconds or less. Warm it in a water bath, no hotter than it needs, away from children."
	spoils = "It spoils: make what a day needs, throw it out when it smells or goes thin, and scrub the tray."
	harden = "Harden with alum, never with formaldehyde, which causes cancer. Alum is acid and hurts eyes: goggles."
	tender = "Waterleaf is weak when wet: lift it on a net or a sheet of film."
)

// surfaces is the table. What is graded memory is to be replaced by a record.
var surfaces = []Surface{
	{
		Name: "gelatin", Aliases: []string{"gelatine", "hide glue", "animal size", "tub size"},
		MakeUp:      "Soak an hour in a part of the cold water, melt in a water bath at 50 to 60 °C, add the rest warm; alum last, 0 to 5 % on gelatin, dissolved apart.",
		Bath:        source.Said(0.0075, 0.035, 0.05, "tub-sizing-2018", "3.5 % there; other recipes 2.6 and 0.75 %, conservators 0.5-1 %"),
		Temperature: source.Said(38, 42, 52, "tub-sizing-2018", "about 40 °C there; above 52 °C by another recipe"),
		Rest:        source.Said(12, 24, 48, "modern-paper-making", "stacked under warm felt a day, parted, left a day, parted again"),
		Cure:        source.Said(1, 2, 3, "gelatin-sizing-page", "hung; hardens further for weeks (memory)"),
		Keeps:       source.Said(12, 24, 72, "memory", ""),
		Cautions:    []string{scald, harden, spoils, tender},
	},
	{
		Name: "methyl cellulose", Aliases: []string{"methylcellulose", "MC"},
		MakeUp:      "Stir the granules into a third of the water, boiling; add the rest cold and stir until clear.",
		Bath:        source.Said(0.005, 0.01, 0.02, "memory", "1 % was tried on old paper"),
		Temperature: source.Said(10, 20, 30, "memory", "sets when hot"),
		Rest:        source.Said(0, 0.5, 2, "memory", ""),
		Cure:        source.Said(0.5, 1, 2, "memory", "as soon as it is dry"),
		Keeps:       source.Said(168, 720, 2160, "memory", "covered and clean"),
		Cautions:    []string{"It binds and eases writing but resists water little: no size for wet watercolour.", tender},
	},
	{
		Name: "starch", Aliases: []string{"wheat starch", "rice starch", "corn starch", "cooked starch"},
		MakeUp:      "Stir cold to a cream, cook to 90 °C until clear, thin with warm water, strain.",
		Bath:        source.Said(0.02, 0.03, 0.05, "memory", ""),
		Temperature: source.Said(20, 40, 60, "memory", ""),
		Rest:        source.Said(0, 1, 4, "memory", ""),
		Cure:        source.Said(0.5, 1, 2, "memory", "as soon as it is dry"),
		Keeps:       source.Said(6, 12, 24, "memory", ""),
		Cautions:    []string{scald, spoils, "Insects like it: keep the paper dry and clean.", tender},
	},
	{
		Name: "konjac", Aliases: []string{"konnyaku", "devil's tongue"},
		MakeUp:      "Sift the powder into lukewarm water while stirring; rest an hour until it is thick.",
		Bath:        source.Said(0.005, 0.01, 0.015, "memory", ""),
		Temperature: source.Said(15, 25, 40, "memory", ""),
		Rest:        source.Said(0, 0.5, 2, "memory", ""),
		Cure:        source.Said(1, 2, 7, "memory", ""),
		Keeps:       source.Said(6, 12, 24, "memory", ""),
		Cautions:    []string{"For tough, crumpled paper of long fibre, and brushed. It is fixed in an alkaline bath, which hurts eyes: goggles.", spoils},
	},
}

// Surfaces returns the table in its order.
func Surfaces() []Surface {
	out := slices.Clone(surfaces)
	for i := range out {
		out[i].Aliases, out[i].Cautions = slices.Clone(out[i].Aliases), slices.Clone(out[i].Cautions)
	}
	return out
}

// Find returns the surface size of that name or alias; capitals, hyphens and
// doubled spaces do not matter. The fault belongs to field and names them all.
func Find(field, kind string) (Surface, error) {
	var names []string
	for _, s := range Surfaces() {
		for _, name := range append([]string{s.Name}, s.Aliases...) {
			if source.Plain(name) == source.Plain(kind) {
				return s, nil
			}
		}
		names = append(names, s.Name)
	}
	return Surface{}, fault.Invalid(field, "%q is no surface size of the table, which has %s", kind, strings.Join(names, ", "))
}

// Way is how the bath comes on to the sheet.
type Way string

// The ways.
const (
	Dipped  Way = "dipped"  // drawn through and drained
	Brushed Way = "brushed" // on one side or both
	Nipped  Way = "nipped"  // dipped, then between rolls
)

// Ways returns them in the order of how much bath they leave, the most first.
func Ways() []Way { return []Way{Dipped, Nipped, Brushed} }

// UsualUptake returns the pick-up of a way, grams of bath to a gram of dry
// waterleaf, all of it remembered: weigh a sheet before and after.
func UsualUptake(way Way) (source.Value, error) {
	switch way {
	case Dipped:
		return source.Said(1.5, 2.0, 2.5, "memory", "dry waterleaf, drained"), nil
	case Nipped:
		return source.Said(1.0, 1.15, 1.3, "memory", "dry waterleaf"), nil
	case Brushed:
		return source.Said(0.5, 1.0, 1.6, "memory", "one side or both; the brush decides"), nil
	}
	return source.Value{}, fault.Invalid("way", "%q is no way of sizing; they are dipped, brushed, nipped", string(way))
}
