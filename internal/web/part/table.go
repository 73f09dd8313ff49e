package part

// Table is a set of rows under one head, numbers lined up.
type Table struct {
	Caption string
	Columns []Column
	Rows    []Row
}

// Column is a head; Number columns are set flush right in even figures.
type Column struct {
	Label  string
	Unit   string
	Number bool
}

// Row is one line; Apart draws a stronger line above it.
type Row struct {
	Cells []string
	Note  string
	Apart bool
}

// Cell pairs a cell's text with its column, for the template.
type Cell struct {
	Text   string
	Column Column
}

// Cells returns the row's cells with their columns.
func (t Table) Cells(r Row) []Cell {
	cells := make([]Cell, 0, len(r.Cells))
	for i, text := range r.Cells {
		var col Column
		if i < len(t.Columns) {
			col = t.Columns[i]
		}
		cells = append(cells, Cell{Text: text, Column: col})
	}
	return cells
}

// Caution is shown at the act it belongs to.
type Caution struct {
	Text string
	More string
}

// Empty is what stands where nothing is yet: what will be here, and the way
// there.
type Empty struct {
	Text   string
	Href   string
	Action string
}

// Link is an address in words.
type Link struct {
	Href string
	Text string
}
