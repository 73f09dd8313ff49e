package cook

import (
	"crypto/rand"
	"encoding/json"
	"net/http"
	"strings"
	"time"

	"vatside/internal/ask"
	"vatside/internal/cookery"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// LogData is what the template of one cook sets.
type LogData struct {
	page.Base
	ID, Name, About, Stage, Entry, Lot, Made, Corrects string
	Plant                                              []part.Row
	Present                                            []string
	Lines                                              []LogLine
	Fields, EndFields                                  []part.Field
	Correcting, End                                    bool
	Wrong                                              []part.Wrong
	Answer                                             Answer
	Likely                                             string // how long it may take, and since when it simmers
}

// LogLine is one entry in words.
type LogLine struct {
	ID, When, Said, Was string
	Struck              bool
}

// Show shows a cook: its log and its card.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	return p.log(w, r, http.StatusOK, page.ReadQuery(r), r.URL.Query().Get("do") == "end")
}

func (p *Page) log(w http.ResponseWriter, r *http.Request, status int, f *page.Form, end bool) error {
	c, state, err := p.cooks.Cook(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	base, err := p.frame.Base(w, r, part.Upper(c.Fibre), page.Store)
	if err != nil {
		return err
	}
	base.Back = "/cooks/" + c.ID
	s := base.Speech
	d := LogData{Base: base, ID: c.ID, Name: part.Upper(c.Fibre), About: about(cookery.Told{Cook: c, State: state}, s), Stage: state.Stage, End: end}
	if c.LotID != "" {
		d.Lot = "/store/" + c.LotID
	}
	if state.Finished != nil && state.Finished.Body.LotID != "" {
		d.Made = "/store/" + state.Finished.Body.LotID
	}
	for _, h := range c.Present {
		d.Present = append(d.Present, h.Who)
	}
	for _, l := range state.Lines {
		d.Lines = append(d.Lines, p.line(l, s))
	}
	d.Plant = planted(c.Plant)
	if d.Answer, err = p.card(r, c, s); err != nil {
		return err
	}
	d.Likely = p.likely(c, state, s)
	d.Corrects = f.Get("corrects")
	d.Correcting = d.Corrects != ""
	f.Fill("left", leftRoom)
	fillEntry(f, state, s, p.now())
	f.Fill("entry", rand.Text())
	d.Entry = f.Get("entry")
	d.Fields = complete(f, entryFields(s))
	d.EndFields = complete(f, endFields(s))
	d.Wrong = f.Wrong()
	return logTemplate.Write(w, status, d)
}

// card is the card that a cook was begun by, with the studio's own numbers of
// today: whom to call may have changed.
func (p *Page) card(r *http.Request, c cookery.Cook, s part.Speech) (Answer, error) {
	var a ask.CookAnswer
	var asked ask.CookRequest
	if err := json.Unmarshal(c.Answer, &a); err != nil {
		return Answer{}, err
	}
	if err := json.Unmarshal(c.Request, &asked); err != nil {
		return Answer{}, err
	}
	out := answerOf(a, asked, s)
	safety, err := p.cooks.Safety(r.Context())
	out.Call = call(safety)
	return out, err
}

func planted(p cookery.Plant) (rows []part.Row) {
	for _, l := range [][2]string{{"Botanical name", p.Botanical}, {"Part", p.Part}, {"Cut", p.Season}, {"Where", p.Place}, {"Permission", p.Permission}, {"Retted, dried", p.Retting}} {
		if l[1] != "" {
			rows = append(rows, part.Row{Cells: []string{l[0], l[1]}})
		}
	}
	return rows
}

// likely says when the strand may part.
func (p *Page) likely(c cookery.Cook, state cookery.State, s part.Speech) string {
	var a ask.CookAnswer
	if json.Unmarshal(c.Answer, &a) != nil || state.Simmers.IsZero() || !state.Parted.IsZero() {
		return ""
	}
	h := a.Figures["hours"]
	at := func(hours float64) string {
		return part.Moment(state.Simmers.Add(time.Duration(hours*float64(time.Hour))), p.now())
	}
	return "It simmers since " + part.Moment(state.Simmers, p.now()) + ". Test from " + at(min(1, h.Low)) + " on, every 30 minutes; it may part " + strings.TrimPrefix(at(h.Low), "today, ") + " to " + strings.TrimPrefix(at(h.High), "today, ") + ", nine times in ten."
}
