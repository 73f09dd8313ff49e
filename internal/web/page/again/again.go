// Package again is the page on which a making is made again: what was really
// made, what is otherwise today, and what that does to the plan; and the brief
// that follows.
//
// Missing: making again at another grammage or furnish; the page design does
// that.
package again

import (
	"context"
	"embed"
	"net/http"
	"slices"
	"strconv"
	"time"

	"vatside/internal/again"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

//go:embed *.html
var files embed.FS

var template = page.Must(files, "again.html")

// Studio is what the page asks of the records.
type Studio interface {
	Making(ctx context.Context, id string) (studio.Making, error)
	Events(ctx context.Context, makingID string) ([]studio.Event, error)
	PlanDesign(ctx context.Context, design plan.Paper, sheet plan.Sheet, good int, sure *float64) (plan.Request, plan.Plan, error)
	Wishes
}

// Wishes are papers and the briefs for them.
type Wishes interface {
	Paper(ctx context.Context, id string) (studio.Paper, error)
	SavePaper(ctx context.Context, p studio.Paper) (studio.Paper, error)
	Brief(ctx context.Context, id string) (studio.Brief, error)
	SaveBrief(ctx context.Context, b studio.Brief) (studio.Brief, error)
	People(ctx context.Context) ([]studio.Person, error)
}

// Page answers for makings made again.
type Page struct {
	frame  *page.Frame
	studio Studio
	now    func() time.Time
}

// New returns the page over the records, by the studio's clock.
func New(f *page.Frame, s Studio, now func() time.Time) *Page { return &Page{f, s, now} }

// Data is what the template sets.
type Data struct {
	page.Base
	ID, Tag, Paper, Begun string
	Good                  part.Field
	Wrong                 []part.Wrong
	Differs               []Choice
	Person                string // for whom it was; "" for nobody
	Same                  bool
	Newer                 string // the paper was changed since
	No                    string // why it cannot be made today
	Today                 part.Table
	Does                  part.Table
	Short                 []string
	Mind, Gone            []string
}

// Choice is one thing that was made otherwise than meant.
type Choice struct {
	Key, Name, Text string
	Taken           bool
}

// wish is what is to be made again, as the form has it.
type wish struct {
	making studio.Making
	taken  []again.Differing
	good   int
	data   Data
}

// Show shows what making it again would be.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	f := page.ReadQuery(r)
	d, err := p.read(w, r, f)
	if err != nil {
		return err
	}
	code := http.StatusOK
	if len(f.Faults) > 0 {
		code = http.StatusUnprocessableEntity
	} else if err := p.hold(r.Context(), &d); err != nil {
		return err
	}
	return template.Write(w, code, d.data)
}

// read reads the form over the making.
func (p *Page) read(w http.ResponseWriter, r *http.Request, f *page.Form) (wish, error) {
	ctx := r.Context()
	m, err := p.studio.Making(ctx, r.PathValue("id"))
	if err != nil {
		return wish{}, err
	}
	events, err := p.studio.Events(ctx, m.ID)
	if err != nil {
		return wish{}, err
	}
	base, err := p.frame.Base(w, r, "Again, "+m.Tag, page.Makings)
	if err != nil {
		return wish{}, err
	}
	f.Fill("good", strconv.Itoa(usualGood(m)))
	base.Back = "/makings/" + m.ID + "/again?" + f.Values.Encode()
	x := wish{making: m, data: Data{Base: base, ID: m.ID, Tag: m.Tag, Paper: m.PaperName, Begun: m.Created.In(p.now().Location()).Format("2 January 2006")}}
	if x.good, err = part.GoodSheets("good", f.Get("good")); err != nil {
		f.Refuse(err)
	}
	sent := f.Values.Has("asked") // else everything is taken as it was made
	for _, one := range again.Differs(m, studio.Replay(m, events)) {
		taken := !sent || slices.Contains(f.Values["take"], one.Key)
		if taken {
			x.taken = append(x.taken, one)
		}
		x.data.Differs = append(x.data.Differs, choice(base.Speech, one, taken))
	}
	x.data.Good = f.Field(part.Field{Name: "good", Label: "Good sheets", Kind: part.Number, Mode: "numeric", Small: true})
	x.data.Wrong = f.Wrong()
	return x, p.whose(ctx, &x, !sent || f.Get("same") == "yes")
}
