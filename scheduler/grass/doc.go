// Package grass is in charge of what is known about the grass itself: the
// species and their heights, the plants that turn on stock after a frost, what
// a handful of stick readings is worth, how much leaf will grow before frost
// and how sure that is.
//
// It never looks at a calendar, a herd, a station record or a clock. Heat comes
// in as a plain number, S, the degree-days between two moments, already summed
// by whoever holds the record; what an animal eats is somebody else's business.
//
// Invariants:
//
//   - All heights are leaf heights in inches, never seed heads. A height is
//     believed when it is above 0 and at most [MaxHeight].
//   - S is in degree-days F above 46.6 F (Bartholomew, Agricultural Sciences
//     5(11), 2014, the base measured for these grasses), the maximum capped at
//     86 F; or in days where there is no station. The unit cancels, as long as
//     one season's S and the prior's S are in the same one.
//   - Nothing here ever returns NaN or an infinity. Every zero, negative,
//     missing or absurd input has a named outcome.
//   - Nothing here draws a random number.
//
// Figures of the trade carry a [Mark] that says how well each is known. The
// numbers are starting points for a farm, not advice to it: the local extension
// office, the soil conservation district and a veterinarian come first.
package grass
