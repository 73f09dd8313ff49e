package welcome

import "vatside/internal/plan"

// start is one paper a new studio may begin with.
type start struct {
	key, label, note string
	design           plan.Paper
}

// starts are where eight kinds of work commonly begin. Grammages lie inside
// the ranges bookbinders' and calligraphers' suppliers name for the use;
// furnish and drying are common practice. Hours of beating are left to the
// handbook, which has them by fibre and use.
var starts = []start{
	{"book text", "Book text", "sheets for a book", design("book text", 100, "stack", "cotton rag", 70, "abaca", 30)},
	{"cover", "Cover", "soft covers, folders", design("cover", 240, "stack", "cotton rag", 60, "abaca", 40)},
	{"calligraphy", "Calligraphy", "for the pen, sized", sized(design("calligraphy", 140, "stack", "cotton rag", 100))},
	{"print", "Print", "letterpress, relief, intaglio", design("print", 250, "stack", "cotton linters", 70, "abaca", 30)},
	{"box", "Box", "strong, folds at turn-ins", design("box", 90, "stack", "abaca", 100)},
	{"lamp", "Lamp", "lets the light through", design("lamp", 80, "board", "abaca", 100)},
	{"mending", "Thin mending", "tissue, several dips", dipped(design("mending", 20, "board", "kozo", 100))},
	{"sculpture", "Sculptural", "long beaten, shrinks on purpose", design("sculpture", 120, "free", "abaca", 100)},
}

// design builds a paper; blend is fibre, share, fibre, share…
func design(use string, grammage float64, drying string, blend ...any) plan.Paper {
	p := plan.Paper{Use: use, Forming: "western", GrammageConditioned: grammage, Drying: drying}
	for i := 0; i+1 < len(blend); i += 2 {
		p.Furnish = append(p.Furnish, plan.Part{Fibre: blend[i].(string), SharePct: float64(blend[i+1].(int))})
	}
	return p
}

func sized(p plan.Paper) plan.Paper {
	p.SurfaceSize = "gelatin"
	return p
}

// dipped makes a paper of several dips; three are common practice for a thin
// sheet.
func dipped(p plan.Paper) plan.Paper {
	dips := 3
	p.Forming, p.Dips = "several dips", &dips
	return p
}

func find(key string) (start, bool) {
	for _, s := range starts {
		if s.key == key {
			return s, true
		}
	}
	return start{}, false
}
