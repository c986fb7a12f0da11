package wording

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/message/catalog"
)

// phrases is one language: by key, a sentence in the form of package fmt, with
// ${2:day|days} where a word follows the number of argument 2.
type phrases map[string]string

// A tongue is a language with its tables.
type tongue struct {
	tag    language.Tag
	tables []phrases
}

// tongues lists the languages; the first is for whoever asks for another one.
// Spanish is that of Mexico, which writes a decimal point.
var tongues = []tongue{
	{language.AmericanEnglish, []phrases{english, englishWords, englishAnswers, englishFarm, englishMail, englishChart, englishPass}},
	{language.MustParse("es-MX"), []phrases{spanish, spanishWords, spanishAnswers, spanishFarm, spanishMail, spanishChart, spanishPass}},
}

// Languages lists the languages that a contact may choose, as in the farm file.
func Languages() []string {
	out := make([]string, len(tongues))
	for i, t := range tongues {
		base, _ := t.tag.Base()
		out[i] = base.String()
	}
	return out
}

// catalogue is built once; a phrase that cannot be read is a fault of this
// package that its tests find, so building stops the program.
var catalogue = sync.OnceValue(func() catalog.Catalog {
	b := catalog.NewBuilder(catalog.Fallback(tongues[0].tag))
	for _, t := range tongues {
		for _, table := range t.tables {
			for key, text := range table {
				if err := b.Set(t.tag, key, messagesOf(text)...); err != nil {
					panic(fmt.Sprintf("wording: %v: %q: %v", t.tag, key, err))
				}
			}
		}
	}
	return b
})

var pluralForm = regexp.MustCompile(`\$\{(\d+):([^|}]*)\|([^}]*)\}`)

// messagesOf turns a phrase into a message with one variable for each place
// where a word follows a number.
func messagesOf(text string) []catalog.Message {
	var out []catalog.Message
	text = pluralForm.ReplaceAllStringFunc(text, func(place string) string {
		m := pluralForm.FindStringSubmatch(place)
		arg, _ := strconv.Atoi(m[1])
		name := fmt.Sprintf("v%d", len(out))
		out = append(out, catalog.Var(name, plural.Selectf(arg, "%d", plural.One, m[2], plural.Other, m[3])))
		return "${" + name + "}"
	})
	return append(out, catalog.String(text))
}

// A voice speaks one language in the units of one farm.
type voice struct {
	o   Options
	tag language.Tag
	p   *message.Printer
	// roomy is set for a mail: dates are written out.
	roomy bool
}

var matcher = sync.OnceValue(func() language.Matcher {
	tags := make([]language.Tag, len(tongues))
	for i, t := range tongues {
		tags[i] = t.tag
	}
	return language.NewMatcher(tags)
})

// tongueOf is the place in tongues of the language nearest to one.
func tongueOf(tag language.Tag) int {
	_, i, _ := matcher().Match(tag)
	return i
}

func newVoice(o Options) voice {
	asked, _ := language.Parse(strings.ReplaceAll(o.Lang, "_", "-"))
	tag := tongues[tongueOf(asked)].tag
	return voice{o: o, tag: tag, p: message.NewPrinter(tag, message.Catalog(catalogue()))}
}

// say is one phrase of the catalogue; a mail has its own where there is room
// for more.
func (v voice) say(key string, args ...any) string {
	if v.roomy && has(key+".mail") {
		key += ".mail"
	}
	return v.p.Sprintf(key, args...)
}

// has reports whether the catalogue has a phrase: for keys made from words
// that come from outside.
func has(key string) bool {
	for _, table := range tongues[0].tables {
		if _, ok := table[key]; ok {
			return true
		}
	}
	return false
}
