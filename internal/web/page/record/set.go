package record

import (
	"strconv"

	"vatside/internal/measure"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// Data is what the template sets.
type Data struct {
	page.Base
	ID, Tag, Paper string
	Form, Seen     string
	System         string
	Rows           int
	More           int    // the post that would come next
	Kept           bool   // what stands in the form was typed, not recorded
	AsCard         string // what "as the card says" comes to, for posts
	PostsAsCard    bool
	Recharges      part.Field
	JugSays        string
	Wrong          []part.Wrong
	Conflict       *part.Conflict
	Fibre          Cell
	Tests          []Cell
	Posts          []Row
	Parting        Cell
	Minutes        []Cell
	MinutesOpen    bool
	Down           []Cell
	Sizes          []Cell
	SizesOpen      bool
	Grades         []Cell
	Lots           []Cell
	LotsOpen       bool
	Besides        []Group
	On             part.Field
	Remarks        part.Field
	Close          bool

	all []part.Field
}

// Cell is a blank of the card.
type Cell struct {
	part.Field
	Placeholder string
}

// Row is one post of the tally.
type Row struct {
	Post  int
	Cells []Cell
	Wrong []part.Wrong
}

// fields are all blanks, to compare two versions of the form.
func (d Data) fields() []part.Field { return d.all }

// setter sets the fields of one form.
type setter struct {
	f    *page.Form
	d    *Data
	unit map[measure.Kind]string
}

func (s setter) cell(name, label string, kind measure.Kind, placeholder string) Cell {
	fd := part.Field{Name: name, Label: label, Kind: part.Number, Mode: "decimal", Unit: s.unit[kind]}
	switch kind {
	case measure.OfCount:
		fd.Mode = "numeric"
	case measure.OfMinutes:
		fd.Mode, fd.Unit = "text", "min"
	}
	fd = s.f.Field(fd)
	s.d.all = append(s.d.all, fd)
	return Cell{fd, placeholder}
}

// set sets the form with what was typed or recorded.
func set(o opened, f *page.Form) Data {
	l := o.card
	d := Data{Base: o.base, ID: o.making.ID, Tag: o.making.Tag, Paper: o.making.PaperName, Form: f.Get("form"), Seen: f.Get("seen"),
		System: string(o.base.Speech.System), Rows: l.rows, More: l.rows + 1, Kept: f.Values.Has("rows"), PostsAsCard: f.Get("posts") == "card", Close: f.Get("close") == "yes"}
	s := setter{f, &d, inUnits(o.base.Speech)}
	planned := ""
	if g := o.making.Plan.Figures["fibre_air_dry_g"].Value; g > 0 {
		planned = bare(o.base.Speech, g, "g", measure.OfMass)
	}
	d.Fibre = s.cell("fibre", "Fibre weighed out", measure.OfMass, planned)
	s.besides(l)
	for i := 1; i <= l.testRows; i++ {
		d.Tests = append(d.Tests, s.cell(name("test", i, "grams"), "They weighed", measure.OfMass, ""),
			s.cell(name("test", i, "rh"), "Room humidity", measure.OfPercent, ""),
			s.cell(name("test", i, "sheets"), "How many sheets", measure.OfCount, ""))
	}
	if fd := rechargeField(l, f.Get("recharges"), o.base.Speech); fd.Name != "" {
		d.Recharges = f.Field(fd)
		d.all = append(d.all, d.Recharges)
	}
	s.posts(l)
	s.down(o, l)
	for i, step := range l.steps {
		c := s.cell("minutes-"+strconv.Itoa(i+1), step.Name, measure.OfMinutes, strconv.FormatFloat(step.HandsOn.Value, 'f', 0, 64))
		d.Minutes = append(d.Minutes, c)
		d.MinutesOpen = d.MinutesOpen || c.Value != "" || c.Error != ""
	}
	d.Remarks = f.Field(part.Field{Name: "remarks", Label: "Remarks", Hint: "A blank line begins another remark.", Kind: part.Long})
	d.all = append(d.all, d.Remarks)
	d.Wrong = f.Wrong()
	return d
}

func (s setter) posts(l layout) {
	total := 0
	for i := 1; i <= l.rows; i++ {
		placeholder, at := "", "Post "+strconv.Itoa(i)
		if n := l.planned(i); n > 0 {
			placeholder = strconv.Itoa(n)
			total += n
		}
		row := Row{Post: i, Cells: []Cell{
			s.cell(name("post", i, "couched"), at+", couched", measure.OfCount, placeholder),
			s.cell(name("post", i, "kissed"), at+", kissed off", measure.OfCount, "0"),
			s.cell(name("post", i, "grams"), at+", weight at parting", measure.OfMass, ""),
		}}
		if l.jugML > 0 {
			row.Cells = append(row.Cells, s.cell(name("post", i, "jugs"), at+", jugs", measure.OfNumber, ""))
		}
		for _, c := range row.Cells {
			if c.Error != "" {
				row.Wrong = append(row.Wrong, part.Wrong{Anchor: c.ID() + "-error", Label: c.Label, Text: c.Error})
			}
		}
		s.d.Posts = append(s.d.Posts, row)
	}
	if total > 0 {
		s.d.AsCard = strconv.Itoa(total) + " sheets in " + strconv.Itoa(len(l.posts)) + " posts"
		if len(l.posts) == 1 {
			s.d.AsCard = strconv.Itoa(total) + " sheets in one post"
		}
	}
	s.d.Parting = s.cell("parting-sheets", "Weighed together at parting", measure.OfCount, "")
}
