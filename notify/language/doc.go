// Package language is in charge of the languages that people text in and are
// told in: what is heard, what is said, which words stop the messages, which no
// paddock may be called, and which are too common to be a slip of the finger.
//
// A language is a folder of text files and nothing else; one more folder is one
// more language. Whoever speaks it can mend them: an entry is a line, 'name:
// words', and a line that begins with # says why.
//
//	language.txt  what it is called, how it writes numbers and counts
//	heard.txt     what a word or phrase means to the reader, notify/reply
//	optout.txt    whole messages that stop, start or ask for help
//	common.txt    words that are never taken for slips
//	reserved.txt  words that no paddock may be called
//	said.txt      what is said, a phrase a line, each naming its fields
//	page.txt      what stands on paper and on the board, in the same form
//
// It knows no meaning and no phrase: what the names in heard.txt mean is the
// reader's, and what the phrases of said.txt may name is notify/wording's. Both
// hold the files of every language against what they know, so that a language
// that lacks something cannot be built. It imports nothing of ours.
package language
