package trouble

import (
	"fmt"

	"vatside/internal/measure"
)

// dryRules look at the press, the felts, the dryer and the room.
var dryRules = map[string]rule{
	// Studio presses reach 0.4 to 1.3 MPa (bottle-jack-press-page); wooden and
	// board presses a tenth of it (wooden-press-page).
	"high-pressure": byNumber(func(f *Facts) *measure.Pressure { return f.Pressure }, 900,
		"the sheets were pressed at %s kPa", 500, "the sheets were pressed at %s kPa only", tidy),
	"low-pressure": byNumber(func(f *Facts) *measure.Pressure { return f.Pressure }, 150,
		"the sheets were pressed at %s kPa, and studio presses reach 400 to 1300 kPa", 350, "the sheets were pressed at %s kPa", tidy),
	"underpressed": func(f *Facts) finding {
		if f.Solids == nil {
			return open
		}
		s := *f.Solids
		switch {
		case s <= 0.30:
			return finding{For, fmt.Sprintf("the sheets left the press with %s solids: %s times the water of a well pressed sheet, which has 35 %% solids", percent(float64(s)), tidy(waterOver(s)))}
		case s >= 0.34:
			return finding{Against, fmt.Sprintf("the sheets left the press with %s solids, as a good press gives", percent(float64(s)))}
		}
		return open
	},
	// Above 20 sheets pressure gets uneven (pressing-methods-page).
	"tall-post": byNumber(func(f *Facts) *int { return f.SheetsInPost }, 21,
		"a post had %s sheets, and above 20 the pressure gets uneven", 12, "a post had %s sheets only", tidy),
	"synthetic-felt": byTruth(func(f *Facts) *bool { return f.SyntheticFelts }, true, "the felts are synthetic", "the felts are wool"),

	"free-dried":     drying(For, Free, Loft),
	"held-dried":     drying(For, Stack, Exchange, Board),
	"one-side-dried": drying(For, Board),
	"size-on-glass": func(f *Facts) finding {
		switch on := drying(For, Board)(f); {
		case f.InternalSize != nil && !*f.InternalSize:
			return finding{Against, "no size went into the stock"}
		case on.speaks == Against:
			return on
		case on.speaks == For && f.InternalSize != nil:
			return finding{For, "size went into the stock, and it was dried on glass or a board"}
		}
		return open
	},
	// Sheets that are not dry in two days may grow mould (mould-moisture-pages).
	"dries-too-long": byNumber(func(f *Facts) *measure.Hours { return f.DryHours }, 48,
		"the sheets took %s h to dry", 24, "the sheets were dry after %s h", tidy),
	"damp-room": byNumber(func(f *Facts) *measure.RelHumidity { return f.RoomRH }, 0.60,
		"the room is at %s RH", 0.55, "the room is at %s RH", percent),
	"dry-room": byNumber(func(f *Facts) *measure.RelHumidity { return f.RoomRH }, 0.35,
		"the room is at %s RH", 0.45, "the room is at %s RH", percent),
}

// waterOver is the water a sheet holds over that at 35 % solids, the most a hand
// press leaves (wet-sheet-handling-2001): (1/s − 1) / (1/0.35 − 1).
func waterOver(s measure.Solids) float64 { return (1/float64(s) - 1) / (1/0.35 - 1) }

// ways are how a way of drying is told.
var ways = map[string]string{
	Stack: "it was dried in the stack", Exchange: "it was dried between changed blotters", Board: "it was dried on a board or glass",
	Loft: "it was hung to dry", Free: "it was dried free",
}

// drying speaks for a cause when the sheets were dried in one of those ways, and
// against it otherwise.
func drying(speaks Speaks, in ...string) rule {
	return func(f *Facts) finding {
		text, known := ways[f.Drying]
		if !known {
			return open
		}
		for _, w := range in {
			if f.Drying == w {
				return finding{speaks, text}
			}
		}
		return finding{Against, text}
	}
}
