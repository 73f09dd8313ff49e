package handbook

import (
	"net/http"

	"vatside/internal/trouble"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// FaultsData is what the template of the faults sets.
type FaultsData struct {
	page.Base
	Field part.Field
	Wrong []part.Wrong
	Steps []FaultStep
}

// FaultStep is a step of the work and the faults that show at it.
type FaultStep struct {
	Where  string
	Faults []Fault
}

// Fault is one fault with its causes, the likeliest first.
type Fault struct {
	trouble.Symptom
	Causes []part.Cause
}

// Faults lists the faults by step, or shows the one that was asked for.
func (p *Page) Faults(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Faults", page.Handbook)
	if err != nil {
		return err
	}
	d := FaultsData{Base: base}
	form, code := page.ReadQuery(r), http.StatusOK
	list := trouble.Symptoms()
	if form.Get("find") != "" {
		s, err := trouble.Find("find", form.Get("find"))
		if err == nil {
			list = []trouble.Symptom{s}
		} else {
			form.Refuse(err)
			code = http.StatusUnprocessableEntity
		}
	}
	for _, s := range list {
		a, err := trouble.Ask(s.Key, trouble.Facts{})
		if err != nil {
			return err
		}
		if n := len(d.Steps); n == 0 || d.Steps[n-1].Where != s.Where {
			d.Steps = append(d.Steps, FaultStep{Where: s.Where})
		}
		last := &d.Steps[len(d.Steps)-1]
		last.Faults = append(last.Faults, Fault{s, part.Causes(a.Causes, base.Speech)})
	}
	d.Field = form.Field(part.Field{Name: "find", Label: "What is wrong with the sheet?", Kind: part.Text, Required: true,
		Hint: "In your own words, such as: one corner is thick."})
	d.Wrong = form.Wrong()
	return faultsTemplate.Write(w, code, d)
}

// One reports whether a single fault is shown, which then needs no unfolding.
func (d FaultsData) One() bool { return len(d.Steps) == 1 && len(d.Steps[0].Faults) == 1 }

func findFaults(asked []string) (out []Found) {
	for _, s := range trouble.Symptoms() {
		a, err := trouble.Ask(s.Key, trouble.Facts{})
		if err != nil {
			continue // unreachable: the keys are the table's own
		}
		f := Found{Name: part.Upper(s.Name), Text: "Shows at: " + s.Where, Href: "/handbook/faults#" + s.Key}
		matter := s.Aliases
		for _, c := range a.Causes {
			matter = append(matter, c.Text, c.Test, c.Change)
		}
		out = append(out, find(asked, f, matter...))
	}
	return out
}
