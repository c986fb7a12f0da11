package reply

import "stubbled/scheduler/diary"

// An event is a kind of fact with a word of its own, by its place in the table.
type event uint8

// The events that single rules name.
const (
	noEvent event = iota
	eHayed
	eBurned
	eBrown
	eRegrowth
	eClear
	eDry
	eDryOver
	eWean
	eRain
)

// events are the plain events: each is a meaning in heard.txt and the kind of
// fact that it makes, and is weighed by a column of weights.tsv.
var events = []struct {
	word   string
	kind   diary.Kind
	column column
	past   bool // the word itself says that it is over
}{
	eHayed:    {"hayed", diary.Hayed, cEvent, true},
	eBurned:   {"burned", diary.Burned, cEvent, true},
	eBrown:    {"brown", diary.Brown, cLooser, true},
	eRegrowth: {"regrowth", diary.Regrowth, cStricter, true},
	eClear:    {"clear", diary.Clear, cLooser, false},
	eDry:      {"dry", diary.Dry, cEvent, false},
	eDryOver:  {"dry over", diary.DryOver, cLooser, false},
	eWean:     {"weaned", diary.Wean, cEvent, true},
	eRain:     {"rained", diary.Rain, cStricter, true},
}

// eventOf finds an event by its word.
func eventOf(word string) event {
	for e := range events {
		if events[e].word == word {
			return event(e)
		}
	}
	return noEvent
}
