// Package reply is in charge of reading what people text: words in, facts or
// one question out.
//
// It never reads a clock, a file or the diary, and never words a question.
package reply
