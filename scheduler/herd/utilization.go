package herd

import "stubbled/scheduler/figure"

// Utilization is the share of the offered layer, the grass above the height to
// be left, that animals eat, by the number of paddocks in the rotation: 35 % on
// one or two (continuous), 50 % on three to five, 60 % on six and more. From 30-40,
// 50-60 and 60-70 % (Corriher, Texas A&M AgriLife, in Hay & Forage Grower;
// second-hand). It is no share of the year's whole growth: there the same
// continuous grazing takes about 25 %.
func Utilization(paddocks int) figure.Figure {
	const source = "Corriher, Texas A&M AgriLife, Hay & Forage Grower"
	switch {
	case paddocks >= 6:
		return figure.Of(0.60, 0.60, 0.70, figure.SecondHand, source)
	case paddocks >= 3:
		return figure.Of(0.50, 0.50, 0.60, figure.SecondHand, source)
	}
	return figure.Of(0.35, 0.30, 0.40, figure.SecondHand, source)
}

// EatenPerAcreInch is what animals get from one inch of one acre of the offered
// layer, lb: standing lb per acre-inch times utilization. 0 where either is not
// a positive number.
func EatenPerAcreInch(standing, utilization float64) float64 {
	return finite(atLeast0(standing) * share(utilization))
}
