package cook

import (
	"net/http"

	"vatside/internal/cookery"
	"vatside/internal/fault"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// HelpData is what the template of the studio's own numbers sets.
type HelpData struct {
	page.Base
	Fields []part.Field
	Wrong  []part.Wrong
}

func helpFields(f *page.Form) []part.Field {
	return complete(f, []part.Field{
		{Name: "emergency", Label: "Emergency number here", Kind: part.Text, Hint: "Ambulance and fire, as dialled from this phone."},
		{Name: "poison", Label: "Poison centre", Kind: part.Text, Hint: "Its name and number."},
		{Name: "doctor", Label: "Doctor, eye clinic, hospital", Kind: part.Text},
		{Name: "water", Label: "Running water to rinse under", Kind: part.Text, Hint: "Where it is: it must be reached in ten seconds."},
		{Name: "authority", Label: "Who decides what the drain takes", Kind: part.Text, Hint: "Sewer authority or water company, and whom you asked."},
		{Name: "low", Label: "The drain takes pH from", Kind: part.Number, Mode: "decimal", Small: true, Hint: "As they told you. Empty: not asked yet."},
		{Name: "high", Label: "The drain takes pH up to", Kind: part.Number, Mode: "decimal", Small: true},
	})
}

// Help asks whom to call and what the drain takes.
func (p *Page) Help(w http.ResponseWriter, r *http.Request) error {
	return p.help(w, r, http.StatusOK, &page.Form{})
}

func (p *Page) help(w http.ResponseWriter, r *http.Request, status int, f *page.Form) error {
	base, err := p.frame.Base(w, r, "Whom to call", page.Studio)
	if err != nil {
		return err
	}
	base.Back = "/studio/help"
	now, err := p.cooks.Safety(r.Context())
	if err != nil {
		return err
	}
	for name, text := range map[string]string{"emergency": now.Emergency, "poison": now.Poison, "doctor": now.Doctor, "water": now.Water, "authority": now.Authority} {
		f.Fill(name, text)
	}
	for name, v := range map[string]*float64{"low": now.LowPH, "high": now.HighPH} {
		if v != nil {
			f.Fill(name, part.Written(*v))
		}
	}
	d := HelpData{Base: base, Fields: helpFields(f)}
	d.Wrong = f.Wrong()
	return helpTemplate.Write(w, status, d)
}

// SaveHelp keeps them.
func (p *Page) SaveHelp(w http.ResponseWriter, r *http.Request) error {
	f, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	sys, err := p.frame.System(r)
	if err != nil {
		return err
	}
	q := &asked{speech: part.Speech{System: sys}}
	s := cookery.Safety{Emergency: f.Get("emergency"), Poison: f.Get("poison"), Doctor: f.Get("doctor"), Water: f.Get("water"), Authority: f.Get("authority"),
		LowPH: q.number(f, "low", "number"), HighPH: q.number(f, "high", "number")}
	if len(f.Faults) == 0 {
		err := p.cooks.SaveSafety(r.Context(), s)
		switch fault.KindOf(err) {
		case fault.KindInvalid, fault.KindOutOfRange:
			f.Refuse(err)
		default:
			if err != nil {
				return err
			}
			page.PutFlash(w, "Kept. They stand beside the cautions and on every cook card.")
			return page.See(w, r, "/studio/help")
		}
	}
	return p.help(w, r, http.StatusUnprocessableEntity, f)
}
