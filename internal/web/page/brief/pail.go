package brief

import (
	"errors"
	"net/http"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// PailData is what the template of the reverse question sets.
type PailData struct {
	page.Base
	Wrong    []part.Wrong
	Fields   []part.Field
	Sheets   *part.Figure
	Sum      part.Sum
	Warnings []plan.Warning
	Help     []plan.Help
}

// Pail answers what pulp in hand can make. It is a question, so it stands in
// the address and nothing is kept.
func (p *Page) Pail(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "What can this pail make?", page.Bench)
	if err != nil {
		return err
	}
	papers, err := p.studio.Papers(r.Context(), studio.PaperFilter{})
	if err != nil {
		return err
	}
	if len(papers) == 0 {
		return page.See(w, r, "/welcome")
	}
	profile, err := p.studio.Profile(r.Context())
	if err != nil {
		return err
	}
	f := page.ReadQuery(r)
	asked := f.Values.Has("wet")
	if f.Values.Has("system") { // as it was shown when it was typed
		spell(f, part.Speech{System: page.ReadSystem(f.Get("system"))}, base.Speech)
	}
	f.Fill("size", base.Speech.SizeName(profile.DefaultSheet.LongMM, profile.DefaultSheet.ShortMM))
	// Drained by hand through a cloth, wet pulp holds about a tenth of fibre;
	// the band is wide (common practice).
	f.Fill("solids_low", "8")
	f.Fill("solids_high", "15")
	f.Fill("wet", "")
	d := PailData{Base: base}
	code := http.StatusOK
	if asked {
		var answer plan.Plan
		answer, err = p.ask(r, f, base.Speech)
		if err != nil {
			code = http.StatusUnprocessableEntity
		} else if fig, ok := answer.Figures["sheets_possible"]; ok {
			if fig.Name == "" {
				fig.Name = "good sheets it can make"
			}
			v := part.NewFigure("sheets_possible", fig, base.Speech, "")
			v.Large = true
			d.Sheets, d.Sum = &v, part.SumOf(fig)
			d.Warnings, d.Help = answer.Warnings, answer.HelpMost
		}
	}
	for _, fd := range pailFields(base.Speech, papers) {
		d.Fields = append(d.Fields, f.Field(fd))
	}
	d.Wrong = f.Wrong()
	return pailTemplate.Write(w, code, d)
}

// spell writes out the units of bare numbers that were typed in another system
// than is read in now.
func spell(f *page.Form, typed, now part.Speech) {
	if typed.System == now.System {
		return
	}
	for name, kind := range map[string]measure.Kind{"wet": measure.OfMass, "size": measure.OfLength} {
		if text := f.Get(name); text != "" && strings.Trim(text, "0123456789.,/ x×X") == "" {
			f.Values.Set(name, text+" "+typed.Bare(kind))
		}
	}
}

var errAsked = errors.New("the question needs another look")

// ask reads the question and has it answered; what is wrong is noted in the
// form.
func (p *Page) ask(r *http.Request, f *page.Form, s part.Speech) (plan.Plan, error) {
	f.At = map[string]string{"have.solids_pct": "solids_low", "have": "wet", "sheet": "size", "have.wet_g": "wet"}
	wet, err := s.Read("wet", f.Get("wet"), measure.OfMass)
	f.Refuse(err)
	if err == nil && !(wet > 0) {
		f.Refuse(fault.OutOfRange("wet", "more than nothing"))
	}
	low, err := s.Read("solids_low", f.Get("solids_low"), measure.OfPercent)
	f.Refuse(err)
	high, err := s.Read("solids_high", f.Get("solids_high"), measure.OfPercent)
	f.Refuse(err)
	long, short, err := s.ReadSize("size", f.Get("size"))
	f.Refuse(err)
	if len(f.Faults) > 0 {
		return plan.Plan{}, errAsked
	}
	sheet := plan.Sheet{LongMM: long, ShortMM: short, Edges: "deckle"}
	answer, err := p.studio.PlanPulp(r.Context(), f.Get("paper"), sheet, plan.Have{WetG: wet, SolidsPct: [2]float64{low, high}})
	if err != nil {
		f.Refuse(err)
	}
	return answer, err
}

func pailFields(s part.Speech, papers []studio.Paper) []part.Field {
	list := make([]part.Option, 0, len(papers))
	for _, p := range papers {
		list = append(list, part.Option{Value: p.ID, Label: p.Name + ", " + s.One(p.Design.GrammageConditioned, "g/m²")})
	}
	return []part.Field{
		{Name: "wet", Label: "How much does the wet pulp weigh, without the pail?", Hint: "Such as " + s.One(5000, "g") + "; write another unit behind the number if your scale shows it.", Kind: part.Number, Bare: s.Bare(measure.OfMass), Required: true},
		{Name: "solids_low", Label: "Fibre in it, at least", Hint: "Drained by hand, about a tenth.", Kind: part.Number, Unit: "%", Small: true, Required: true},
		{Name: "solids_high", Label: "and at most", Hint: "One scoop dried and weighed narrows it.", Kind: part.Number, Unit: "%", Small: true, Required: true},
		{Name: "paper", Label: "For which paper?", Kind: part.Select, Options: list, Required: true},
		{Name: "size", Label: "What size, finished?", Kind: part.Suggest, Bare: s.Bare(measure.OfLength), Options: s.SizeNames(), Required: true},
	}
}
