// Package herd is in charge of what animals eat and what ground carries: animal
// units, demand, days of grass, what a grazing teaches of a paddock, the one plan
// of where herds eat before natives rest and while they do, and how much of them
// may be used in fall on purpose.
//
// It knows no species, no heat and no frost: heights, growth in inches a day,
// floors and cutoffs come in as plain figures. It never reads a clock.
//
// Invariants:
//
//   - Forage is oven-dry matter in lb, ground in acres, heights in inches of
//     leaf, weights in lb of live animal.
//   - Utilization is a share of the offered layer, the grass above the height
//     to be left; never of all that stands. The two bases are never mixed.
//   - Nothing here ever returns NaN or an infinity. Every zero, negative,
//     missing or absurd input has a named outcome.
//   - Nothing here draws a random number.
//
// Figures of the trade carry a mark that says how well each is known. Local
// extension offices and a veterinarian come before any of them.
package herd
