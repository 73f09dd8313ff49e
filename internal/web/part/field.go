package part

// Field is one question of a form with what was typed, in the reader's own
// units, and what is wrong with it.
type Field struct {
	Name     string
	Label    string
	Hint     string
	Value    string
	Unit     string
	Error    string
	Kind     Kind
	Mode     string // input mode of a text field: text, numeric, decimal
	Required bool
	Options  []Option
	Small    bool   // takes half a line
	Bare     string // unit of a bare number, where it is another in other units
}

// Kind is how a field is answered.
type Kind string

// The kinds of field.
const (
	Text    Kind = "text"
	Number  Kind = "number" // typed freely, with or without its unit
	Date    Kind = "date"
	Long    Kind = "long"    // several lines
	Choices Kind = "choices" // one of a few, all in sight
	Select  Kind = "select"  // one of many
	Suggest Kind = "suggest" // typed freely, with suggestions
)

// Option is one answer on offer.
type Option struct {
	Value string
	Label string
	Note  string
}

// ID is the field's anchor on the page.
func (f Field) ID() string { return "f-" + f.Name }

// Described lists the ids of what describes the field, for aria-describedby.
func (f Field) Described() string {
	switch {
	case f.Error != "" && f.Hint != "":
		return f.ID() + "-error " + f.ID() + "-hint"
	case f.Error != "":
		return f.ID() + "-error"
	case f.Hint != "":
		return f.ID() + "-hint"
	}
	return ""
}

// Chosen reports whether the option is the one given.
func (f Field) Chosen(o Option) bool { return o.Value == f.Value }

// Wrong is one line of the summary above a form: what is wrong, and where.
type Wrong struct {
	Anchor string // id of the field, "" where it belongs to none
	Label  string
	Text   string
}

// Conflict is told when a record was saved by another in between: what
// happened, and where the two versions differ.
type Conflict struct {
	Text string
	Then string // what sending again would do
	Rows []Row
}

// Table sets the two versions side by side.
func (c Conflict) Table() Table {
	return Table{Caption: "Where the two differ", Rows: c.Rows,
		Columns: []Column{{Label: "Field"}, {Label: "Yours, not saved"}, {Label: "Saved meanwhile"}}}
}

// Differing compares two readings of the same fields.
func Differing(mine, theirs []Field) []Row {
	var rows []Row
	for i, f := range mine {
		if i >= len(theirs) || f.Value == theirs[i].Value {
			continue
		}
		rows = append(rows, Row{Cells: []string{f.Label, f.read(), theirs[i].read()}})
	}
	return rows
}

// read is a field's value in words.
func (f Field) read() string {
	for _, o := range f.Options {
		if o.Value == f.Value && o.Label != "" && (f.Kind == Choices || f.Kind == Select) {
			return o.Label
		}
	}
	if f.Value == "" {
		return "nothing"
	}
	return f.Value
}
