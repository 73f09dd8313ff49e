package studio

import "vatside/internal/plan"

// Starting is a paper to begin from on the first evening: a design with
// starting values and why they are so.
type Starting struct {
	Use    string // also the design's use
	Title  string
	Why    string
	Design plan.Paper
	Sheet  plan.Sheet
}

// StartingPapers are the papers a new studio can begin from. Grammages follow
// what binders and scribes ask for; the rest is common practice and from
// memory, to be changed.
func StartingPapers() []Starting {
	part := func(fibre string, share float64) plan.Part { return plan.Part{Fibre: fibre, SharePct: share} }
	design := func(use string, g, hours float64, drying string, parts ...plan.Part) plan.Paper {
		return plan.Paper{Use: use, Forming: "western", Furnish: parts, GrammageConditioned: g, BeatingHours: &hours, Drying: drying}
	}
	a4, a3 := plan.Sheet{LongMM: 297, ShortMM: 210, Edges: "deckle"}, plan.Sheet{LongMM: 420, ShortMM: 297, Edges: "deckle"}
	list := []Starting{
		{"book text", "Book text", "Folds well and opens flat: rag for body, a third abaca for strength.", design("book text", 100, 3, "stack", part("cotton rag", 70), part("abaca", 30)), a3},
		{"cover", "Cover", "Stiff and tough at the joint: heavier, with more abaca.", design("cover", 220, 2.5, "stack", part("cotton rag", 50), part("abaca", 50)), a3},
		{"calligraphy", "Calligraphy", "Hard and smooth under a pen: rag beaten longer, sized after drying.", design("calligraphy", 150, 4, "stack", part("cotton rag", 100)), a3},
		{"print", "Printmaking", "Soft enough to take ink deeply, lightly beaten.", design("print", 250, 1, "stack", part("cotton linters", 60), part("cotton rag", 40)), a3},
		{"box", "Box covering", "Thin, tough and soft at the turn-ins.", design("box", 90, 2, "stack", part("abaca", 100)), a3},
		{"lamp", "Lamp", "Long-beaten abaca lets light through; dried held so that it stays flat.", design("lamp", 80, 4, "stack", part("abaca", 100)), a3},
		{"mending", "Thin mending", "Long kozo fibre, very thin; wants formation aid and a gentle hand.", design("mending", 20, 0.4, "board", part("kozo", 100)), a4},
		{"sculpture", "Sculptural, high shrink", "Abaca beaten very long and dried free: it shrinks, and draws tight.", design("sculpture", 120, 7, "free", part("abaca", 100)), a3},
	}
	for i := range list {
		list[i].Design.Name = list[i].Title
		switch list[i].Use {
		case "calligraphy":
			list[i].Design.SurfaceSize = "gelatin, 3 % bath"
		case "mending":
			// pulled in several dips from a thin vat
			list[i].Design.Forming = "several dips"
		case "sculpture":
			// what dries free is taken as it comes: a tenth either way
			tolerance, weight := 42.0, 20.0
			list[i].Sheet.ToleranceMM, list[i].Design.TolerancePct = &tolerance, &weight
		}
	}
	return list
}
