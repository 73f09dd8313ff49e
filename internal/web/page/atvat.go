package page

import (
	"fmt"
	"strconv"
	"strings"

	"vatside/internal/studio"
	"vatside/internal/watch"
	"vatside/internal/web/part"
)

// AtVat is an entry that bears on the run at the vat in words; "" of any other,
// and of sheets counted.
func AtVat(s part.Speech, b studio.Body) string {
	switch b := b.(type) {
	case studio.Recharge:
		return recharge(s, b)
	case studio.VatChanged:
		return part.Upper(VatChanged(s, b))
	case studio.VatStrained:
		return VatStrained(s, b) + stands(b.Sure)
	case studio.TestWeighed:
		text := "Test sheets: " + part.Many(b.Sheets, "sheet")
		switch {
		case b.From > 0 && b.Sheets == 1:
			text = fmt.Sprintf("Sheet %d", b.From)
		case b.From > 0:
			text = fmt.Sprintf("Sheets %d–%d", b.From, b.From+b.Sheets-1)
		}
		text += " weighed " + s.One(b.Grams, "g")
		if b.BoneDry {
			text += ", bone-dry"
		}
		return text + Room(b.RHPct) + stands(b.Sure)
	case studio.WeighedAtParting:
		text := "At parting: "
		if b.Post > 0 {
			text = fmt.Sprintf("At parting, post %d: ", b.Post)
		}
		return text + weighed(s, b.Sheets, b.Grams) + stands(b.Sure)
	case studio.WeighedDry:
		return "Dry: " + weighed(s, b.Sheets, b.Grams) + Room(b.RHPct)
	}
	return ""
}

func weighed(s part.Speech, sheets int, grams float64) string {
	return part.Many(sheets, "sheet") + " weighed " + s.One(grams, "g")
}

// stands is what is said of a weighing that looked wrong and is not.
func stands(sure bool) string {
	if !sure {
		return ""
	}
	return ", asked about and right"
}

// Room is the air that something was weighed in.
func Room(rh float64) string {
	if rh == 0 {
		return ""
	}
	return fmt.Sprintf(" at %.3g\u202f%% humidity", rh)
}

func recharge(s part.Speech, b studio.Recharge) string {
	text := "Recharge"
	if b.Times > 1 {
		text = strconv.Itoa(b.Times) + " recharges"
	}
	switch {
	case b.AfterSheet != nil:
		text += fmt.Sprintf(" after sheet %d", *b.AfterSheet)
	case b.Post != nil:
		text += fmt.Sprintf(" in post %d", *b.Post)
	}
	return text + ": " + s.One(b.StockML, "mL") + " of stock"
}

// VatStrained is a part of the vat strained, in words.
func VatStrained(s part.Speech, b studio.VatStrained) string {
	return s.One(b.TakenL, "L") + " of the vat strained, " + s.One(b.Grams, "g") + " dry"
}

// VatChanged is what was done or read at the vat, in words.
func VatChanged(s part.Speech, b studio.VatChanged) string {
	var list []string
	if b.StockOffL > 0 {
		list = append(list, s.One(b.StockOffL, "L")+" taken off with its fibre")
	}
	switch {
	case b.WaterL > 0:
		list = append(list, s.One(b.WaterL, "L")+" of water in")
	case b.WaterL < 0:
		list = append(list, s.One(-b.WaterL, "L")+" of water off")
	}
	if b.AidML > 0 {
		list = append(list, s.One(b.AidML, "mL")+" of formation aid")
	}
	if b.LevelL != nil {
		list = append(list, "level read, "+s.One(*b.LevelL, "L"))
	}
	if b.TempC != nil {
		list = append(list, "vat at "+s.One(*b.TempC, "°C"))
	}
	if b.HeelL != nil {
		list = append(list, s.One(*b.HeelL, "L")+" kept from the vat")
	}
	return strings.Join(list, ", ")
}

// Drifts says whether, and from where on, the sheets of a run drifted.
func Drifts(list []watch.Drift) string {
	if len(list) == 0 {
		return "no drift beyond chance"
	}
	var text []string
	for i, d := range list {
		ran := "heavier"
		if d.Light {
			ran = "lighter"
		}
		if i == 0 {
			ran = "the sheets ran " + ran + " than expected"
		}
		text = append(text, fmt.Sprintf("from sheet %d on %s", d.From, ran))
	}
	return strings.Join(text, ", ")
}
