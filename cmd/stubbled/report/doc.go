// Package report is in charge of what the program prints about a farm: its
// season, lessons, feed, diary and messages, for people as tables and for other
// programs as JSON. It is given a farm and what to look at, changes nothing, and
// judges nothing: every figure is the scheduler's.
//
// The words and columns of a table stand in its page, such as season.txt. In JSON
// dates are ISO 8601, lengths inches, and null is unknown.
package report
