package herd

import (
	"math"
	"slices"
)

// positive reports whether all are ordinary numbers above 0.
func positive(xs ...float64) bool {
	return !slices.ContainsFunc(xs, func(x float64) bool { return !(x > 0) || math.IsInf(x, 0) })
}

// atLeast0 is x, or 0 where x is negative, NaN or an infinity.
func atLeast0(x float64) float64 {
	if !positive(x) {
		return 0
	}
	return x
}

// share is x held between 0 and 1; 0 where it is no number.
func share(x float64) float64 { return min(atLeast0(x), 1) }

// finite is x, or 0 where the arithmetic left the numbers.
func finite(x float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0
	}
	return x
}

// over is a quotient, or 0 where either is not a positive number.
func over(a, b float64) float64 {
	if !positive(a, b) {
		return 0
	}
	return finite(a / b)
}

// crumb is an amount of feed that is nothing, lb.
const crumb = 1e-6
