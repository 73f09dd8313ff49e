package brief

import (
	"strconv"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// read takes the brief from the form; what is wrong is noted in it.
func read(f *page.Form, s part.Speech, b *studio.Brief) {
	// The paper is taken as it is now: the revision the brief was first written
	// for would hide what was mended since.
	b.PaperID = f.Get("paper")
	b.PaperRevision = 0
	var err error
	b.GoodSheets, err = part.GoodSheets("good", f.Get("good"))
	f.Refuse(err)
	b.Sheet = plan.Sheet{Edges: f.Get("edges")}
	b.Sheet.LongMM, b.Sheet.ShortMM, err = s.ReadSize("size", f.Get("size"))
	f.Refuse(err)
	if err == nil && (b.Sheet.LongMM > longest || b.Sheet.ShortMM < shortest) {
		f.Refuse(fault.OutOfRange("size", "a sheet's sides are between %s and %s", s.One(shortest, "mm"), s.One(longest, "mm")))
	}
	if f.Get("trim") != "" && b.Sheet.Edges == "deckle" {
		f.Refuse(fault.Invalid("trim", "deckle edges are not trimmed; choose trimmed edges, or leave this empty"))
	}
	if f.Get("trim") != "" {
		trim, err := s.Read("trim", f.Get("trim"), measure.OfLength)
		f.Refuse(err)
		b.Sheet.TrimMM = &trim
	}
	b.ConfidencePct, err = strconv.ParseFloat(f.Get("confidence"), 64)
	if err != nil {
		f.Refuse(fault.Invalid("confidence", "choose how sure it must be"))
	}
	b.WantedBy, b.Remarks = f.Get("wanted"), f.Get("remarks")
	if b.ID != "" {
		if b.Revision, err = strconv.Atoi(f.Get("revision")); err != nil {
			f.Refuse(fault.Invalid("", "the form is incomplete; open the brief again"))
		}
	}
}

func known(people []studio.Person, name string) string {
	for _, p := range people {
		if strings.EqualFold(p.Name, name) {
			return p.ID
		}
	}
	return ""
}
