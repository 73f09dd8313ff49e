package studio

import (
	"context"
	"slices"
	"strings"
)

// Words are what hand and ear say, without the remark: "handle: firm, rattle
// 4 of 5"; "" where there is a remark alone.
func (b HandSays) Words() string {
	var said []string
	for _, t := range [][2]string{{"handle", b.Handle}, {"rattle", b.Rattle}, {"tooth", b.Tooth}} {
		switch text := strings.TrimSpace(t[1]); {
		case text == "":
		case len(text) == 1 && text >= "1" && text <= "5":
			said = append(said, t[0]+" "+text+" of 5")
		default:
			said = append(said, t[0]+": "+text)
		}
	}
	return strings.Join(said, ", ")
}

// All is the words and the remark, as a sentence or two.
func (b HandSays) All() string {
	words, remark := b.Words(), strings.TrimSpace(b.Remark)
	if words == "" {
		return remark
	}
	text := strings.ToUpper(words[:1]) + words[1:]
	if remark != "" {
		text += ". " + remark
	}
	return text
}

// HandSaid is what the hand said of a making of a paper.
type HandSaid struct {
	HandSays
	MakingID string
	Tag      string
	Revision int // of the paper it was made by
}

// Hands is what the hand said of a paper's makings, the newest first, at most
// so many; by one revision, or by all of them where it is 0.
func (s *Service) Hands(ctx context.Context, paperID string, revision, most int) ([]HandSaid, error) {
	var list []HandSaid
	err := s.store.Read(ctx, func(tx Tx) error {
		makings, err := tx.Makings(ctx, MakingFilter{PaperID: paperID, With: KindHand, Light: true})
		if err != nil {
			return err
		}
		for _, m := range makings {
			if len(list) >= most || revision != 0 && m.PaperRevision != revision {
				continue
			}
			events, err := tx.Events(ctx, m.ID)
			if err != nil {
				return err
			}
			holding, _ := hold(events)
			for _, h := range slices.Backward(holding) {
				if says, ok := h.Body.(HandSays); ok && len(list) < most {
					list = append(list, HandSaid{says, m.ID, m.Tag, m.PaperRevision})
				}
			}
		}
		return nil
	})
	return list, err
}
