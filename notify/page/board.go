package page

import (
	"slices"
	"strings"

	"stubbled/notify/wording"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
	"stubbled/scheduler/season/shut"
)

// Board is the page on the farm's own machine: what is to be done today comes
// first.
type Board struct {
	Farm    string
	Clock   string // the farm's own, as 06:30
	People  []string
	As      string // whose page it is, and whose text is typed
	Token   string // of the form, good once; empty where nothing can be typed
	Typed   string
	Answer  string // to what was typed; empty where there is none
	Said    string // the phrase that says what became of it; empty where nothing was typed
	Refused bool
	Week    *ladder.FarmFacts
	Views   []season.View
	Sayings []Saying
	Season  bool // there is a picture of the season
	Feed    bool // there is one of the feed
}

// Saying is one message of the week with its fate.
type Saying struct {
	When, To string
	Mail     bool
	State    string // as the outbox has it
	Why      string // a word of the outbox, or the carrier's own; empty where it went out
	Text     string
}

// HTML is it in a person's language.
func (b Board) HTML(o wording.Options) ([]byte, error) {
	p := wording.OnPage(o)
	late, todo := p.Week(b.Week)
	if names := b.unfrozen(); len(names) > 0 {
		todo = append(todo, p.Say("board.frozen", "names", strings.Join(names, ", "), "text", p.Bare(diary.Frost), "none", p.Bare(diary.NoFrost)))
	}
	return made("board.html", p, struct {
		Board
		Late, Todo, Pass, Machine []string
		Short                     string
		Cards                     []card
	}{b, late, todo, p.LastPass(b.Week.Pass), p.Machine(b.Week.Health), p.Feed(b.Week.Feed), b.cards(p)})
}

// unfrozen are the paddocks that are shut because nobody knows whether it froze.
func (b Board) unfrozen() (names []string) {
	for i := range b.Views {
		if v := &b.Views[i]; slices.ContainsFunc(v.Shut, func(c shut.Cause) bool { return c.Why == shut.NotKnown }) {
			names = append(names, v.Paddock.Name)
		}
	}
	return names
}

// A card is one paddock on the board.
type card struct {
	View    *season.View
	Line    ladder.Shut
	State   string
	Tone    string // go, stop, or nothing
	Verdict string
	Hold    string
}

func (b Board) cards(p wording.Page) []card {
	cards := make([]card, len(b.Views))
	for i := range cards {
		v, line := &b.Views[i], b.Week.Shuts[i]
		facts := ladder.Describe(v, v.Today)
		c := card{View: v, Line: line, State: p.State(line), Hold: p.Hold(&facts)}
		if v.Verdict.Say != "" {
			c.Verdict = p.Verdict(&ladder.VerdictFacts{PaddockFacts: facts, Judged: line.Judged})
		}
		switch {
		case v.Hold != nil || line.Late > 0 || v.Verdict.Action == season.TakeOff:
			c.Tone = "stop"
		case v.Verdict.Say == season.Go:
			c.Tone = "go"
		}
		cards[i] = c
	}
	return cards
}

// Fate names the phrase of what became of a message, why it was not sent where that
// is a word of the outbox.
func (s Saying) Fate() string { return "fate." + s.State }

// Because is the phrase that says why; empty where it is the carrier's own words.
func (s Saying) Because() string {
	if ours[s.Why] {
		return "why." + s.Why
	}
	return ""
}

// ours are the outbox's own words for why.
var ours = map[string]bool{"cap": true, "stopped": true, "no-address": true, "read": true}
