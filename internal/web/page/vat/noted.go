package vat

import (
	"fmt"
	"slices"
	"time"

	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// noted tells the newest entries that hold.
func noted(s part.Speech, events []studio.Event, now time.Time) []Noted {
	list := []Noted{}
	for _, h := range slices.Backward(studio.Holds(events)) {
		if len(list) == mostNoted {
			break
		}
		if text := told(s, h.Body); text != "" {
			list = append(list, Noted{h.Event.ID, text, part.Since(h.Event.At, now)})
		}
	}
	return list
}

// told is an entry at the vat in a few words; "" of any other.
func told(s part.Speech, b studio.Body) string {
	dryOf := func(n int, grams float64) string { return part.Many(n, "sheet") + ", " + s.One(grams, "g") }
	switch b := b.(type) {
	case studio.Post:
		if b.Pulled == 0 {
			return part.Many(b.KissedOff, "sheet") + " kissed off"
		}
		text := part.Many(b.Pulled, "sheet") + fmt.Sprintf(" pulled, post %d", b.Post)
		if b.KissedOff > 0 {
			text += fmt.Sprintf(", %d kissed off", b.KissedOff)
		}
		return text
	case studio.Recharge:
		return s.One(b.StockML, "mL") + " of stock poured"
	case studio.VatChanged:
		return page.VatChanged(s, b)
	case studio.VatStrained:
		return page.VatStrained(s, b)
	case studio.TestWeighed:
		return dryOf(b.Sheets, b.Grams) + " dry"
	case studio.WeighedAtParting:
		return dryOf(b.Sheets, b.Grams) + fmt.Sprintf(" from the press, post %d", b.Post)
	case studio.Spoilt:
		return part.Many(b.Sheets, "sheet") + " spoilt: " + b.Why
	case studio.Remark:
		return b.Text
	}
	return ""
}
