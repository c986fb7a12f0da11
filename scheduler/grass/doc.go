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
// # Growth
//
// A paddock grows g inches of leaf for each unit of S, never above its species'
// greatest leaf height:
//
//	g = g0 x max(0, 1 + paddock + year)
//
// g0 is the species' own common-practice pair, such as 8 in left and 18 in at
// frost 45 days later, over the mean year's S of those 45 days, times a factor
// of the soil (dry 0.8, moist 1.15; assumption). It is never the farm's edited
// rule: else following the advice would change the advice. The paddock's effect
// is believed to be normal about 0 with a spread of 22 %, and its finished
// seasons narrow and move it; the year's is normal with 20 % each fall (assumptions,
// chosen together: with one spread for both, a single drought fall condemned a
// paddock). From ten seasons on both spreads are the farm's own, shrunk to these. A height is read to 1.5 in where 18 in are
// wanted, in proportion for shorter grasses (assumption). See [Prior] and
// [Growth.Learn], where the sums are derived.
//
// # Chance
//
// [Growth.Forecast] sums the normal distribution of the height at frost over all
// falls still to come in closed form, and what the cut at 0 adds on fixed nodes.
// Mean, range and chance are of that one mixture. The chance rises with the
// height and with the rest, and [Growth.LeaveFor] and [Growth.RestFor] invert it.
//
// # How far a stated chance can be believed
//
// Of all chances stated as 80 % about 80 come true, whatever the seasons behind them;
// where falls or paddocks differ more than is assumed, or the pair promises too much,
// 69 to 79. The tables stand above the tests that hold them, TestReliability and
// TestChancesOfWholeFarms:
//
//	go test ./scheduler/grass -run 'Reliability$|WholeFarms' -v
//
// Figures of the trade carry a mark that says how well each is known. The
// numbers are starting points for a farm, not advice to it: the local extension
// office, the soil conservation district and a veterinarian come first.
package grass
