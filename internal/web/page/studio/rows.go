package studio

import (
	"slices"
	"strconv"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/plan"
	"vatside/internal/web/page"
)

// numbers are the rows of the form in their order.
func (t things[T]) numbers(f *page.Form) []string {
	var out []string
	for _, n := range f.Values[t.key] {
		if i, err := strconv.Atoi(n); err == nil && i > 0 && !slices.Contains(out, n) && len(out) < mostRows {
			out = append(out, n)
		}
	}
	return out
}

func (t things[T]) rows(c *reading) []Row {
	var out []Row
	for _, number := range t.numbers(c.Form) {
		quiet := *c
		quiet.Form = &page.Form{Values: c.Values, At: map[string]string{}} // its faults are told already
		v, _ := t.row(&quiet, number)
		r := t.set(c, number)
		if name := c.Get(t.prefix(number) + "name"); name != "" {
			r.Title = name
		}
		if t.note != nil {
			r.Note = t.note(&quiet, t.prefix(number), &v)
		}
		out = append(out, r)
	}
	return out
}

// fresh is the row that a script adds.
func (t things[T]) fresh(c *reading) Row {
	quiet := *c
	quiet.Form = &page.Form{}
	return t.set(&quiet, "0")
}

func (t things[T]) set(c *reading, number string) Row {
	r := Row{Key: t.key, Number: number, Title: t.one}
	for _, b := range t.blanks {
		r.Cells = append(r.Cells, Cell{b.ask(c.Form, c.Speech, t.prefix(number)), b.by})
		r.Works = r.Works || b.by != ""
	}
	r.State = c.Field(choice(t.prefix(number)+"state", "It is", "", inUse, "in use", broken, "out of order", gone, "to be taken off the list"))
	r.Gone = r.State.Value == gone
	return r
}

// act moves, adds or works out a row, as a button of the form asks for:
// beater.add, beater.2.up. It returns the row's prefix.
func act(f *page.Form, do string) (kind, prefix string) {
	words := strings.Split(do, ".")
	kind = words[0]
	list := f.Values[kind]
	if len(words) == 2 && words[1] == "add" && len(list) < mostRows {
		most := 0
		for _, n := range list {
			i, _ := strconv.Atoi(n)
			most = max(most, i)
		}
		f.Values.Add(kind, strconv.Itoa(most+1))
		return kind, ""
	}
	if len(words) != 3 {
		return kind, ""
	}
	i := slices.Index(list, words[1])
	if j := i - 1; words[2] == "up" && i > 0 {
		list[i], list[j] = list[j], list[i]
	}
	if j := i + 1; words[2] == "down" && i >= 0 && j < len(list) {
		list[i], list[j] = list[j], list[i]
	}
	return kind, kind + "-" + words[1] + "-"
}

func isOut(without []string, name string) bool {
	return name != "" && slices.ContainsFunc(without, func(w string) bool { return strings.EqualFold(w, name) })
}

// outOfOrder gathers what plans shall do without. What the records do without
// that is no equipment of the page stays.
func outOfOrder(c *reading, before []string) {
	c.now.Kit.Without = nil
	for _, w := range c.was.Without {
		if !slices.ContainsFunc(before, func(n string) bool { return strings.EqualFold(n, w) }) {
			c.now.Kit.Without = append(c.now.Kit.Without, w)
		}
	}
	for _, n := range c.names {
		if !n.out {
			continue
		}
		if n.name == "" {
			c.Refuse(fault.Invalid(n.field, "give it a name, so that plans know which one is out of order"))
			continue
		}
		same := slices.IndexFunc(c.names, func(o namedThing) bool { return o.field != n.field && strings.EqualFold(o.name, n.name) && !o.out })
		if same >= 0 {
			c.Refuse(fault.Invalid(n.field, "another thing in use is called %s too; give this one a name of its own, so that plans know which one is out of order", n.name))
			continue
		}
		if !isOut(c.now.Kit.Without, n.name) {
			c.now.Kit.Without = append(c.now.Kit.Without, n.name)
		}
	}
}

// listed puts the one thing under a short key, as older records and the first
// evening have it, before the list of its kind.
func listed(k plan.Studio) plan.Studio {
	if k.VatL != nil || k.VatLeastL != nil && len(k.Vats) == 0 {
		v := plan.Vat{LeastL: k.VatLeastL}
		if k.VatL != nil {
			v.VatL = *k.VatL
		}
		k.Vats = slices.Insert(slices.Clone(k.Vats), 0, v)
	}
	k.Beaters, k.Presses, k.Dryers = first(k.Beater, k.Beaters), first(k.Press, k.Presses), first(k.Dryer, k.Dryers)
	k.VatL, k.VatLeastL, k.Beater, k.Press, k.Dryer = nil, nil, nil, nil, nil
	return k
}

func first[T any](one *T, list []T) []T {
	if one == nil {
		return list
	}
	return slices.Insert(slices.Clone(list), 0, *one)
}
