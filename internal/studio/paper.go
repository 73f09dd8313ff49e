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
