// Package reply is in charge of reading what people text: a text, who sent it,
// what that person was asked and the day go in; facts come out, or one question.
//
// It never reads a clock, a file or the diary, never words a question, and never
// decides what a fact means. It holds no state between texts and is safe for
// concurrent use. Invariants: a height is above 0 and at most 120 in; a paddock
// and a herd are always of the farm; a day is never to come; nothing is recorded
// from a clause that holds a word the reader does not know.
//
// # How a text is read
//
//  1. normalise, body: one spelling of it; signature and quoted mail are cut.
//  2. wholeMessage, answer: opt-out, opt-in, help, and the answer to a question
//     that waits (a, b, or a name) are whole messages.
//  3. scan: words, runs of digits, marks.
//  4. naming: names of paddocks and herds become one token each. The longest
//     wins; then one slip of the finger in a word of no language on file. A
//     digit is never corrected. Where two names fit, the token bears both.
//  5. lexicon: every other word or phrase gets its meanings (heard.txt): the parts
//     it may play in a clause, its role inside numbers and dates, or a guard.
//  6. values, quantities, joinSmallWords: numbers become heights with their
//     units, ranges, days, clock times, counts of heads, temperatures.
//  7. clauses: the cheapest way to part each sentence in clauses of the grammar.
//     What fits no form stays unparsed, from one mark to the next.
//  8. adjoin, build, askUnparsed: clauses that could be parted in another way
//     are asked about; facts are made; what is unparsed is asked about, and
//     casts doubt on the facts that it may be about.
//
// # The grammar of a clause
//
// Rules stand in grammar.go in a small language: upper-case words are caught,
// lower-case words only have to be there, | parts alternatives, ? * + repeat.
// Fillers may stand anywhere. In short:
//
//	reading   PLACE HEIGHT+ | HEIGHT+ (at|in|on) PLACE | HEIGHT+ alone, when one paddock was asked about
//	off       [HERD] off PLACE+ | PLACE off | moved HERD (off|from) PLACE | HERD left PLACE
//	on        [HERD] on PLACE | on PLACE HERD | put HERD (on|in) PLACE | moved HERD to PLACE
//	move      moved HERD from PLACE to PLACE, in either order
//	events    frost [PLACE] | hayed PLACE [HEIGHT] | burned PLACE | brown [PLACE] | regrowth PLACE | clear PLACE | dry | weaned [HERD]
//	requests  later [PLACE] [2d|4h|tomorrow] | undo [frost] | status [PLACE] | help | stop | start
//	nods      ok, got it, thanks
//
// Guards keep what stands beside them out of the diary: negation, plans,
// conditions, orders, hedges, questions, corrections, parts of a herd, other
// people's animals, things that are no animals, rain, another time.
package reply
