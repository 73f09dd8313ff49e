package intake

import (
	"fmt"
	"net/http"
	"strconv"

	"vatside/internal/fault"
	"vatside/internal/intake"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// LookData is what the template of a file sets.
type LookData struct {
	page.Base
	ID, File, Rows string
	Kind, Sheet    part.Field
	Sheets         bool // there are several
	Columns        []Column
	Usual          []part.Field
	Wrong          []part.Wrong
	Groups         []Group
	Short          string // how many rows do what
	Does           string // what the button does; "" where there is nothing to do
	Busy           string // being written down
}

// Column is one column of the sheet: what stands in it, and what it is taken
// for.
type Column struct {
	Heading, Samples string
	Field, Unit      part.Field
	HasUnit          bool
}

// Look shows how a file is read and what it would do.
func (p *Page) Look(w http.ResponseWriter, r *http.Request) error {
	one, err := p.tray.get(r.PathValue("id"))
	if err != nil {
		return err
	}
	one.mu.Lock()
	defer one.mu.Unlock()
	if one.work != nil && one.work.over() {
		return p.written(w, r, one)
	}
	return p.look(w, r, http.StatusOK, one, &page.Form{})
}

func (p *Page) look(w http.ResponseWriter, r *http.Request, status int, one *waiting, f *page.Form) error {
	base, err := p.frame.Base(w, r, one.file, page.Makings)
	if err != nil {
		return err
	}
	sheet := one.sheets[one.sheet]
	d := LookData{Base: base, ID: one.id, File: one.file, Rows: part.Many(len(one.match.Rows(sheet)), "row")}
	base.Back = "/intake/" + one.id
	if one.work != nil {
		d.Busy = fmt.Sprintf("%s, begun %d seconds ago.", d.Rows, int(p.now().Sub(one.work.since).Seconds()))
		w.Header().Set("Refresh", "1")
		return lookTemplate.Write(w, status, d)
	}
	proposal, err := intake.Propose(r.Context(), p.studio, p.source(one, base))
	if fault.KindOf(err) == fault.KindInvalid && err != nil {
		f.Refuse(err)
	} else if err != nil {
		return err
	}
	d.fields(f, one)
	d.Wrong = f.Wrong()
	d.Groups = groups(proposal)
	d.Short = inShort(d.Groups)
	if n := proposal.Batch.Import; n.Added+n.Changed > 0 {
		d.Does = "Write down " + part.Many(n.Added+n.Changed, singular(proposal.Kind))
	}
	return lookTemplate.Write(w, status, d)
}

func (p *Page) source(one *waiting, base page.Base) intake.Source {
	return intake.Source{File: one.file, Sheet: one.sheets[one.sheet], Matching: one.match, System: base.Speech.System, Now: p.now()}
}

// fields asks how the sheet is read.
func (d *LookData) fields(f *page.Form, one *waiting) {
	f.Fill("kind", string(one.match.Kind))
	f.Fill("sheet", strconv.Itoa(one.sheet))
	d.Kind = part.Field{Name: "kind", Label: "A row is", Kind: part.Select}
	for _, k := range intake.Kinds() {
		d.Kind.Options = append(d.Kind.Options, part.Option{Value: string(k), Label: "one " + singular(k)})
	}
	d.Kind = f.Field(d.Kind)
	d.Sheet, d.Sheets = part.Field{Name: "sheet", Label: "Sheet", Kind: part.Select}, len(one.sheets) > 1
	for i, s := range one.sheets {
		d.Sheet.Options = append(d.Sheet.Options, part.Option{Value: strconv.Itoa(i), Label: s.Name + ", " + part.Many(len(s.Rows), "row")})
	}
	d.Sheet = f.Field(d.Sheet)
	for i, c := range one.match.Columns {
		d.Columns = append(d.Columns, column(f, one, i, c))
	}
	for _, key := range usual[one.match.Kind] {
		f.Fill("usual-"+key, one.match.Usual[key])
		for _, field := range intake.Fields(one.match.Kind) {
			if field.Key == key {
				d.Usual = append(d.Usual, f.Field(part.Field{Name: "usual-" + key, Label: field.Label, Kind: part.Text}))
			}
		}
	}
}

// usual are the fields that may be said once for all rows that do not say them.
var usual = map[intake.Kind][]string{
	intake.Makings: {"paper", "furnish", "grammage", "formed", "drying"},
	intake.Papers:  {"furnish", "grammage", "dry", "drying"},
	intake.Lots:    {"since"},
}

func column(f *page.Form, one *waiting, i int, c intake.Column) Column {
	n := strconv.Itoa(i)
	f.Fill("field-"+n, c.Field)
	f.Fill("unit-"+n, c.Unit)
	out := Column{Heading: c.Heading, Samples: samples(one.match.Rows(one.sheets[one.sheet]), i)}
	out.Field = part.Field{Name: "field-" + n, Label: c.Heading + ": holds", Kind: part.Select}
	out.Unit = part.Field{Name: "unit-" + n, Label: c.Heading + ": a bare number is in", Kind: part.Select}
	for _, field := range intake.Fields(one.match.Kind) {
		out.Field.Options = append(out.Field.Options, part.Option{Value: field.Key, Label: field.Label})
		if field.Key == c.Field {
			for _, u := range field.Units() {
				out.Unit.Options = append(out.Unit.Options, part.Option{Value: u, Label: u})
			}
		}
	}
	out.Field.Options = append(out.Field.Options, part.Option{Value: intake.Nothing, Label: "– left out –"})
	out.Field, out.Unit, out.HasUnit = f.Field(out.Field), f.Field(out.Unit), len(out.Unit.Options) > 1
	return out
}
