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

import (
	"embed"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"
)

//go:embed */*.txt
var folders embed.FS

// Default is the tag of the language for whoever asks for none of them.
const Default = "en"

// A Language is all that is known of one.
type Language struct {
	Tag   string   // as in the farm file: en
	Names []string // what it is called, in itself and elsewhere
	// ShortEnding is how some write the end of a word, and what it stands for: in for ing.
	ShortEnding []string
	// OneSound are letters that its people write for one another, in pairs: what is
	// written, and what it is taken for. Applied in their order they make of every
	// spelling of a word the same letters.
	OneSound []string
	// DecimalComma says that 7,5 is seven and a half, DayFirst that 5/9 is in
	// September.
	DecimalComma, DayFirst bool

	Heard  []Row
	OptOut map[string][]string
	// Reserved are the words that no paddock may be called, by what they are.
	Reserved map[string][]string
	// Common are words that are never taken for slips; they are many, and read
	// when they are first asked for.
	Common func() map[string]bool

	cattle, stock string // what cattle are called, and animals of any sort

	said   map[string]phrase
	page   map[string]phrase // what stands on paper and on the board
	plural []form
	group  string // parts the thousands of a number
	point  string // begins its decimals
}

// All lists the languages, the default first.
var All = sync.OnceValue(func() []*Language {
	dirs, err := fs.ReadDir(folders, ".")
	if err != nil {
		panic(fmt.Sprintf("language: %v", err))
	}
	var list []*Language
	for _, d := range dirs {
		l, err := Load(folders, d.Name())
		if err != nil {
			panic(fmt.Sprintf("language: %v", err)) // the tests of this package load each
		}
		if l.Tag == Default {
			list = slices.Insert(list, 0, l)
			continue
		}
		list = append(list, l)
	}
	return list
})

// Tags lists the languages that a contact may choose, as in the farm file.
func Tags() []string {
	var tags []string
	for _, l := range All() {
		tags = append(tags, l.Tag)
	}
	return tags
}

// Counted are the numbers in words of languages: those that heard.txt lists in
// their order.
func Counted(all []*Language) map[string]int {
	words := map[string]int{}
	for _, l := range all {
		for _, r := range l.Heard {
			first, step := 0, 1
			switch r.Name {
			case "numbers":
			case "tens":
				first, step = 20, 10
			default:
				continue
			}
			for i, spellings := range r.InOrder() {
				for _, w := range spellings {
					words[w] = first + step*i
				}
			}
		}
	}
	return words
}

// ReservedWords are those of all languages that are called so in reserved.txt.
func ReservedWords(what string) []string {
	var words []string
	for _, l := range All() {
		words = append(words, l.Reserved[what]...)
	}
	return words
}

// Lookup finds a language by its tag or by one of its names; nil where it is
// none of them.
func Lookup(text string) *Language {
	text = strings.ToLower(strings.TrimSpace(text))
	for _, l := range All() {
		if l.Tag == text || slices.Contains(l.Names, text) {
			return l
		}
	}
	return nil
}

// For is the language of a contact: a form of it that is spoken elsewhere,
// es-MX, is that language, and what nobody here speaks is the default.
func For(tag string) *Language {
	base, _, _ := strings.Cut(strings.ReplaceAll(tag, "_", "-"), "-")
	if l := Lookup(base); l != nil {
		return l
	}
	return All()[0]
}
