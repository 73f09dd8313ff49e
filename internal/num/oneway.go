package num

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Variance is the analysis of variance of groups: how much they differ beside
// how much what is in them scatters.
type Variance struct {
	Between, Within     float64 // sums of squares
	BetweenDF, WithinDF int
	F                   float64 // the ratio of the two mean squares
	P                   float64 // the chance of such an F, or a larger, if the groups were alike
}

// ResidualSD is the scatter inside the groups.
func (v Variance) ResidualSD() float64 { return math.Sqrt(v.Within / float64(v.WithinDF)) }

// R2 is the share of the variation that lies between the groups.
func (v Variance) R2() float64 { return v.Between / (v.Between + v.Within) }

// OneWay splits the variation of groups into that between and that within
// them. It needs two groups, more values than groups, and some scatter inside
// them.
func OneWay(groups [][]float64) (Variance, error) {
	if len(groups) < 2 {
		return Variance{}, ErrFew
	}
	var all, means []float64
	for _, g := range groups {
		if len(g) == 0 {
			return Variance{}, ErrFew
		}
		all, means = append(all, g...), append(means, mean(g))
	}
	v := Variance{BetweenDF: len(groups) - 1, WithinDF: len(all) - len(groups)}
	if v.WithinDF < 1 {
		return Variance{}, ErrFew
	}
	grand := mean(all)
	for i, g := range groups {
		v.Between += float64(len(g)) * (means[i] - grand) * (means[i] - grand)
		for _, x := range g {
			v.Within += (x - means[i]) * (x - means[i])
		}
	}
	if v.Within == 0 || !finite(v.Within+v.Between) {
		return Variance{}, ErrSingular
	}
	v.F = v.Between / float64(v.BetweenDF) / (v.Within / float64(v.WithinDF))
	v.P = distuv.F{D1: float64(v.BetweenDF), D2: float64(v.WithinDF)}.Survival(v.F)
	return v, nil
}
