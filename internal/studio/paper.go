package studio

import (
	"context"
	"math"
	"strings"
	"time"

	"vatside/internal/fault"
	"vatside/internal/plan"
)

// Paper is one revision of a design. Every revision is kept.
type Paper struct {
	ID       string
	Revision int
	Name     string
	Design   plan.Paper
	Sheet    plan.Sheet // the size it is usually made in
	Note     string
	Change   string    // what this revision changed, and why
	By       string    // the device or window that saved it
	Created  time.Time // of the paper
	Changed  time.Time // of this revision
}

// PaperFilter narrows a list of papers; its zero value asks for the present
// revision of all.
type PaperFilter struct {
	ID       string
	Name     string // a part of the name, in any case
	Revision int    // with ID: that revision instead of the present one
	Every    bool   // with ID: all revisions, newest first
}

func (p Paper) check() error {
	var faults fault.List
	if strings.TrimSpace(p.Name) == "" {
		faults.Add(fault.Invalid("name", "give the paper a name"))
	}
	checkText(&faults, "name", p.Name, shortText)
	checkText(&faults, "note", p.Note, longText)
	checkText(&faults, "change", p.Change, longText)
	if len(p.Design.Furnish) == 0 {
		faults.Add(fault.Invalid("design.furnish", "name at least one fibre"))
	} else {
		var total float64
		for _, part := range p.Design.Furnish {
			total += part.SharePct
		}
		// Half a per cent lets thirds be written as 33.3.
		if math.IsNaN(total) || math.Abs(total-100) > 0.5 {
			faults.Add(fault.Invalid("design.furnish", "the shares of the furnish add up to 100 %%, not %.4g %%", total))
		}
	}
	if g := p.Design.GrammageConditioned; !(g > 0) || math.IsInf(g, 0) {
		faults.Add(fault.OutOfRange("design.grammage_conditioned_g_m2", "the grammage is more than 0 g/m²"))
	}
	checkSheet(&faults, "sheet", p.Sheet)
	return faults.OrNil()
}

// Papers lists papers by name.
func (s *Service) Papers(ctx context.Context, f PaperFilter) ([]Paper, error) {
	var list []Paper
	err := s.store.Read(ctx, func(tx Tx) (err error) {
		list, err = tx.Papers(ctx, f)
		return err
	})
	return list, err
}

// Paper returns the present revision of a paper. Faults: NotFound.
func (s *Service) Paper(ctx context.Context, id string) (Paper, error) {
	list, err := s.Papers(ctx, PaperFilter{ID: id})
	return one(list, err, "there is no such paper")
}

// PaperRevisions returns all revisions of a paper, newest first. Faults:
// NotFound.
func (s *Service) PaperRevisions(ctx context.Context, id string) ([]Paper, error) {
	list, err := s.Papers(ctx, PaperFilter{ID: id, Every: true})
	if err == nil && len(list) == 0 {
		err = fault.NotFound("there is no such paper")
	}
	return list, err
}

// SavePaper appends a revision and returns it; without an ID the paper is new.
// Faults: Invalid, OutOfRange; NotFound; Conflict when p.Revision is no longer
// the present one.
func (s *Service) SavePaper(ctx context.Context, p Paper) (Paper, error) {
	p.Name = strings.TrimSpace(p.Name)
	if p.Design.Name == "" {
		p.Design.Name = p.Name
	}
	if err := p.check(); err != nil {
		return Paper{}, err
	}
	err := s.store.Write(ctx, func(tx Tx) error {
		now := s.second()
		if p.ID == "" {
			p.ID, p.Revision, p.Created, p.Changed = s.newID(), 1, now, now
			return tx.AppendPaper(ctx, p)
		}
		list, err := tx.Papers(ctx, PaperFilter{ID: p.ID})
		old, err := one(list, err, "there is no such paper")
		if err != nil {
			return err
		}
		if old.Revision != p.Revision {
			return s.stale("this paper", old.By, old.Changed)
		}
		p.Revision, p.Created, p.Changed = old.Revision+1, old.Created, now
		return tx.AppendPaper(ctx, p)
	})
	return p, err
}

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
			bath := 3.0
			list[i].Design.SurfaceSize, list[i].Design.SurfaceBathPct = "gelatin", &bath
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
