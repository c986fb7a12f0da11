package reply

import (
	"strings"
	"sync"
)

// counted makes the entries of a language's numbers, months and weekdays from
// lists in order; a dash leaves a place out.
func counted(ones, tens, months, short, weekdays string) []entry {
	var list []entry
	each := func(words string, make func(i int) lex) {
		for i, w := range strings.Fields(words) {
			if w != "-" {
				list = append(list, entry{make(i), w})
			}
		}
	}
	each(ones, func(i int) lex { return lex{role: rNumber, val: float64(i)} })
	each(tens, func(i int) lex { return lex{role: rTens, val: float64(10 * (i + 2))} })
	month := func(i int) lex { return lex{role: rMonth, val: float64(i + 1)} }
	each(months, month)
	each(short, month)
	each(weekdays, func(i int) lex { return lex{role: rWeekday, val: float64(i)} })
	return list
}

// countWords are the numbers in words of both languages.
var countWords = sync.OnceValue(func() map[string]int {
	m := map[string]int{}
	for _, list := range [][]entry{countEnglish, countSpanish} {
		for _, e := range list {
			if e.lex.role == rNumber || e.lex.role == rTens {
				m[e.words] = int(e.lex.val)
			}
		}
	}
	return m
})
