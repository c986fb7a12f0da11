package diary

// Why says what was unclear in a text. The words of the question are made
// elsewhere, in the language of the one who is asked.
type Why string

// What can be unclear.
const (
	WhichPaddock     Why = "which-paddock"     // numbers, or a word, that fit no or several paddocks; Choices where known
	UnknownPaddock   Why = "unknown-paddock"   // a name that is nobody's
	WhichHerd        Why = "which-herd"        // several herds could be meant
	NoNumber         Why = "no-number"         // a paddock, and a height in words that are no number
	ImpossibleHeight Why = "impossible-height" // 0, negative or above 120 in
	Cells            Why = "cells"             // a frame count of no cells, or of more than a frame has
	Range            Why = "range"             // 8-10: which?
	Negation         Why = "negation"          // 'not off yet'
	Plan             Why = "plan"              // 'will move them tomorrow'
	PartOfHerd       Why = "part-of-herd"      // 'moved 5 cows'
	WhichDay         Why = "which-day"         // a date that cannot be, or lies ahead
	StaleText        Why = "stale-text"        // a bare number or ok that is older than 12 h
	NotAllowed       Why = "not-allowed"       // only the manager may say this
	TooMany          Why = "too-many"          // more head go than there are: Word
	Suppose          Why = "suppose"           // nothing is reckoned of what it supposes; Word is where it stumbled
	TooFar           Why = "too-far"           // it supposes more days ahead than are reckoned: Word
	Likely           Why = "likely"            // the one choice is what was probably meant: a letter confirms it
	Lift             Why = "lift"              // what a clear would lift: a letter, or the same again, does
	NothingShut      Why = "nothing-shut"      // a clear of ground that nothing shuts
	TooLong          Why = "too-long"          // more than can be read with care
	Unclear          Why = "unclear"           // anything else
)

// A Question is what is asked back instead of guessing. Nothing is recorded
// of the part it is about.
type Question struct {
	Why     Why      `json:"why"`
	Word    string   `json:"word,omitempty"`    // the word or number it stumbled on, at most 20 characters
	Paddock string   `json:"paddock,omitempty"` // the id, where the paddock was clear
	Choices []Choice `json:"choices,omitempty"` // at most four; answered by name or by a, b, c, d
	// Doubts are what the text may tell besides that would shut ground, and no letter
	// stands for.
	Doubts []Fact `json:"doubts,omitempty"`
}

// A Choice is one answer to a question, and the facts that it stands for.
type Choice struct {
	Name  string `json:"name"`
	Facts []Fact `json:"facts"`
}
