// Package reply is in charge of reading what people text: a text, who sent it,
// what that person was asked and the day go in; facts come out, or one question,
// or both.
//
// It never reads a clock, a file or the diary, never words a question, and never
// decides what a fact means. It holds no state between texts and is safe for
// concurrent use. Invariants: a height is above 0 and at most 120 in; a paddock
// and a herd are always of the farm; a day is never to come.
//
// # How a text is read
//
//  1. normalise, body: one spelling of it; signature, quoted mail and our own
//     words are cut.
//  2. wholeMessage, answer: opt-out, opt-in, help, and the answer to a question
//     that waits (a, b, a name, or a yes to a single one) are whole messages.
//  3. scan: words, runs of digits, marks.
//  4. naming: names of paddocks and herds become one token each. The longest
//     wins; then one slip of the finger in a word of no language on file. A
//     digit is never corrected. Where two names fit, the token bears both. A name that
//     is a number (The 80) needs no article where a name stands: off 80, 80 9 10 8.
//  5. lexicon: a word of no language is written as the one that sounds like it; every
//     word or phrase gets its meanings (heard.txt): the parts it may play in a clause,
//     its role inside numbers and dates, or a guard.
//  6. values, quantities, joinSmallWords: numbers become heights with their
//     units, ranges, days, clock times, counts of heads, temperatures.
//     Before them signs takes two words that tell of a frost together for one (ice
//     on the trough); behind them tallies, ailing, trees and shoots find counts of
//     animals, animals without a name, what fells a cherry, and new shoots.
//  7. warn: each guard (a negation, a plan, an order, a condition, a part of a
//     herd, somebody else's animals) gets what it speaks of, between the marks
//     around it. Nothing in there is news.
//  8. chart: every run of tokens is weighed as every form of clause that it may
//     be (forms.go); the best way to part a sentence wins. A word with no meaning
//     costs, it does not forbid.
//  9. build: the facts of each clause, or what its parts leave open.
//  10. judge: each clause is weighed again with all that stands beside it, by the
//     features of weights.tsv. It is sure (written down), likely (put to one
//     letter), or asked about.
//  11. conclude: what is sure is kept, whatever became of the rest; one question
//     is put about the rest, and none about what says itself that it is no news. On
//     ground with a hazard plant, words that may be of danger are asked about too.
//
// Horses that no herd on file is of are asked about before all else. What a text of
// which something is asked back may tell of a danger besides goes with the question as
// a doubt.
//
// What lifts a hold or empties a paddock has columns of its own in weights.tsv,
// where less is forgiven; what makes things stricter has two where more is: in the
// one of emergencies, and of animals that are still in, company costs next to nothing.
package reply
