package cook

import (
	"encoding/json"
	"net/http"
	"net/url"
	"strings"

	"vatside/internal/cookery"
	"vatside/internal/fault"
	"vatside/internal/studio"
	"vatside/internal/web/page"
)

// Start begins a cook: the question is worked out once more, and kept with those
// who took heed of the cautions.
func (p *Page) Start(w http.ResponseWriter, r *http.Request) error {
	f, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	base, err := p.frame.Base(w, r, "Cook fibre", page.Store)
	if err != nil {
		return err
	}
	q, err := p.begin(r.Context(), f, base.Speech)
	if err != nil {
		return err
	}
	q.work(f)
	c, err := q.cook(f)
	if err != nil {
		return err
	}
	if q.harvest.Sheets > 0 && len(f.Faults) == 0 {
		f.Refuse(fault.Invalid("way", "weigh what you cut: a cook begins with fibre that is there"))
	}
	c.Present = heeded(f, q)
	if len(f.Faults) == 0 {
		err = p.cooks.Start(r.Context(), c)
		if err == nil && c.LotID != "" && c.FromLotG > 0 {
			err = p.studio.TakeToCook(r.Context(), c.LotID, studio.Movement{ID: c.ID + "/in", MassG: c.FromLotG, CookID: c.ID, At: c.Begun})
		}
		switch fault.KindOf(err) {
		case fault.KindInvalid, fault.KindOutOfRange:
			f.At = places
			f.Refuse(err)
		default:
			if err != nil {
				return err
			}
			page.PutFlash(w, "The cook is begun.")
			return page.See(w, r, "/cooks/"+c.ID)
		}
	}
	asked := url.Values{}
	for name := range questions {
		asked.Set(name, f.Values.Get(name))
	}
	base.Back = "/cooks/new?" + asked.Encode()
	return p.show(w, http.StatusUnprocessableEntity, base, f, q, true)
}

// cook is what is written down of a question.
func (q *asked) cook(f *page.Form) (cookery.Cook, error) {
	c := cookery.Cook{ID: f.Get("entry"), Fibre: q.fibre.Name, DryG: q.request.DryG, Alkali: q.request.Alkali, AlkaliPct: q.request.AlkaliPct,
		SimmerC: q.answer.Figures["boil_c"].Value,
		Plant: cookery.Plant{Botanical: f.Get("botanical"), Part: f.Get("part"), Season: f.Get("season"), Place: f.Get("place"),
			Permission: f.Get("permission"), Retting: f.Get("retting")}}
	if s := q.request.SimmerC; s != nil && *s < c.SimmerC {
		c.SimmerC = *s
	}
	if q.lot != nil {
		c.LotID, c.FromLotG = q.lot.ID, q.harvest.AmountG
		if c.FromLotG > q.lot.AmountG*1.02 { // what a scale and a list differ by
			f.Refuse(fault.Invalid("amount", "the lot holds less than that: count it on its page, or cook less"))
		}
	}
	var err error
	if c.Request, err = json.Marshal(q.request); err != nil {
		return c, err
	}
	c.Answer, err = json.Marshal(q.answer)
	return c, err
}

// heeded are those who are present, each with the cautions that were shown.
func heeded(f *page.Form, q *asked) []cookery.Heed {
	var codes []string
	for _, c := range q.answer.Cautions {
		codes = append(codes, c.Code)
	}
	var out []cookery.Heed
	for _, n := range rows {
		who, ticked := f.Get("who-"+n), f.Get("heed-"+n) != ""
		if who == "" && !ticked {
			continue
		}
		h := cookery.Heed{Who: who}
		if ticked {
			h.Cautions = codes
		}
		if strings.TrimSpace(h.Who) == "" {
			h.Who = "me"
		}
		out = append(out, h)
	}
	return out
}
