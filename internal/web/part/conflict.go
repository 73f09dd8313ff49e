package part

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
