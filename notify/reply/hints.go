package reply

import "strings"

// A hint is what a single rule asks of a word. It gives the word no meaning: a
// word with nothing but hints is unknown.
type hint uint64

// The hints.
const (
	hAbbreviated hint = 1 << iota
	hHundred
	hJoinsName
	hJoinsTens
	hJoinedTens
	hDecimalComma
	hOrdinal
	hOfMonth
	hBeforeYear
	hBeforeDay
	hBeforeHour
	hBeforeHourToo // of two words
	hBeforeHeads
	hCountedOne
	hIsh
	hCelsius
	hFahrenheit
	hQuestionMark
	hBeginsQuestion
	hPronoun
	hSorry
	hFinished
	hNotThat
	hNone
	hChoice
	hNameComes
	hNameCame
	hIsPast
	hPastFrost
	hMayBeToCome
	hEndsToCome // an ending
	hNeedsAnimals
	hAnimalsBehind
	hWater
	hWaterFroze
	hYoung
	hNow
	hNight
	hMorning // a part of a word
)

// hintNames are the rows of heard.txt that hold them.
var hintNames = map[string]hint{
	"abbreviated":                 hAbbreviated,
	"hundred":                     hHundred,
	"joins a name":                hJoinsName,
	"joins tens":                  hJoinsTens,
	"joined tens":                 hJoinedTens,
	"decimal comma":               hDecimalComma,
	"ending of a day":             hOrdinal,
	"of a month":                  hOfMonth,
	"before a year":               hBeforeYear,
	"before a day":                hBeforeDay,
	"before an hour":              hBeforeHour,
	"before an hour of two words": hBeforeHourToo,
	"before heads":                hBeforeHeads,
	"counted one":                 hCountedOne,
	"nearly":                      hIsh,
	"celsius":                     hCelsius,
	"fahrenheit":                  hFahrenheit,
	"question mark":               hQuestionMark,
	"begins a question":           hBeginsQuestion,
	"pronoun":                     hPronoun,
	"sorry":                       hSorry,
	"finished":                    hFinished,
	"not that":                    hNotThat,
	"none of them":                hNone,
	"letter of a choice":          hChoice,
	"name comes":                  hNameComes,
	"name came":                   hNameCame,
	"is past":                     hIsPast,
	"past frost":                  hPastFrost,
	"may be to come":              hMayBeToCome,
	"ending may be to come":       hEndsToCome,
	"needs animals":               hNeedsAnimals,
	"animals behind":              hAnimalsBehind,
	"water":                       hWater,
	"water froze":                 hWaterFroze,
	"young of a herd":             hYoung,
	"now":                         hNow,
	"at night":                    hNight,
	"part of morning":             hMorning,
}

// hinted reports whether a word or phrase has a hint, in any language.
func (r *Reader) hinted(w string, h hint) bool { return r.voc.hints[w]&h != 0 }

// holdsPart reports whether a part of a word has a hint.
func (r *Reader) holdsPart(w string, h hint) bool {
	for _, part := range r.voc.parts[h] {
		if strings.Contains(w, part) {
			return true
		}
	}
	return false
}
