package studio

import (
	"context"
	"math"
	"slices"
	"strings"
	"sync"
	"time"

	"vatside/internal/belief"
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

// Brief is a wish: which paper, what size, how many good sheets, when.
type Brief struct {
	ID            string
	Revision      int
	PaperID       string
	PaperRevision int // 0 when saving: the present one
	GoodSheets    int
	Sheet         plan.Sheet
	ConfidencePct float64
	WantedBy      string // a date such as 2026-12-01; empty: no date
	Remarks       string
	PersonID      string // who wants it; empty: nobody, or erased
	Settled       bool   // delivered or dropped: no longer promised
	By            string // the device or window that saved it
	Created       time.Time
	Changed       time.Time
}

// BriefFilter narrows a list of briefs; its zero value asks for all.
type BriefFilter struct {
	ID       string
	PaperID  string
	PersonID string
	Open     bool // only those not settled
}

// Person is a customer. It stands alone in its table, so that it can be
// erased; nothing else carries a name or an address.
type Person struct {
	ID      string
	Name    string
	Contact string
	Created time.Time
}

func (b Brief) check() error {
	var faults fault.List
	if b.PaperID == "" {
		faults.Add(fault.Invalid("paper", "say which paper is wanted"))
	}
	checkInt(&faults, "good_sheets", b.GoodSheets, 1, mostSheets, "good sheets")
	checkSheet(&faults, "sheet", b.Sheet)
	checkConfidence(&faults, b.ConfidencePct)
	checkText(&faults, "remarks", b.Remarks, longText)
	if b.WantedBy != "" {
		if _, err := time.Parse(time.DateOnly, b.WantedBy); err != nil {
			faults.Add(fault.Invalid("wanted_by", "write the date as year-month-day, such as 2026-12-01"))
		}
	}
	return faults.OrNil()
}

// Briefs lists briefs, the earliest wanted first, those without a date last.
func (s *Service) Briefs(ctx context.Context, f BriefFilter) ([]Brief, error) {
	var list []Brief
	err := s.store.Read(ctx, func(tx Tx) (err error) {
		list, err = tx.Briefs(ctx, f)
		return err
	})
	return list, err
}

// Brief returns one brief. Faults: NotFound.
func (s *Service) Brief(ctx context.Context, id string) (Brief, error) {
	list, err := s.Briefs(ctx, BriefFilter{ID: id})
	return one(list, err, "there is no such brief")
}

// SaveBrief saves a brief and returns it at its new revision; without an ID it
// is new. Faults: Invalid, OutOfRange; NotFound; Conflict when it was saved by
// another in between.
func (s *Service) SaveBrief(ctx context.Context, b Brief) (Brief, error) {
	if err := b.check(); err != nil {
		return Brief{}, err
	}
	err := s.store.Write(ctx, func(tx Tx) error {
		list, err := tx.Papers(ctx, PaperFilter{ID: b.PaperID, Revision: b.PaperRevision})
		paper, err := one(list, err, "there is no such paper, or not that revision of it")
		if err != nil {
			return err
		}
		if b.PersonID != "" {
			people, err := tx.People(ctx, b.PersonID)
			if _, err := one(people, err, "there is no such person; perhaps the entry was erased"); err != nil {
				return err
			}
		}
		now := s.second()
		if b.ID == "" {
			b.ID, b.Created = s.newID(), now
			b.Revision = 0
		} else {
			briefs, err := tx.Briefs(ctx, BriefFilter{ID: b.ID})
			old, err := one(briefs, err, "there is no such brief")
			if err != nil {
				return err
			}
			if old.Revision != b.Revision {
				return s.stale("this brief", old.By, old.Changed)
			}
			b.Created = old.Created
		}
		b.PaperRevision, b.Changed = paper.Revision, now
		b.Revision++
		return tx.PutBrief(ctx, b)
	})
	return b, err
}

// People lists the customers by name.
func (s *Service) People(ctx context.Context) ([]Person, error) {
	var list []Person
	err := s.store.Read(ctx, func(tx Tx) (err error) {
		list, err = tx.People(ctx, "")
		return err
	})
	return list, err
}

// SavePerson saves a customer and returns it; without an ID it is new.
// Faults: Invalid.
func (s *Service) SavePerson(ctx context.Context, p Person) (Person, error) {
	p.Name = strings.TrimSpace(p.Name)
	if err := p.check(); err != nil {
		return Person{}, err
	}
	err := s.store.Write(ctx, func(tx Tx) error {
		if p.ID == "" {
			p.ID, p.Created = s.newID(), s.second()
			return tx.PutPerson(ctx, p)
		}
		list, err := tx.People(ctx, p.ID)
		old, err := one(list, err, "there is no such person; perhaps the entry was erased")
		if err != nil {
			return err
		}
		p.Created = old.Created
		return tx.PutPerson(ctx, p)
	})
	return p, err
}

// ForgetPerson erases a customer's name and contact; briefs stay, without a
// person. Forgetting twice is no fault.
func (s *Service) ForgetPerson(ctx context.Context, id string) error {
	return s.store.Write(ctx, func(tx Tx) error { return tx.ErasePerson(ctx, id) })
}

// Revision is another whenever what is known may be another: it has changed, or
// another file has taken the place of the studio's.
type Revision struct{ File, Change int64 }

// lastKnown is what was known when it was last read, and at which revision.
type lastKnown struct {
	mu       sync.Mutex
	revision Revision
	known    *belief.Known
}

// Known returns what the studio has learned and fixed, as plans use it. It is
// read once for every change of it, and not to be changed.
func (s *Service) Known(ctx context.Context) (belief.Known, error) {
	s.last.mu.Lock()
	defer s.last.mu.Unlock()
	var by int
	var revision Revision
	err := s.store.Read(ctx, func(tx Tx) (err error) {
		by, revision, err = tx.Learner(ctx)
		return err
	})
	if err != nil {
		return belief.Known{}, err
	}
	if s.last.known != nil && by == learner && revision == s.last.revision {
		return *s.last.known, nil
	}
	seen, err := s.Observations(ctx, ObservationFilter{})
	if err != nil {
		return belief.Known{}, err
	}
	pins, err := s.Pins(ctx)
	if err != nil {
		return belief.Known{}, err
	}
	known := belief.NewKnown(seen, pins)
	// what changed while it was read has another revision, and is read again
	s.last.known, s.last.revision = &known, revision
	return known, nil
}

// Pins returns the values the maker fixed, by belief.
func (s *Service) Pins(ctx context.Context) (map[string]belief.Pin, error) {
	var pins map[string]belief.Pin
	err := s.store.Read(ctx, func(tx Tx) (err error) {
		pins, err = tx.Pins(ctx)
		return err
	})
	return pins, err
}

// SetPin fixes a value. Faults: Invalid, OutOfRange. Whether the number can be
// one of that belief, the plan says.
func (s *Service) SetPin(ctx context.Context, key string, p belief.Pin) error {
	var faults fault.List
	if key == "" {
		faults.Add(fault.Invalid("belief", "say which number is fixed"))
	}
	checkText(&faults, "belief", key, shortText)
	if math.IsNaN(p.Value) || math.IsInf(p.Value, 0) {
		faults.Add(fault.OutOfRange("value", "a number"))
	}
	checkText(&faults, "why", p.Why, longText)
	if err := faults.OrNil(); err != nil {
		return err
	}
	return s.store.Write(ctx, func(tx Tx) error { return tx.PutPin(ctx, key, p, s.second()) })
}

// ForgetPin sets a fixed value free again; forgetting twice is no fault.
func (s *Service) ForgetPin(ctx context.Context, key string) error {
	return s.store.Write(ctx, func(tx Tx) error { return tx.ErasePin(ctx, key) })
}

// PlanBrief plans a brief from the records as they are now: the paper at the
// revision the brief names, the studio's equipment, what was learned. The
// brief need not be saved. Faults: those of plan.Make, NotFound.
func (s *Service) PlanBrief(ctx context.Context, b Brief) (plan.Request, plan.Plan, error) {
	return s.PlanBriefWithout(ctx, b)
}

// PlanBriefWithout plans a brief as if the named equipment were out of order,
// besides what is. Nothing is kept. Faults: those of PlanBrief.
func (s *Service) PlanBriefWithout(ctx context.Context, b Brief, names ...string) (plan.Request, plan.Plan, error) {
	req, known, err := s.gatherBrief(ctx, b)
	if err != nil {
		return req, plan.Plan{}, err
	}
	req.Studio.Without = slices.Concat(req.Studio.Without, names)
	answer, err := plan.Make(req, known)
	return req, answer, err
}

// PlanDesign plans so many good sheets of a design that need not be saved, in
// the studio as it is now, as surely as is said; nil is usual. Nothing is kept.
// Faults: those of plan.Make.
func (s *Service) PlanDesign(ctx context.Context, design plan.Paper, sheet plan.Sheet, good int, sure *float64) (plan.Request, plan.Plan, error) {
	req, known, err := s.around(ctx, design, sheet)
	if err != nil {
		return req, plan.Plan{}, err
	}
	req.GoodSheets, req.ConfidencePct = &good, sure
	answer, err := plan.Make(req, known)
	return req, answer, err
}

// gatherBrief begins the request of a brief.
func (s *Service) gatherBrief(ctx context.Context, b Brief) (plan.Request, belief.Known, error) {
	req, known, err := s.gather(ctx, b.PaperID, b.PaperRevision, b.Sheet)
	if err != nil {
		return req, known, err
	}
	good, sure := b.GoodSheets, b.ConfidencePct
	req.GoodSheets = &good
	if sure > 0 {
		req.ConfidencePct = &sure
	}
	return req, known, nil
}

// PlanPulp answers what pulp in hand can make of a paper.
func (s *Service) PlanPulp(ctx context.Context, paperID string, sheet plan.Sheet, have plan.Have) (plan.Plan, error) {
	req, known, err := s.gather(ctx, paperID, 0, sheet)
	if err != nil {
		return plan.Plan{}, err
	}
	req.Have = &have
	return plan.Make(req, known)
}

// gather begins a request with what the records hold. Revision 0 is the
// present one.
func (s *Service) gather(ctx context.Context, paperID string, revision int, sheet plan.Sheet) (plan.Request, belief.Known, error) {
	list, err := s.Papers(ctx, PaperFilter{ID: paperID, Revision: revision})
	paper, err := one(list, err, "there is no such paper")
	if err != nil {
		return plan.Request{}, belief.Known{}, err
	}
	return s.around(ctx, paper.Design, sheet)
}

// around begins a request for a design, saved or not, with the studio as it
// is now.
func (s *Service) around(ctx context.Context, design plan.Paper, sheet plan.Sheet) (plan.Request, belief.Known, error) {
	lots, err := s.Lots(ctx, LotFilter{Open: true})
	if err != nil {
		return plan.Request{}, belief.Known{}, err
	}
	profile, err := s.Profile(ctx)
	if err != nil {
		return plan.Request{}, belief.Known{}, err
	}
	known, err := s.Known(ctx)
	if err != nil {
		return plan.Request{}, belief.Known{}, err
	}
	kit := profile.Kit
	kit.Currency = profile.Currency
	now := s.now()
	month := int(now.Month())
	kit.Month = &month
	if kit.Lots = append(kit.Lots, shelf(lots, profile.Currency, now)...); len(lots) > 0 {
		kit.FibreStock = nil // the lots know better
	}
	return plan.Request{Paper: design, Sheet: sheet, Studio: kit}, known, nil
}
