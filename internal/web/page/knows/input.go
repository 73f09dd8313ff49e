package knows

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/json"
	"slices"

	"vatside/internal/belief"
	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// input is what the records hold that the page rests on, read once.
type input struct {
	profile studio.Profile
	known   belief.Known
	papers  []studio.Paper
	briefs  []studio.Brief
	makings []studio.Making // newest first
	print   []byte          // of the profile and of all that is known
}

func (p *Page) read(ctx context.Context) (in input, err error) {
	if in.profile, err = p.studio.Profile(ctx); err != nil {
		return in, err
	}
	if in.known, err = p.studio.Known(ctx); err != nil {
		return in, err
	}
	in.known = in.known.Joined()
	if in.papers, err = p.studio.Papers(ctx, studio.PaperFilter{}); err != nil {
		return in, err
	}
	if in.briefs, err = p.studio.Briefs(ctx, studio.BriefFilter{}); err != nil {
		return in, err
	}
	if in.makings, err = p.studio.Makings(ctx, studio.MakingFilter{Light: true}); err != nil {
		return in, err
	}
	text, err := json.Marshal([]any{in.profile, in.known})
	print := sha256.Sum256(text)
	in.print = print[:]
	return in, err
}

// next is the brief a paper is compared by, its latest, and whether one of its
// briefs is promised.
func (in input) next(pa studio.Paper) (b studio.Brief, promised bool) {
	b = studio.Brief{PaperID: pa.ID, GoodSheets: part.UsualGood, Sheet: pa.Sheet}
	for _, last := range in.briefs {
		if last.PaperID != pa.ID {
			continue
		}
		promised = promised || !last.Settled
		if last.Created.After(b.Created) {
			b.GoodSheets, b.Sheet, b.ConfidencePct, b.Created = last.GoodSheets, last.Sheet, last.ConfidencePct, last.Created
		}
	}
	return b, promised
}

// latest orders papers by when they were last made, those that are promised
// before all.
func (in input) latest() []studio.Paper {
	made := map[string]int{} // the later the more
	for i, m := range in.makings {
		made[m.PaperID] = max(made[m.PaperID], len(in.makings)-i)
	}
	list := slices.Clone(in.papers)
	slices.SortStableFunc(list, func(a, b studio.Paper) int {
		_, first := in.next(a)
		_, second := in.next(b)
		if first != second {
			return map[bool]int{true: -1, false: 1}[first]
		}
		return cmp.Compare(made[b.ID], made[a.ID])
	})
	return list
}
