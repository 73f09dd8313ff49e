package studio

import (
	"fmt"
	"strconv"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// read takes the studio from the form; a number nobody touched stays exactly
// as it was.
func read(f *page.Form, s part.Speech, old studio.Profile) studio.Profile {
	was := &page.Form{}
	write(was, s, old)
	p := old
	p.Name, p.System, p.Currency = f.Get("name"), f.Get("system"), strings.ToUpper(f.Get("currency"))
	p.Answered = true
	if p.System != studio.Metric && p.System != studio.US {
		f.Refuse(fault.Invalid("system", "choose metric or US units"))
	}
	if len(p.Currency) != 3 {
		f.Refuse(fault.Invalid("currency", "a currency is three letters, such as EUR or USD"))
	}
	var err error
	if p.Revision, err = strconv.Atoi(f.Get("revision")); err != nil {
		f.Refuse(fault.Invalid("", "the form is incomplete; open the page again"))
	}
	k := apart(old.Kit)
	for _, g := range groups {
		for _, b := range blanks(g.Name) {
			if f.Get(b.name) != was.Get(b.name) {
				*b.of(&k) = b.read(f, s)
			}
		}
	}
	k.Moulds = moulds(f, s, was, old.Kit.Moulds)
	p.Kit = k.together(f)
	if p.Kit.FibreStock != nil && *p.Kit.FibreStock < 0 {
		f.Refuse(fault.OutOfRange("fibre", "nothing or more"))
	}
	return p
}

// moulds reads the rows that say something. A row keeps its number, so that a
// fault is told at it.
func moulds(f *page.Form, s part.Speech, was *page.Form, old []plan.Mould) []plan.Mould {
	rows, _ := strconv.Atoi(f.Get("rows"))
	var list []plan.Mould
	for i := 1; i <= min(max(rows, leastRows), mostRows); i++ {
		at := fmt.Sprintf("mould-%d-size", i)
		name, size := f.Get(fmt.Sprintf("mould-%d-name", i)), f.Get(at)
		switch {
		case size == "" && name == "":
			continue
		case size == "":
			f.Refuse(fault.Invalid(at, "say the formed size of %s, such as %s", name, s.SizeLine(430, 310)))
			continue
		}
		m := plan.Mould{Name: name}
		if i <= len(old) && size == was.Get(at) {
			m.LongMM, m.ShortMM = old[i-1].LongMM, old[i-1].ShortMM
		} else {
			var err error
			m.LongMM, m.ShortMM, err = s.ReadSize(at, size)
			if err == nil && !(m.LongMM <= mostMould && m.ShortMM >= leastMould) {
				err = fault.OutOfRange(at, "a mould is between %s and %s a side, not %s", s.One(leastMould, "mm"), s.One(mostMould, "mm"), s.SizeLine(m.LongMM, m.ShortMM))
			}
			f.Refuse(err)
		}
		list = append(list, m)
	}
	return list
}

// Bounds of a mould's side in mm: those of the plan.
const (
	leastMould = 10
	mostMould  = 3000
)
