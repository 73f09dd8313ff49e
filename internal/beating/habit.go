package beating

import (
	"vatside/internal/fibre"
	"vatside/internal/measure"
)

// Habit is something that makers do around the beating: how long, and how.
type Habit struct {
	Name      string
	Low, High measure.Minutes // 0, 0: no time of its own
	Text      string
	Source    string
}

// Preparing returns what is done to a fibre before the roll goes down.
func Preparing(f fibre.Fibre) []Habit {
	soak := Habit{"soak", 480, 960, "Soak it overnight; sheet pulp torn, raw fibre cut.", "practice"}
	charge := Habit{"charge", 10, 20, "Roll up, a handful at a time, each taken round before the next.", "practice"}
	all := []Habit{soak}
	switch {
	case f.Kind == "waste":
		all[0] = Habit{"soak", 10, 960, "Soak it ten minutes at the least, better overnight.", "small-scale-pulp-page"}
	case f.Kind == "rag":
		all = append(all,
			Habit{"cut", 0, 0, "Cut it to 25 mm at the most, denim to 12–25 mm; seams, buttons and stretchy cloth out.", "denim-cutting-video"},
			Habit{"wash", 10, 40, "Up to four runs of ten minutes with the roll up, each in fresh water, until it runs clear.", "linen-rag-sample"})
	case f.LongFibre:
		all = append(all, Habit{"cut", 0, 0, "Cut raw fibre to 6–25 mm: longer pieces rope and clog.", "raw-fibres-page"})
		charge = Habit{"charge", 30, 60, "Raw fibre takes half an hour and more to charge, or it wraps round the roll.", "drying-flax-2006"}
	}
	return append(all, charge)
}

// Mixing returns how additives go in after the beating.
func Mixing() Habit {
	return Habit{"mix", 5, 5, "Roll up; size, filler and colour one after the other, five minutes round after each.", "hollander-test-page"}
}

// StopTests returns how makers tell that stock is done, the quickest first.
func StopTests() []Habit {
	return []Habit{
		{"sound and feel", 0, 1, "The hiss of the roll has settled, and the stock slips through the fingers.", "linen-rag-sample"},
		{"jar", 1, 2, "A tablespoon of stock, 15 mL, in a quarter to half a litre of water, shaken and held against the light: no clumps, no threads.", "small-scale-pulp-page"},
		{"drain time", 5, 10, "A litre at the agreed consistency through the mould, timed: double the unbeaten time is called slow, five times is for sculpture.", "memory"},
		{"tester", 10, 20, "Schopper-Riegler or freeness, twice, where a tester is at hand.", "preparing-pulp-newsletter"},
		{"timed sheets", 0, 0, "The same measure of stock into a deckle box every 20 min; one sheet dried held, one free: the shrinkage and the look against the hours.", "beater-strip-2010"},
	}
}
