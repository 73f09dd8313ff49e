package fibre

import (
	"fmt"
	"slices"
	"sync"

	"vatside/internal/source"
)

// Note is one thing to know about making pulp out of what was something else
// before.
type Note struct {
	Name, Text string
	Source     string
	Grade      source.Grade
}

// Topic are the notes of one step of the work.
type Topic struct {
	Name     string
	Cautions []Note
	Notes    []Note
}

// What there are notes about.
const (
	Rags       = "rags"
	WastePaper = "waste-paper"
)

var notes = sync.OnceValue(func() map[string][]Topic {
	out := map[string][]Topic{}
	err := source.Table(data, "data/notes.csv", 5, func(r []string) error {
		src, ok := source.Get(r[4])
		if !ok {
			return fmt.Errorf("the source %q is not in the registry", r[4])
		}
		list := out[r[0]]
		if n := len(list); n == 0 || list[n-1].Name != r[1] {
			list = append(list, Topic{Name: r[1]})
		}
		last := &list[len(list)-1]
		if r[2] == "Take care" {
			last.Cautions = append(last.Cautions, Note{r[2], r[3], r[4], src.Grade})
		} else {
			last.Notes = append(last.Notes, Note{r[2], r[3], r[4], src.Grade})
		}
		out[r[0]] = list
		return nil
	})
	if err != nil {
		panic("fibre: " + err.Error())
	}
	return out
})

// Notes returns what is to be known about Rags or WastePaper, in the order of
// the work.
func Notes(about string) []Topic { return slices.Clone(notes()[about]) }
