package cookery

import (
	"math"
	"strings"
	"time"
	"unicode/utf8"

	"vatside/internal/cooking"
	"vatside/internal/fault"
)

// Cook is one cook as it was begun; it is never written again.
type Cook struct {
	ID        string
	Fibre     string
	LotID     string // of raw fibre on the shelf; empty: none
	FromLotG  float64
	DryG      float64 // bone-dry fibre that went into the pot
	Alkali    string
	AlkaliPct float64
	SimmerC   float64 // as planned: the boil where nothing else was said
	Plant     Plant
	Request   []byte // what was asked, JSON
	Answer    []byte // the card it was begun by, JSON
	Present   []Heed
	Begun     time.Time
}

// Plant is where the fibre came from.
type Plant struct {
	Botanical  string `json:"botanical,omitempty"`
	Part       string `json:"part,omitempty"`
	Season     string `json:"season,omitempty"`
	Place      string `json:"place,omitempty"`
	Permission string `json:"permission,omitempty"` // whose it is and who said yes
	Retting    string `json:"retting,omitempty"`
}

// Heed is one person who was present and read the cautions.
type Heed struct {
	Who      string   `json:"who"`
	Cautions []string `json:"cautions"` // codes
}

// Bounds of what can be meant.
const (
	mostDryG   = 1e5 // g, as a card of a cook
	shortText  = 200
	longText   = 20_000
	mostLitres = 1e5
	mostPeople = 40 // ours: a class
)

func (c Cook) check() error {
	var l fault.List
	if c.ID == "" || len(c.ID) > shortText {
		l.Add(fault.Invalid("", "the form is incomplete; open the page again"))
	}
	if strings.TrimSpace(c.Fibre) == "" {
		l.Add(fault.Invalid("fibre", "say what is cooked"))
	}
	checkNumber(&l, "dry_g", c.DryG, 0.1, mostDryG, "g")
	if _, ok := cooking.GetAlkali(c.Alkali); !ok {
		l.Add(fault.Invalid("alkali", "say which alkali it is cooked with"))
	}
	if len(c.Present) == 0 || len(c.Present) > mostPeople {
		l.Add(fault.Invalid("present", "say who is present, by initials, and let each read the cautions and tick them"))
	}
	for _, h := range c.Present {
		checkText(&l, "present", h.Who, shortText)
		if h.Who == "" || len(h.Cautions) == 0 {
			l.Add(fault.Invalid("present", "each person who is present ticks that the cautions were read"))
		}
	}
	p := c.Plant
	for field, text := range map[string]string{"botanical": p.Botanical, "part": p.Part, "season": p.Season, "place": p.Place, "permission": p.Permission, "retting": p.Retting} {
		checkText(&l, field, text, longText)
	}
	return l.OrNil()
}

// Kind is what happened.
type Kind string

// The kinds.
const (
	Simmer     Kind = "simmer"  // it simmers from now on
	Off        Kind = "off"     // off the flame
	Reading    Kind = "reading" // temperature or pH of the liquor
	Test       Kind = "test"    // the strand, and whether it parted
	Second     Kind = "second"  // cooked again in fresh liquor
	Rinse      Kind = "rinse"   // a change of water
	Waste      Kind = "waste"   // liquor neutralised, handed over or kept
	Remark     Kind = "remark"
	Ended      Kind = "ended" // weighed, and on the shelf
	Correction Kind = "correction"
)

// Kinds lists what may happen, in the order in which it usually does.
func Kinds() []Kind {
	return []Kind{Simmer, Reading, Test, Off, Second, Rinse, Waste, Remark, Ended}
}

// Entry is one thing that happened. It is appended and never edited; its maker
// gives it its id, so that sending it twice stores it once.
type Entry struct {
	ID       string
	CookID   string
	Seq      int64
	Kind     Kind
	Body     Body
	Corrects string // id of the entry that a correction stands in the place of
	At       time.Time
	Received time.Time
}

// Body is what was read or done; nil: not said.
type Body struct {
	TempC       *float64 `json:"temp_c,omitempty"`
	PH          *float64 `json:"ph,omitempty"`
	Passed      *bool    `json:"passed,omitempty"`
	Litres      *float64 `json:"litres,omitempty"`
	AlkaliG     *float64 `json:"alkali_g,omitempty"`
	WetG        *float64 `json:"wet_g,omitempty"`
	MoisturePct *float64 `json:"moisture_pct_wet_basis,omitempty"`
	How         string   `json:"how,omitempty"` // how its moisture is known: ByTest, or how it was drained
	LotID       string   `json:"lot_id,omitempty"`
	Text        string   `json:"text,omitempty"`
	Struck      bool     `json:"struck,omitempty"` // of a correction: it never happened
}

// ByTest is moisture by the quick test: a handful weighed, dried, weighed again.
const ByTest = "test"

func (e Entry) check() error {
	var l fault.List
	if e.ID == "" || len(e.ID) > shortText {
		l.Add(fault.Invalid("", "the form is incomplete; open the page again"))
	}
	if y := e.At.Year(); y < 2000 || y > 2199 {
		l.Add(fault.OutOfRange("at", "a time between the years 2000 and 2199"))
	}
	b := e.Body
	checkText(&l, "text", b.Text, longText)
	inside(&l, "temp", b.TempC, 0, 130, "°C")
	inside(&l, "ph", b.PH, 0, 14, "")
	inside(&l, "litres", b.Litres, 0, mostLitres, "L")
	inside(&l, "alkali_g", b.AlkaliG, 0, 1e6, "g")
	inside(&l, "wet", b.WetG, 0.1, 1e6, "g")
	inside(&l, "moisture", b.MoisturePct, 0, 99, "% water")
	switch e.Kind {
	case Reading:
		if b.TempC == nil && b.PH == nil {
			l.Add(fault.Invalid("temp", "write down the temperature or the pH"))
		}
	case Test:
		if b.Passed == nil {
			l.Add(fault.Invalid("passed", "say whether it passed"))
		}
	case Ended:
		if b.WetG == nil || b.MoisturePct == nil {
			l.Add(fault.Invalid("wet", "weigh the batch, and say how wet it is"))
		}
	case Remark:
		if strings.TrimSpace(b.Text) == "" {
			l.Add(fault.Invalid("text", "write what you saw"))
		}
	case Simmer, Off, Second, Rinse, Waste:
	case Correction:
		if e.Corrects == "" {
			l.Add(fault.Invalid("", "say which entry is put right"))
		}
	default:
		l.Add(fault.Invalid("kind", "say what happened"))
	}
	return l.OrNil()
}

// Safety is the studio's own: whom to call, and what its drain takes.
type Safety struct {
	Emergency, Poison, Doctor string
	Water                     string   // where running water for rinsing is
	Authority                 string   // who was asked about the drain
	LowPH, HighPH             *float64 // what it lets in; nil: not asked
}

func (f Safety) check() error {
	var l fault.List
	for field, text := range map[string]string{"emergency": f.Emergency, "poison": f.Poison, "doctor": f.Doctor, "water": f.Water, "authority": f.Authority} {
		checkText(&l, field, text, shortText)
	}
	inside(&l, "low", f.LowPH, 0, 14, "")
	inside(&l, "high", f.HighPH, 0, 14, "")
	switch {
	case (f.LowPH == nil) != (f.HighPH == nil):
		l.Add(fault.Invalid("low", "a limit has both ends: write the lower and the upper pH"))
	case f.LowPH != nil && *f.LowPH >= *f.HighPH:
		l.Add(fault.Invalid("low", "the lower pH is under the upper one"))
	}
	return l.OrNil()
}

// Limits are what the drain takes, for the words on waste.
func (f Safety) Limits() cooking.Limits {
	if f.LowPH == nil || f.HighPH == nil {
		return cooking.Limits{}
	}
	return cooking.Limits{Low: cooking.PH(*f.LowPH), High: cooking.PH(*f.HighPH), Said: true}
}

func inside(l *fault.List, field string, v *float64, low, high float64, unit string) {
	if v != nil {
		checkNumber(l, field, *v, low, high, unit)
	}
}

func checkNumber(l *fault.List, field string, v, low, high float64, unit string) {
	if !(v >= low && v <= high) || math.IsNaN(v) {
		l.Add(fault.OutOfRange(field, "between %g and %g %s", low, high, unit))
	}
}

func checkText(l *fault.List, field, s string, most int) {
	if n := utf8.RuneCountInString(s); n > most {
		l.Add(fault.OutOfRange(field, "at most %d characters, not %d", most, n))
	}
}
