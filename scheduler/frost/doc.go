// Package frost turns a weather station's daily record into the date that a
// fall's rest is counted back from, and says how sure that date is.
//
// It is in charge of reading daily records (GHCN-Daily, USCRN daily, plain
// CSV), of each season's first frost, of the spread of those dates, of
// degree-days and rain from the same record, and of the trend over the
// decades. It never reads the clock, never judges a paddock, never talks to a
// network, and opens a file only in [ReadFile].
//
// # What always holds
//
//   - A season is named after the year of its fall and runs Aug 1 to Dec 31.
//     An offset counts days after Aug 1, so 0 is Aug 1 and 152 is Dec 31.
//   - A first frost is the first day whose minimum is at or below the
//     threshold, compared in the resolution the record was kept in.
//   - A season counts if fewer than 10 % of its days up to that frost, or up to
//     Dec 31 where none came, are missing or failed their quality check.
//   - A counted season without a frost lies later than every date. It is never
//     left out of a quantile and never enters a mean.
//   - Of two rows for one day the first stays.
//   - Temperatures are whole thousandths of a degree C and offsets whole days,
//     so nothing is rounded that the record did not round itself.
//   - Values are never changed once they are returned; [Record.With] makes a
//     new record.
package frost
