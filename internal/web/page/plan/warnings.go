package plan

import (
	"slices"

	"vatside/internal/measure"
	"vatside/internal/plan"
)

// acted says at which step a warning is read; one that names none, or whose
// step this making has not, stands at the top.
var acted = map[string]string{
	"beater thick": "beat", "many loads": "beat",
	"stock too thin": "drain stock",
	"level rises":    "drain stock",
	"vat too small":  "fill vat", "vat thickens": "fill vat", "long fibre": "fill vat",
	"tolerance tight": "pull and couch",
	"no press":        "press", "soft press": "press",
	"hold flat": "dry", "size on glass": "dry", "shrinkage unknown": "dry",
}

// founded are what is said of the plan's grounds, not against the plan; they
// are read beside what it rests on.
var founded = []string{"assumed"}

// warnings parts the warnings: at the top and at the foot of the page, and
// those read at a step, which are returned by its key.
func warnings(d *Data, p plan.Plan) map[string][]string {
	at := map[string][]string{}
	for _, w := range p.Warnings {
		w.Text = measure.Retell(w.Text, d.Speech.System)
		key, placed := acted[w.Code]
		has := slices.ContainsFunc(p.Steps, func(s plan.Step) bool { return s.Key == key })
		switch {
		case slices.Contains(founded, w.Code):
			d.Founded = append(d.Founded, w.Text)
		case placed && has:
			at[key] = append(at[key], w.Text)
		default:
			d.Warnings = append(d.Warnings, w.Text)
		}
	}
	return at
}
