package knows

import (
	"cmp"
	"slices"

	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// usual are the steps of one plan, with the minutes they usually take.
type usual struct {
	paper studio.Paper
	good  int
	steps []plan.Step
}

// latestFirst puts the steps of the paper made last at the head.
func (g *gathered) latestFirst(makings []studio.Making) {
	if len(makings) == 0 {
		return
	}
	slices.SortStableFunc(g.steps, func(a, b usual) int {
		return cmp.Compare(btoi(b.paper.ID == makings[0].PaperID), btoi(a.paper.ID == makings[0].PaperID))
	})
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// step is a step by its plain name, and its usual minutes in the plan it is in;
// 0 where no plan has it.
func (g *gathered) step(key string) (name string, minutes float64) {
	for i, u := range g.steps {
		for _, st := range u.steps {
			if st.Key == key && (i == 0 || name == "") {
				name = st.Name
				if i == 0 {
					minutes = st.UsualMin
				}
			}
		}
	}
	if name == "" {
		name = part.Upper(key)
	}
	return name, minutes
}
