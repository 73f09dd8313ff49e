package trouble

import (
	"fmt"
	"slices"
	"strings"

	"vatside/internal/measure"
)

// stockRules look at the fibre, what was done to it and what was put in. Limits
// are common practice or memory unless a source is named; a fibre's own record
// tells more.
var stockRules = map[string]rule{
	// Usual hours run from a quarter of an hour for linters to four for writing
	// paper; beyond that stock is slow whatever the fibre (memory).
	"long-beaten": byNumber(func(f *Facts) *measure.Hours { return f.BeatingHours }, 4,
		"the stock was beaten %s h, which makes most fibres slow, close and shrinking", 1.5,
		"the stock was beaten %s h only", tidy),
	"short-beaten": byNumber(func(f *Facts) *measure.Hours { return f.BeatingHours }, 0.5,
		"the stock was beaten %s h only", 2,
		"the stock was beaten %s h", tidy),

	"long-fibre": func(f *Facts) finding {
		switch {
		case f.LongFibre == nil:
			return open
		case *f.LongFibre:
			return finding{For, "the furnish holds long fibre" + of(f.Fibres)}
		}
		return finding{Against, "the furnish holds no long fibre"}
	},
	// Hands release fibres of 2 to 4 mm from any face; kozo of 6 to 20 mm
	// staples (fibre-length-table for the lengths, the limit is practice).
	"long-cut": byNumber(func(f *Facts) *measure.Length { return f.FibreLength }, 5,
		"the fibre is %s mm long as it comes to the vat", 3,
		"the fibre is %s mm long only", tidy),

	"no-long-fibre": byNumber(func(f *Facts) *measure.Share { return f.LongShare }, 0.1,
		"long fibre is %s of the furnish", 0.2,
		"long fibre is %s of the furnish already", percent),
	"short-recycled": byNumber(func(f *Facts) *measure.Share { return f.RecycledShare }, 0.5,
		"recycled fibre is %s of the furnish", 0.1,
		"recycled fibre is %s of the furnish only", percent),
	"recycled-dirt": byNumber(func(f *Facts) *measure.Share { return f.RecycledShare }, 0.05,
		"recycled fibre is %s of the furnish", 0,
		"recycled fibre is %s of the furnish", percent),
	"blender-cut": byTruth(func(f *Facts) *bool { return f.Blender }, true,
		"it was opened in a blender, which cuts", "it was not opened in a blender"),
	"metal-in-rag": func(f *Facts) finding {
		if len(f.Fibres) == 0 {
			return open
		}
		for _, name := range f.Fibres {
			if slices.ContainsFunc([]string{"rag", "denim", "linen", "rope", "recycled", "waste paper", "office paper"}, func(word string) bool {
				return strings.Contains(strings.ToLower(name), word)
			}) {
				return finding{For, fmt.Sprintf("the furnish holds %s, which brings metal with it", name)}
			}
		}
		return finding{Against, "the furnish holds no rag and no scrap" + of(f.Fibres)}
	},

	"much-filler": byNumber(func(f *Facts) *measure.Dose { return f.Filler }, 0.1,
		"filler and pigment are %s on fibre", 0.02,
		"filler and pigment are %s on fibre only", percent),
	"no-filler": byNumber(func(f *Facts) *measure.Dose { return f.Filler }, 0.02,
		"filler is %s on fibre", 0.05,
		"filler is %s on fibre", percent),
	"no-retention":   coloured(false, "it is coloured, and no retention aid was used", "retention aid was used"),
	"retention-over": coloured(true, "retention aid was used, so there may be too much", "no retention aid was used"),

	"unsized": func(f *Facts) finding {
		switch inner, outer := f.InternalSize, f.SurfaceSize; {
		case inner != nil && *inner:
			return finding{Against, "it is sized in the stock"}
		case outer != nil && *outer:
			return finding{Against, "it is sized on the surface"}
		case inner != nil && outer != nil:
			return finding{For, "it is sized neither in the stock nor on the surface"}
		}
		return open
	},
	"size-in-stock": byTruth(func(f *Facts) *bool { return f.InternalSize }, true,
		"size went into the stock", "no size went into the stock"),
	// Cool cure takes two to four weeks (memory).
	"size-not-cured": func(f *Facts) finding {
		if f.InternalSize != nil && !*f.InternalSize {
			return finding{Against, "no internal size was used"}
		}
		if f.InternalSize == nil {
			return open
		}
		return byNumber(func(f *Facts) *measure.Days { return f.CuredDays }, 14,
			"it is sized in the stock and %s days old: the size wants two to four weeks", 28,
			"the size has had %s days", tidy)(f)
	},
	"hard-water": byTruth(func(f *Facts) *bool { return f.HardWater }, true, "the water is hard", "the water is soft"),

	// Vat water is thrown away daily; cooked wet pulp keeps a week in the cold
	// and hardly two days in summer (practice).
	"stood-wet": func(f *Facts) finding {
		keeps := measure.Hours(72)
		switch t := f.WetTemperature; {
		case t != nil && *t <= 8:
			keeps = 168
		case t != nil && *t >= 20:
			keeps = 48
		}
		return byNumber(func(f *Facts) *measure.Hours { return f.WetHours }, keeps,
			"stock or vat water stood wet for %s h", 24, "stock and water stood wet for %s h only", tidy)(f)
	},
	"warm-stock": byNumber(func(f *Facts) *measure.Temperature { return f.WetTemperature }, 15,
		"the wet stock stood at %s °C", 8, "the wet stock stood cold, at %s °C", tidy),
}

// coloured is a rule on retention aid, which only coloured stock needs.
func coloured(speaks bool, yes, no string) rule {
	aid := byTruth(func(f *Facts) *bool { return f.RetentionAid }, speaks, yes, no)
	return func(f *Facts) finding {
		if f.Coloured != nil && !*f.Coloured {
			return finding{Against, "it is not coloured"}
		}
		return aid(f)
	}
}

func of(fibres []string) string {
	if len(fibres) == 0 {
		return ""
	}
	return " (" + strings.Join(fibres, ", ") + ")"
}
