package design

import (
	"vatside/internal/fibre"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// reader takes a design from the form. What the form does not ask for stays as
// it was, and so does a number nobody touched.
type reader struct {
	page.Over
	shelf fibre.Shelf
}

func read(f *page.Form, s part.Speech, asIs draft, shelf fibre.Shelf) draft {
	was := &page.Form{}
	write(was, s, asIs)
	r := reader{page.ReadOver(f, was, s), shelf}
	f.At = faultsAt()
	now := asIs
	now.paper.Furnish, now.paper.Additives = r.furnish(asIs.paper.Furnish), r.additives(asIs.paper.Additives)
	r.Design(&now.paper, &now.sheet)
	var err error
	now.good, err = part.GoodSheets("good", f.Get("good"))
	f.Refuse(err)
	return now
}
