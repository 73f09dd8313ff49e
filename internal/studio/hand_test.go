package studio_test

import (
	"strings"
	"testing"
	"time"

	"vatside/internal/studio"
)

func TestHandInWords(t *testing.T) {
	t.Parallel()
	for want, says := range map[string]studio.HandSays{
		"Handle: firm, rattle 4 of 5, tooth: fine. A little loud.": {Handle: "firm", Rattle: "4", Tooth: "fine", Remark: "A little loud."},
		"Rattle: 12":    {Rattle: " 12 "}, // no number of five
		"A little loud": {Remark: "A little loud"},
		"Tooth 1 of 5":  {Tooth: "1"},
		"":              {},
	} {
		if got := says.All(); got != want {
			t.Errorf("%+v: %q, want %q", says, got, want)
		}
	}
}

// The newest making first and in it the last word first; what was corrected is
// told as it holds, what was taken back not at all.
func TestHands(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	ctx := t.Context()
	say := func(m studio.Making, id string, says studio.HandSays) {
		t.Helper()
		must[studio.State](t)(b.Record(ctx, m.ID, studio.NewEvent(id, b.now, says)))
		b.now = b.now.Add(time.Hour)
	}
	first := b.making()
	say(first, "a", studio.HandSays{Handle: "one"})
	say(first, "b", studio.HandSays{Handle: "two"})
	say(first, "c", studio.HandSays{Handle: "gone"})
	must[studio.State](t)(b.Record(ctx, first.ID, studio.Void("no c", b.now, "c")))
	p := must[studio.Paper](t)(b.Paper(ctx, first.PaperID))
	must[studio.Paper](t)(b.SavePaper(ctx, p))
	br := must[studio.Brief](t)(b.SaveBrief(ctx, studio.Brief{PaperID: p.ID, GoodSheets: 50, Sheet: p.Sheet, ConfidencePct: 90}))
	second := must[studio.Making](t)(b.StartMaking(ctx, br.ID, aRequest(), aPlan()))
	say(second, "d", studio.HandSays{Handle: "three"})
	other := b.making()
	say(other, "e", studio.HandSays{Handle: "of another paper"})
	for _, c := range []struct {
		revision, most int
		want           string
	}{{0, 9, "three two one"}, {0, 2, "three two"}, {1, 9, "two one"}, {2, 9, "three"}, {3, 9, ""}} {
		var got []string
		for _, h := range must[[]studio.HandSaid](t)(b.Hands(ctx, p.ID, c.revision, c.most)) {
			if h.Tag == "" || h.MakingID == "" || h.Revision == 0 {
				t.Errorf("%+v does not say whose it is", h)
			}
			got = append(got, h.Handle)
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("revision %d, at most %d: %q, want %q", c.revision, c.most, got, c.want)
		}
	}
}
