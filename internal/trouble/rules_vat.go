package trouble

import (
	"fmt"
	"math"

	"vatside/internal/measure"
)

// Limits of a face (memory): laid and coarse wove moulds have 8 to 10 wires to
// the cm, common wove ones 14 to 20; fine ones from 24.
const (
	coarse measure.Number = 10
	common measure.Number = 14
	fine   measure.Number = 24
)

// vatRules look at the vat, the mould and the hand.
var vatRules = map[string]rule{
	"coarse-mesh": func(f *Facts) finding {
		if f.LongFibre != nil && !*f.LongFibre {
			return finding{Against, "the furnish holds no long fibre that could staple"}
		}
		return byNumber(func(f *Facts) *measure.Number { return f.MeshPerCm }, coarse,
			"the face has %s wires to the cm, and long fibre"+of(f.Fibres)+" staples itself through so coarse a mesh", common,
			"the face has %s wires to the cm, fine enough", tidy)(f)
	},
	"open-mesh": byNumber(func(f *Facts) *measure.Number { return f.MeshPerCm }, coarse,
		"the face has %s wires to the cm only", common, "the face has %s wires to the cm", tidy),
	"fine-mesh": byNumber(func(f *Facts) *measure.Number { return f.MeshPerCm }, fine,
		"the face has %s wires to the cm", common, "the face has %s wires to the cm only", tidy),
	"no-aid": func(f *Facts) finding {
		if f.LongFibre != nil && !*f.LongFibre {
			return finding{Against, "the furnish holds no long fibre"}
		}
		return byTruth(func(f *Facts) *bool { return f.FormationAid }, false,
			"no formation aid was used"+of(f.Fibres), "formation aid was used")(f)
	},
	"aid-on": byTruth(func(f *Facts) *bool { return f.FormationAid }, true,
		"formation aid was used, which slows drainage", "no formation aid was used"),
	// Coherent flocs form from a crowding number of 60 on (crowding-1990).
	"crowded": byNumber(func(f *Facts) *measure.Number { return f.Crowding }, 60,
		"the crowding number is %s: from 60 on fibres hang together in flocs", 30,
		"the crowding number is %s, and flocs hang together from 60 on", tidy),
	// Western vats hold 5 to 10 g/L (vat-column-gbw115); long bast vats 2 to 5 (memory).
	"thick-vat": func(f *Facts) finding {
		most, usual := measure.Consistency(10), measure.Consistency(7)
		if f.LongFibre != nil && *f.LongFibre {
			most, usual = 5, 3
		}
		return byNumber(func(f *Facts) *measure.Consistency { return f.Consistency }, most,
			fmt.Sprintf("the vat holds %%s g/L, and %s is much for this fibre", tidy(float64(most))), usual,
			"the vat holds %s g/L only", tidy)(f)
	},
	"thin-vat": byNumber(func(f *Facts) *measure.Consistency { return f.Consistency }, 4,
		"the vat holds %s g/L only", 6, "the vat holds %s g/L", tidy),
	"cold-vat": byNumber(func(f *Facts) *measure.Temperature { return f.VatTemperature }, 12,
		"the vat is at %s °C, and cold water drains slowly", 20, "the vat is at %s °C", tidy),

	"vat-thins":       vatThins,
	"recharge-weak":   recharges(-1, "the last sheets weigh %s less than the first, which thinning between recharges does not explain"),
	"recharge-strong": recharges(+1, "the last sheets weigh %s more than the first, and the vat was recharged"),
	"vat-thickens":    vatThickens,
	"weight-over": byNumber(func(f *Facts) *measure.Share { return f.WeightError }, 0.05,
		"the first sheets weigh %s more than the aim", 0.02, "the first sheets weigh %s off the aim and not too much", size),
	"weight-under": byNumber(func(f *Facts) *measure.Share { return f.WeightError }, -0.05,
		"the first sheets weigh %s less than the aim", -0.02, "the first sheets weigh %s off the aim and not too little", size),

	"warm-up": byNumber(func(f *Facts) *int { return f.FirstBad }, 1,
		"the first sheets of a run go wrong here, %s in a row", 0, "%s of the first sheets went wrong", tidy),
	// A common sheet drains in 5 to 20 s (memory).
	"slow-stock": byNumber(func(f *Facts) *measure.Minutes { return f.drain() }, 0.75,
		"a sheet takes %s to drain or to make", 1.0/3, "a sheet drains in %s", lasting),
	"lifted-early": against(func(f *Facts) *measure.Minutes { return f.Held }, -1,
		"the mould was held level for %s and the stock takes %s to drain", "the mould was held level for %s and the stock drains in %s"),
	"shook-late": against(func(f *Facts) *measure.Minutes { return f.Shook }, +1,
		"the mould was shaken until %s after lifting and this stock sets in %s", "the last shake came %s after lifting and the stock takes %s to set"),
	// A plane of 3 % edge to edge is the least that shows against the light.
	"not-level":  acrossTilt,
	"thrown-off": alongTilt,
	"uneven-lay": func(f *Facts) finding {
		across, along := acrossTilt(f), alongTilt(f)
		if across.speaks == For || across.speaks == along.speaks {
			return across
		}
		if along.speaks == For {
			return along
		}
		return open
	},
	"deckle-loose": byTruth(func(f *Facts) *bool { return f.DeckleRocks }, true, "the deckle rocks on the mould", "the deckle sits tight"),
	"mould-skew": byNumber(func(f *Facts) *measure.Length { return f.MouldDiagonals }, 2,
		"the diagonals inside the deckle differ by %s mm", 1, "the diagonals inside the deckle differ by %s mm only", tidy),
	"couched-skew": func(f *Facts) finding {
		if f.Diagonals == nil || f.MouldDiagonals == nil {
			return open
		}
		more := *f.Diagonals - *f.MouldDiagonals
		text := fmt.Sprintf("the diagonals of the sheet differ by %s mm and those of the deckle by %s mm", tidy(float64(*f.Diagonals)), tidy(float64(*f.MouldDiagonals)))
		switch {
		case more >= 2:
			return finding{For, text}
		case more <= 1:
			return finding{Against, text}
		}
		return open
	},
	// Below about 40 g/m² a wet sheet hardly carries itself; from 80 on chance makes
	// no pinholes (memory; the second is arithmetic on random sheets).
	"thin-lay": byNumber(func(f *Facts) *measure.GrammageConditioned { return f.Grammage }, 40,
		"the sheet has %s g/m² only", 80, "the sheet has %s g/m²", tidy),
	"heavy-lay": byNumber(func(f *Facts) *measure.GrammageConditioned { return f.Grammage }, 200,
		"the sheet has %s g/m²", 120, "the sheet has %s g/m² only", tidy),
	"felts-dry": byTruth(func(f *Facts) *bool { return f.FeltsDamp }, false, "felts and bed were dry", "felts and bed were damp"),
}

// drain is how slow the stock is: as timed, or from a pace that only slow stock
// has (a quick hand with free stock makes a sheet in a minute or two).
func (f *Facts) drain() *measure.Minutes {
	if f.Drain == nil && f.MinutesASheet != nil && *f.MinutesASheet >= slowPace {
		return f.MinutesASheet
	}
	return f.Drain
}

// vatThins holds what the vat loses between two recharges against the swing that
// is seen: 10 % speaks for it, 3 % does not (practice).
func vatThins(f *Facts) finding {
	if f.Thinning == nil || f.RechargeEvery == nil {
		return open
	}
	every, how := *f.RechargeEvery, fmt.Sprintf("was recharged every %d", *f.RechargeEvery)
	switch {
	case every == 1:
		how = "was recharged at every sheet"
	case every == 0 && f.Pulled == nil:
		every, how = 10, "was not recharged"
	case every == 0:
		every, how = max(1, *f.Pulled), "was not recharged"
	}
	fall := 1 - math.Pow(1-float64(*f.Thinning), float64(every-1))
	text := fmt.Sprintf("the vat thins by %s a sheet here and %s: sheet %d of a round lies %s below the first", percent(float64(*f.Thinning)), how, every, percent(fall))
	switch {
	case fall >= 0.1:
		return finding{For, text}
	case fall <= 0.03:
		return finding{Against, text}
	}
	return open
}

// recharges looks for a drift that outlasts the recharges.
func recharges(sign float64, yes string) rule {
	return func(f *Facts) finding {
		if f.LateWeight == nil {
			return open
		}
		if f.RechargeEvery != nil && *f.RechargeEvery == 0 {
			return finding{Against, "the vat was not recharged"}
		}
		drift := sign * float64(*f.LateWeight)
		switch swing := vatThins(f); {
		case drift >= 0.08 && (sign > 0 || swing.speaks == Against):
			return finding{For, fmt.Sprintf(yes, percent(drift))}
		case drift <= 0.02:
			return finding{Against, "the last sheets weigh like the first, or differ the other way"}
		}
		return open
	}
}

func vatThickens(f *Facts) finding {
	switch {
	case f.LateWeight == nil:
		return open
	case *f.LateWeight <= 0.02:
		return finding{Against, "the last sheets do not weigh more than the first"}
	case *f.LateWeight >= 0.08 && f.RechargeEvery != nil && *f.RechargeEvery == 0:
		return finding{For, fmt.Sprintf("the last sheets weigh %s more than the first, and nothing was put in", percent(float64(*f.LateWeight)))}
	}
	return open
}

// against holds a time of the hand against the time the stock takes.
func against(get func(*Facts) *measure.Minutes, sign float64, yes, no string) rule {
	return func(f *Facts) finding {
		v := get(f)
		if v == nil || f.Drain == nil {
			return open
		}
		a, b := float64(*v), float64(*f.Drain)
		if sign*(a-b) > 0 {
			return finding{For, fmt.Sprintf(yes, lasting(a), lasting(b))}
		}
		return finding{Against, fmt.Sprintf(no, lasting(a), lasting(b))}
	}
}

var (
	acrossTilt = tilt(func(f *Facts) *measure.Share { return f.Across }, "right edge", "left")
	alongTilt  = tilt(func(f *Facts) *measure.Share { return f.Along }, "far edge", "near")
)

// tilt speaks of one edge against the other.
func tilt(get func(*Facts) *measure.Share, edge, other string) rule {
	return func(f *Facts) finding {
		v := get(f)
		if v == nil {
			return open
		}
		way, off := "heavier", math.Abs(float64(*v))
		if *v < 0 {
			way = "lighter"
		}
		text := fmt.Sprintf("the %s is %s %s than the %s", edge, percent(off), way, other)
		if off >= 0.03 {
			return finding{For, text}
		}
		return finding{Against, text + ", which is too little to show"}
	}
}
