package cook

import (
	"crypto/rand"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"vatside/internal/cookery"
	"vatside/internal/cooking"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// NewData is what the template of the question sets.
type NewData struct {
	page.Base
	System                        string
	Plant, Test, Pot, More, About []part.Field
	MoreOpen, TestOpen            bool
	Wrong                         []part.Wrong
	Answered                      bool
	Chain                         []Shown
	Missing, Furnish              string
	Learned                       []Learned
	Answer                        Answer
	Keep                          []Hidden // the question, sent along when the cook is begun
	Entry                         string
	Present                       []Person
	PresentWrong                  string
}

// Hidden is one answer that goes along.
type Hidden struct{ Name, Value string }

// Person is one line of those who are present.
type Person struct {
	N      string
	Who    string
	Ticked bool
}

// New asks, and answers what was asked.
func (p *Page) New(w http.ResponseWriter, r *http.Request) error {
	f := page.ReadQuery(r)
	base, err := p.frame.Base(w, r, "Cook fibre", page.Store)
	if err != nil {
		return err
	}
	q, err := p.begin(r.Context(), f, base.Speech)
	if err != nil {
		return err
	}
	status := http.StatusOK
	asked := f.Values.Has("alkali")
	if q.fill(f); asked {
		if q.work(f); len(f.Faults) > 0 {
			status = http.StatusUnprocessableEntity
		}
	}
	return p.show(w, status, base, f, q, asked)
}

func (p *Page) show(w http.ResponseWriter, status int, base page.Base, f *page.Form, q *asked, asked bool) error {
	if f.Values.Get("entry") == "" {
		f.Values.Set("entry", rand.Text())
	}
	d := NewData{Base: base, System: string(base.Speech.System), Entry: f.Get("entry")}
	d.Plant, d.Test, d.Pot, d.More = q.plantFields(f), q.testFields(f), q.potFields(f), q.moreFields(f)
	d.About = plantedFields(f)
	d.TestOpen = f.Get("handful")+f.Get("dried") != ""
	d.MoreOpen = slices.ContainsFunc(d.More, func(fd part.Field) bool { return fd.Error != "" || fd.Name != "altitude" && fd.Value != "" })
	if d.Answered = asked && len(q.answer.Figures) > 0; d.Answered {
		d.Chain, d.Missing = shown(q.chain.Figures, cookery.ChainOrder, base.Speech), q.chain.Missing
		d.Furnish = q.fibre.Name + " " + part.Written(q.harvest.Paper.SharePct) + " cooked"
		d.Answer = answerOf(q.answer, q.request, base.Speech)
		d.Answer.Call = call(q.safety)
		d.Learned = q.learned()
	}
	for name, list := range f.Values {
		if questions[name] && len(list) > 0 {
			d.Keep = append(d.Keep, Hidden{name, list[0]})
		}
	}
	slices.SortFunc(d.Keep, func(a, b Hidden) int { return strings.Compare(a.Name, b.Name) })
	f.Fill("who-1", "me")
	for _, n := range rows {
		d.Present = append(d.Present, Person{n, f.Get("who-" + n), f.Get("heed-"+n) != ""})
	}
	for _, e := range f.Faults {
		if e.Field == "present" {
			d.PresentWrong = e.Text
		}
	}
	d.Wrong = f.Wrong()
	return newTemplate.Write(w, status, d)
}

// rows are the lines for those who are present.
var rows = strings.Fields("1 2 3 4 5 6 7 8")

// questions are the names of the question's fields.
var questions = func() map[string]bool {
	m := map[string]bool{}
	for _, n := range strings.Fields("system way fibre lot stage amount sheets size grammage share handful dried left alkali charge liquor pot pot-holds simmer altitude lime strength water dissolve") {
		m[n] = true
	}
	return m
}()

// fill puts what is known or usual where nothing was typed: of a lot that was
// asked for what it holds.
func (q *asked) fill(f *page.Form) {
	s, k := q.speech, q.profile.Kit
	if f.Values == nil {
		f.Values = url.Values{}
	}
	if i := slices.IndexFunc(q.lots, func(l studio.Lot) bool { return l.ID == f.Get("lot") }); i >= 0 && !f.Values.Has("fibre") {
		l := q.lots[i]
		f.Fill("fibre", l.What)
		f.Fill("amount", s.One(l.AmountG, "g"))
		if l.MoisturePct != nil {
			f.Fill("left", part.Written(*l.MoisturePct))
		}
	}
	f.Fill("way", wayHave)
	f.Fill("stage", string(cookery.ForPot))
	f.Fill("left", leftRoom)
	f.Fill("alkali", cooking.SodaAsh)
	f.Fill("size", s.SizeName(q.profile.DefaultSheet.LongMM, q.profile.DefaultSheet.ShortMM))
	f.Fill("grammage", "80")
	f.Fill("share", "100")
	if k.AltitudeM != nil {
		f.Fill("altitude", s.One(*k.AltitudeM, "m"))
	}
}
