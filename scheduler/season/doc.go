// Package season is in charge of one paddock's year: its dates, its phase, its
// hold, the verdict on a height, what will stand at frost, fall use, where the
// herds eat meanwhile, and what finished seasons teach.
//
// It is pure: farm, diary, weather and a civil date in, values out. It never
// says anything to anybody, never looks at a clock and never touches a file.
// [Look] is its main entry; [Lessons], [Feed], [Uses] and
// [RuleOfThumb] answer the rest. A [Cache] keeps what is slow to work out
// between two looks and never changes an answer.
//
// The files stand on each other one way. At the ground are paddock, cache,
// reading, moves and standing, frosts and almanac; sight gathers them for one day.
// On it stand ending and dates, heat, ground and hold; history and learned
// are the past. Then come verdict, growth, judge and look, and on top of them
// lessons, feed, winter and feedground. Why ground is shut is a package of its own, shut.
//
// # From weather to height
//
// How leaves grow, and how sure that is, is worked out in package grass, from a
// start height and from S, the degree-days over the days of growth. This is
// where S comes from:
//
//   - S always ends at the season's first frost at the planning threshold, the
//     paddock's offset applied, in learning and in forecasting alike, though rest
//     lasts to the killing freeze. Tops seen brown before it end it too.
//   - For the season at hand S is the station's own heat up to today; where it
//     has a gap, the mean year's. It may lower a forecast and never raises it
//     above the mean year's, unless the rain of the last 60 days is known to be
//     no less than the station's median: a hot dry August grows less, not more.
//   - From today on each past fall of the station whose frost is later than today
//     counts once, with its own heat and its own frost together. Once this fall's
//     frost has come nothing is forecast any more: what stands is read.
//   - Days on which animals stood on it since the reading do not count. After
//     more than four of them (assumption; as old as a reading may be with animals
//     in) there is no forecast, and the paddock is to be read again.
//   - Without a station S is days, each counting 1 until 45 days before the
//     average frost and tapering to 0 there in a straight line (assumption).
//   - `dry` from the manager withholds the forecast for the season.
//   - A rule is judged before the season over every past fall, those whose frost
//     came before the cutoff with no growth at all.
//
// # Which seasons teach
//
// A finished season is always kept as a record; [Finished].WhyNot says in plain
// words why one teaches no growth. It teaches where all of this holds:
//
//   - a height was read between the day the animals were last off, at most 30 days
//     before the cutoff (assumption), and the end of rest; of several the one
//     nearest to the cutoff. It is at most the height wanted at frost: a tall
//     stand makes stalk and no leaf
//   - the end was read within 14 days after the killing freeze or brown tops; a
//     fall that only the new year ended has no such day
//   - the paddock is known to have been empty from the one reading to the other,
//     and rested 20 days or more
//   - it was not cut for hay, burned, or grazed on purpose
//   - its growth fits a stick: what got shorter by more than two readings can be
//     out was eaten or beaten down, and what stopped at the greatest leaf height
//     says only 'at least'
//
// # What the lessons are
//
// From two such seasons on, where the chance of the height under the present
// rule is below the farm's confidence, both cures are solved, each alone: the
// height to leave at the same cutoff, up to the height at which grazing begins,
// and the days of rest from the same height, up to 100 (assumption: no sensible
// rest begins before mid-July). Where neither reaches it, that is said. Met
// easily is three falls running that made the height, and in which the growth
// added to the height to leave came out two reading errors above it
// (assumption). The farm file stays the only place a rule is changed.
//
// What animals get of an acre-inch is learned apart, from grazings that were read
// at both ends; stays that overlap are one grazing, and a grazing by animals that
// are not on file teaches nothing.
package season
