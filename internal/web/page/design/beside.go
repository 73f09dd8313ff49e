package design

import (
	"context"
	"strconv"

	"vatside/internal/fault"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// beside plans two papers and sets them side by side, with what the hand said
// of each as it stands here.
func (p *Page) beside(ctx context.Context, d *CompareData, one, two studio.Paper, good int) error {
	heads := [2]string{titled(one), titled(two)}
	d.Designs = differing(d.Speech, one, two, heads)
	a, b := p.both(ctx, draft{one.Design, one.Sheet, good}, draft{two.Design, two.Sheet, good})
	for i, plan := range []planned{a, b} {
		if fault.Refused(plan.err) {
			d.No = append(d.No, heads[i]+": "+page.Sentence(plan.err))
		} else if plan.err != nil {
			return plan.err
		}
	}
	d.Plans = part.Moved(part.Moves(a.Plan, b.Plan, d.Speech), "What that does", heads[0], heads[1])
	d.Mind, d.Gone = part.Minded(a.Plan, b.Plan, d.Speech)
	for i, pa := range []studio.Paper{one, two} {
		hands, err := p.studio.Hands(ctx, pa.ID, pa.Revision, fewHands)
		if err != nil {
			return err
		}
		d.Sides = append(d.Sides, Side{heads[i], hands})
	}
	return nil
}

func titled(p studio.Paper) string { return p.Name + ", revision " + strconv.Itoa(p.Revision) }
