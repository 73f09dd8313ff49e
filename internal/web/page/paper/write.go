package paper

import (
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// start begins a new paper with what is usual.
func start(f *page.Form, s part.Speech) {
	size := "A4"
	if s.US() {
		size = "Letter"
	}
	f.Fill("size", size)
	for name, options := range map[string][]part.Option{"edges": page.Edges, "shape": page.Shapes(), "drying": page.Dryings, "forming": page.Formings} {
		f.Fill(name, options[0].Value)
	}
}

// write fills the form with a paper as it stands.
func write(f *page.Form, s part.Speech, p studio.Paper) {
	f.Fill("name", p.Name)
	f.Fill("furnish", part.WriteFurnish(p.Design.Furnish))
	f.FillDesign(s, p.Design, p.Sheet)
	f.Fill("additives", page.WriteAdditives(p.Design.Additives))
	f.Fill("note", p.Note)
}
