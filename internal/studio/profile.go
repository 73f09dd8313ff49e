package studio

import (
	"context"
	"strings"
	"time"

	"vatside/internal/fault"
	"vatside/internal/plan"
)

// The measure systems a studio may read and type in.
const (
	Metric = "metric"
	US     = "us"
)

// Profile is the studio itself. A studio that has saved nothing yet has the
// profile of NewProfile, at revision 0.
type Profile struct {
	Name          string
	System        string // Metric or US: how pages show and read quantities
	Currency      string // ISO 4217 code, such as EUR
	Kit           plan.Studio
	DefaultSheet  plan.Sheet // what a new brief starts from
	ConfidencePct float64    // what a new brief starts from
	Answered      bool       // the questions of the first evening are answered
	Revision      int
	By            string // the device or window that saved it
	Changed       time.Time
}

// NewProfile returns the profile of a studio that has answered nothing.
func NewProfile() Profile {
	return Profile{
		System: Metric, Currency: "EUR", ConfidencePct: 90,
		// A4, ISO 216: a finished size every reader knows.
		DefaultSheet: plan.Sheet{LongMM: 297, ShortMM: 210, Edges: "deckle"},
	}
}

// check reports what cannot be meant; the equipment's ranges are the plan's.
func (p Profile) check() error {
	var faults fault.List
	if p.System != Metric && p.System != US {
		faults.Add(fault.Invalid("system", "the measure system is metric or us"))
	}
	if len(p.Currency) != 3 || strings.ToUpper(p.Currency) != p.Currency {
		faults.Add(fault.Invalid("currency", "a currency is three capital letters, such as EUR or USD"))
	}
	checkConfidence(&faults, p.ConfidencePct)
	checkSheet(&faults, "default_sheet", p.DefaultSheet)
	return faults.OrNil()
}

// Profile returns the studio's profile.
func (s *Service) Profile(ctx context.Context) (Profile, error) {
	var p Profile
	err := s.store.Read(ctx, func(tx Tx) (err error) {
		p, err = tx.Profile(ctx)
		return err
	})
	return p, err
}

// SaveProfile saves the profile and returns it at its new revision.
// Faults: Invalid, OutOfRange; Conflict when it was saved by another in between.
func (s *Service) SaveProfile(ctx context.Context, p Profile) (Profile, error) {
	p.Currency = strings.TrimSpace(p.Currency)
	if err := p.check(); err != nil {
		return Profile{}, err
	}
	p.Kit.Currency = p.Currency
	err := s.store.Write(ctx, func(tx Tx) error {
		old, err := tx.Profile(ctx)
		if err != nil {
			return err
		}
		if old.Revision != p.Revision {
			return s.stale("the studio's profile", old.By, old.Changed)
		}
		p.Revision, p.Changed = old.Revision+1, s.second()
		return tx.PutProfile(ctx, p)
	})
	return p, err
}
