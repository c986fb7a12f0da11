package wording

import (
	"maps"
	"strconv"
	"strings"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/notify/language"
	"stubbled/scheduler/ladder"
)

// A voice speaks one language in the units of one farm.
type voice struct {
	o    Options
	lang *language.Language
	// roomy is set for a mail: dates are written out.
	roomy bool
	// uncut is set where no list may be cut.
	uncut bool
}

func newVoice(o Options) voice {
	v := voice{o: o, lang: language.For(o.Lang)}
	if o.Stock {
		v.lang = v.lang.OfStock()
	}
	return v
}

// brief is the voice as in a text: for a subject, or a column of a table.
func (v voice) brief() voice {
	v.roomy = false
	return v
}

// say is one phrase with its fields, given in pairs of name and value; a mail
// has its own phrase where there is room for more.
func (v voice) say(key string, fields ...any) string {
	if v.roomy && has(key+".mail") {
		key += ".mail"
	}
	return v.lang.Say(key, fields...)
}

// has reports whether there is a phrase: for keys made from words that come
// from outside. All languages have the same.
func has(key string) bool { return language.All()[0].Has(key) }

// The names of days and months stand in said.txt, the first of each
// under 0 and 1.

// date is a day as people text it: 'Sep 1', '1 sep'. A day that was not given
// says so.
func (v voice) date(d civil.Date) string {
	if !d.IsValid() {
		return v.say("date.none")
	}
	if v.roomy {
		return v.say("date.long", "month", v.say("month."+strconv.Itoa(int(d.Month))), "day", d.Day)
	}
	return v.say("date", "month", v.say("mon."+strconv.Itoa(int(d.Month))), "day", d.Day)
}

// weekday is a day with its weekday: 'Tue Sep 1', 'mar 1 sep'.
func (v voice) weekday(d civil.Date) string {
	if !d.IsValid() {
		return v.say("date.none")
	}
	n := strconv.Itoa(int(d.In(time.UTC).Weekday()))
	if v.roomy {
		return v.say("date.weekday.long", "weekday", v.say("weekday."+n), "date", v.date(d))
	}
	return v.say("date.weekday", "weekday", v.say("day."+n), "date", v.date(d))
}

// Speech is what a call says of a bundle of notices of one kind: sentences made
// for the ear, without any abbreviation where they speak of a hold, and said
// twice, since who is woken by a telephone misses the first words.
func Speech(o Options, kind ladder.Kind, facts []ladder.Facts) string {
	v := voice{o: o, lang: language.For(o.Lang), roomy: true}
	fs := ready(kind, facts)
	words := strings.Join(textLines(full(v.parts(kind, fs))), " ")
	if on := paddocks(fs); every(on, func(f *ladder.PaddockFacts) bool { return f != nil && f.Hold != nil }) {
		words = v.holdAloud(on)
	}
	return v.say("spoken", "farm", v.farm(fs[0]), "words", words)
}

// holdAloud says which ground to take them off, why, and whom to call: every
// paddock by its name, since a list that is cut is heard as whole.
func (v voice) holdAloud(fs []*ladder.PaddockFacts) string {
	names := unique(each(places(fs), v.paddock))
	says := []string{v.say("spoken.hold", "paddock", v.list(names, "list.and")), sentence(v.danger(fs)[0]), v.say("spoken.vet"),
		v.say("spoken.off", "paddock", v.list(names, "list.or"))}
	return strings.Join(says, " ")
}

// A speaker is what is said of a bundle of one kind.
type speaker struct {
	say func(voice, []ladder.Facts) []part
	// long reports whether even one notice may take two segments; nil: never.
	long func(ladder.Facts) bool
}

// speakers has one for every kind; each stands beside its words.
var speakers map[ladder.Kind]speaker

func init() { // a literal would be a cycle: an answer speaks through others
	speakers = map[ladder.Kind]speaker{}
	for _, some := range []map[ladder.Kind]speaker{
		rungSpeakers, fallSpeakers, droughtSpeakers, coldSpeakers, farmSpeakers, statusSpeakers, verdictSpeakers, recordedSpeakers, askSpeakers, springSpeakers,
	} {
		maps.Copy(speakers, some)
	}
}

// says is a speaker for facts of one type.
func says[T ladder.Facts](say func(voice, []T) []part) speaker {
	return speaker{say: func(v voice, fs []ladder.Facts) []part { return say(v, as[T](fs)) }}
}

// saysLong is one that may take two segments.
func saysLong[T ladder.Facts](say func(voice, []T) []part, long func(T) bool) speaker {
	s := says(say)
	s.long = func(f ladder.Facts) bool { return long(f.(T)) }
	return s
}

func inFull[T ladder.Facts](T) bool { return true }

// as is a bundle in the type of its kind.
func as[T ladder.Facts](fs []ladder.Facts) []T {
	return each(fs, func(f ladder.Facts) T { return f.(T) })
}

// paddocks is what a bundle says of its paddocks.
func paddocks[T ladder.Facts](fs []T) []*ladder.PaddockFacts {
	return each(fs, func(f T) *ladder.PaddockFacts { return ladder.OnPaddock(f) })
}

// places are the paddocks of a bundle by their names.
func places[T ladder.Facts](fs []T) []ladder.Place {
	return each(fs, func(f T) ladder.Place { return f.About().Place })
}

// each makes something of each.
func each[F, T any](all []F, of func(F) T) []T {
	out := make([]T, len(all))
	for i, f := range all {
		out[i] = of(f)
	}
	return out
}

// groups parts a list by what some have in common, in the order of the first of each.
func groups[F any, K comparable](all []F, common func(F) K) (parted [][]F) {
	at := map[K]int{}
	for _, f := range all {
		i, known := at[common(f)]
		if !known {
			i = len(parted)
			at[common(f)] = i
			parted = append(parted, nil)
		}
		parted[i] = append(parted[i], f)
	}
	return parted
}

// gathered joins a list of each notice of a bundle.
func gathered[T, E any](fs []T, of func(T) []E) []E {
	var all []E
	for _, f := range fs {
		all = append(all, of(f)...)
	}
	return all
}
