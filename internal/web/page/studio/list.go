package studio

import (
	"fmt"
	"strconv"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/plan"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// mostRows a kind of equipment may have on the page; ours: more is a slip.
const mostRows = 60

// What a thing may be: in use, out of order, or taken off its list.
const (
	inUse  = ""
	broken = "out"
	gone   = "gone"
)

// things is a list of one kind of equipment. The form names its rows by a
// number each, in the order they stand in; a row of the records has its place
// there for a number, so that what nobody touched stays exactly as it was.
type things[T any] struct {
	key, one, path string // beater, "Beater", studio.beaters
	of             func(*plan.Studio) *[]T
	name           func(*T) *string
	blanks         []blank[T]
	// settle completes a row that is read, note tells what it comes to.
	settle func(c *reading, prefix string, v, was *T)
	note   func(c *reading, prefix string, v *T) string
}

// equipment is a list of any kind.
type equipment interface {
	id() string
	fill(f *page.Form, s part.Speech, k *plan.Studio)
	take(c *reading)
	rows(c *reading) []Row
	fresh(c *reading) Row
}

func (t things[T]) id() string { return t.key }

func (t things[T]) prefix(number string) string { return t.key + "-" + number + "-" }

func (t things[T]) fill(f *page.Form, s part.Speech, k *plan.Studio) {
	for i := range *t.of(k) {
		v := &(*t.of(k))[i]
		number := strconv.Itoa(i + 1)
		f.Values.Add(t.key, number)
		for _, b := range t.blanks {
			f.Fill(t.prefix(number)+b.Name, b.write(s, v))
		}
		if isOut(k.Without, *t.name(v)) {
			f.Fill(t.prefix(number)+"state", broken)
		}
	}
}

// before is the row as the records have it, or an empty one.
func (t things[T]) before(k *plan.Studio, number string) (v T) {
	if i, err := strconv.Atoi(number); err == nil && i >= 1 && i <= len(*t.of(k)) {
		v = (*t.of(k))[i-1]
	}
	return v
}

// row reads one row, and whether anything is said in it.
func (t things[T]) row(c *reading, number string) (v T, any bool) {
	v = t.before(c.was, number)
	was, none := v, *new(T)
	for _, b := range t.blanks {
		at := t.prefix(number) + b.Name
		typed := c.Get(at)
		any = any || typed != b.write(c.Speech, &none)
		if b.read == nil || typed == b.write(c.Speech, &was) {
			continue
		}
		c.Refuse(b.read(c.Speech, at, typed, &v))
	}
	if !any {
		return v, false
	}
	if t.settle != nil {
		t.settle(c, t.prefix(number), &v, &was)
	}
	for _, b := range t.blanks {
		if at := t.prefix(number) + b.Name; b.Required && c.Get(at) == "" {
			c.Refuse(fault.Invalid(at, "say this too: %s", strings.ToLower(b.Label[:1])+b.Label[1:]))
		}
	}
	return v, true
}

// take reads the list; a row that says nothing is none.
func (t things[T]) take(c *reading) {
	var list []T
	for _, number := range t.numbers(c.Form) {
		v, any := t.row(c, number)
		state := c.Get(t.prefix(number) + "state")
		if !any || state == gone {
			continue
		}
		at := fmt.Sprintf("%s[%d]", t.path, len(list))
		c.At[at] = t.prefix(number) + t.blanks[0].Name
		for _, b := range t.blanks {
			for _, key := range strings.Fields(b.at) {
				c.At[at+"."+key] = t.prefix(number) + b.Name
			}
		}
		*t.name(&v) = strings.TrimSpace(*t.name(&v))
		c.names = append(c.names, namedThing{t.prefix(number) + "name", *t.name(&v), state == broken})
		list = append(list, v)
	}
	*t.of(&c.now.Kit) = list
}
