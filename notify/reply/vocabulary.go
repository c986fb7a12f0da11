package reply

import (
	"maps"
	"slices"
	"strings"
	"sync"

	"stubbled/notify/language"
)

// A vocabulary is what all languages on file hold for the reader, made ready to
// be looked up.
type vocabulary struct {
	tongues  map[string]func() *tongue // by the tag of a contact's language
	other    string                    // the tag for whoever speaks none of them
	counted  map[string]int            // numbers in words
	ordinals map[string]int            // first, second
	kinds    map[string]stockKind      // animals by one word, singular or plural
	letters  map[string]string         // of the alphabet, by the words that sound like them
	hints    map[hint]map[string]bool
	whole    map[string]map[string]bool // whole messages, by the rows of optout.txt
	forms    []wholeText                // of whole texts
	formsBy  beginnings
}

var installed = sync.OnceValue(func() *vocabulary { return newVocabulary(language.All()) })

// newVocabulary makes ready the words of languages, the default first. A row
// that has no meaning lists the words of a hint.
func newVocabulary(all []*language.Language) *vocabulary {
	v := &vocabulary{tongues: map[string]func() *tongue{}, other: all[0].Tag, counted: language.Counted(all), ordinals: map[string]int{}, kinds: map[string]stockKind{}, letters: map[string]string{},
		hints: map[hint]map[string]bool{}, whole: map[string]map[string]bool{}}
	heard := make([][]entry, len(all))
	for i, l := range all {
		for _, row := range l.Heard {
			heard[i] = append(heard[i], v.entries(row)...)
		}
		for name, words := range l.OptOut {
			file(v.whole, name, words)
		}
	}
	for i, l := range all {
		others := append(append([][]entry{}, heard[:i]...), heard[i+1:]...)
		v.tongues[l.Tag] = sync.OnceValue(func() *tongue { return newTongue(l, all[0], heard[i], others, slices.Sorted(maps.Keys(v.hints[hIsh]))) })
	}
	for phrase := range v.hints[hLetter] {
		w, letter, _ := strings.Cut(phrase, " ")
		v.letters[w] = letter
	}
	v.forms = v.formsOf()
	v.formsBy = beginningsOf(v.forms)
	return v
}

// tongue gives the words of a contact's language.
func (v *vocabulary) tongue(lang string) *tongue {
	base, _, _ := strings.Cut(strings.ToLower(lang), "-")
	if t := v.tongues[base]; t != nil {
		return t()
	}
	return v.tongues[v.other]()
}

// entries reads a row of heard.txt: words with their meanings, numbers in their
// order, or words that a rule asks for, which make no entry.
func (v *vocabulary) entries(row language.Row) []entry {
	if row.Name == "ordinals" {
		for i, spellings := range row.InOrder() {
			for _, w := range spellings {
				v.ordinals[w] = i + 1
			}
		}
		return nil
	}
	if role, ok := inOrder[row.Name]; ok {
		return count(row, role)
	}
	var x lex
	for name := range strings.SplitSeq(row.Name, ",") {
		m, ok := meaningOf(strings.TrimSpace(name))
		if !ok {
			file(v.hints, hint(row.Name), row.Words())
			return nil
		}
		x = x.with(m)
	}
	list := make([]entry, 0, 16)
	for _, w := range row.Phrases() {
		list = append(list, entry{x, strings.Fields(w)})
		v.kind(w, x.stock)
	}
	return list
}

// kind files a word for animals; the first that claims it has it.
func (v *vocabulary) kind(w string, k stockKind) {
	for _, form := range [2]string{w, strings.TrimSuffix(w, "s")} {
		if _, taken := v.kinds[form]; !taken && k != noStock {
			v.kinds[form] = k
		}
	}
}

// inOrder are the rows whose words stand for one number after the other.
var inOrder = map[string]func(i int) lex{
	"ordinals": func(int) lex { return lex{} },
	"numbers":  func(i int) lex { return lex{role: rNumber, val: float64(i)} },
	"tens":     func(i int) lex { return lex{role: rTens, val: float64(10 * (i + 2))} },
	"months":   func(i int) lex { return lex{role: rMonth, val: float64(i + 1)} },
	"weekdays": func(i int) lex { return lex{role: rWeekday, val: float64(i)} },
}

// count reads numbers, months or weekdays in their order.
func count(row language.Row, role func(i int) lex) []entry {
	var list []entry
	for i, spellings := range row.InOrder() {
		for _, w := range spellings {
			list = append(list, entry{role(i), []string{w}})
		}
	}
	return list
}

// file adds words to the set of a row.
func file[Row ~string](sets map[Row]map[string]bool, row Row, words []string) {
	if sets[row] == nil {
		sets[row] = map[string]bool{}
	}
	for _, w := range words {
		sets[row][w] = true
	}
}
