// Package values is in charge of single values of the farm file: what is
// written with its unit becomes a value of the trade (inches, acres, lb, days,
// degrees C), or an error that says what to write instead. It is also where
// names are compared as they are heard in texts.
//
// It never knows where a value stands or what goes together with what: that is
// config's. What it quotes back is kept short.
package values

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/spell"
)

// A Form is how a value must be written.
type Form int

const (
	Word   Form = iota // text, quoted where it looks like a number
	Amount             // text or number; its own parser asks for the unit
	Count              // a whole number without a unit
)

func (f Form) String() string { return [...]string{"text", "a value", "a whole number"}[f] }

// A Parser reads one kind of value. Within takes what a kind is bounded by: a
// range such as 1..50, or the words known.
type Parser struct {
	Form   Form
	Within func(in string) func(string) (any, error)
}

// Parsers are all kinds of values by their names.
var Parsers = map[string]Parser{
	"":          plain(Word, func(text string) (string, error) { return text, nil }),
	"farm name": plain(Word, parseFarmName),
	"person":    plain(Word, parsePerson),
	"role":      plain(Word, role),
	"id":        plain(Word, parseID),
	"zone":      plain(Word, parseZone),
	"units": plain(Word, known(lookup(map[string]string{"inches": "inches", "centimetres": "centimetres", "centimeters": "centimetres"}),
		"inches or centimetres")),
	"language": plain(Word, parseLanguage),
	"phone":    plain(Word, parsePhone),
	"email":    plain(Word, email),
	"grass":    plain(Word, named("grass", grass.Grasses)),
	"hazard":   plain(Word, named("hazard plant", grass.Hazards)),
	"stock":    plain(Word, parseKind),
	"month":    plain(Word, parseMonth),
	"medium": plain(Word, known(lookup(map[string]ladder.Medium{"email": ladder.Mail, "mail": ladder.Mail, "text": ladder.Text, "sms": ladder.Text}),
		"email or text", "email", "text")),
	"path":                plain(Word, wholePath),
	"path, none":          plain(Word, orElse("none", "", wholePath)),
	"region":              plain(Word, region),
	"url":                 plain(Word, parseURL),
	"public url":          plain(Word, parsePublicURL),
	"web path":            plain(Word, webPath),
	"listen":              plain(Word, listen),
	"header":              plain(Word, ParseHeader),
	"signed":              plain(Word, parseSigned),
	"host":                plain(Word, host),
	"degrees":             plain(Word, parseUnit),
	"station":             plain(Word, station),
	"point":               plain(Word, parsePoint),
	"yes or no":           plain(Amount, known(lookup(map[string]bool{"true": true, "yes": true, "false": false, "no": false}), "true or false")),
	"rate":                plain(Amount, parseRate),
	"time":                plain(Amount, parseClock),
	"quiet hours":         plain(Amount, parseQuiet),
	"date":                plain(Amount, parseDate),
	"plan on":             plain(Amount, parsePlanOn),
	"record units":        plain(Word, parseRecordUnits),
	"one of":              {Word, func(in string) func(string) (any, error) { return untyped(oneOf(strings.Clone, strings.Fields(in))) }},
	"one of, in any case": {Word, func(in string) func(string) (any, error) { return untyped(oneOf(strings.ToLower, strings.Fields(in))) }},
	"number":              {Count, func(in string) func(string) (any, error) { return untyped(wholeIn(wholeRange(in))) }},
	"length":              measured(lengths),
	"area":                measured(areas),
	"days":                measured(dayCounts),
	"whole days":          counted(dayCounts),
	"texts":               counted(texts),
	"bales":               counted(bales),
	"percent":             {Amount, func(in string) func(string) (any, error) { return untyped(share(floatRange(in))) }},
	"temperature":         {Amount, func(in string) func(string) (any, error) { return untyped(temperature(floatRange(in))) }},
	"weight":              {Amount, func(string) func(string) (any, error) { return untyped(weights.in(herd.MinWeightLb, herd.MaxWeightLb)) }},
	"bale":                plain(Amount, parseBale),
	"span":                {Amount, func(in string) func(string) (any, error) { return untyped(span(spanRange(in))) }},
	"span, never": {Amount, func(in string) func(string) (any, error) {
		return untyped(orElse("never", -1, span(spanRange(in))))
	}},
	"day of the year": {Amount, func(in string) func(string) (any, error) { return untyped(dayWithin(in)) }},
}

// known reads one of the words that parse knows. near are those that a slip is
// looked for in.
func known[T any](parse func(string) (T, bool), want string, near ...string) func(string) (T, error) {
	return func(text string) (T, error) {
		v, ok := parse(text)
		if !ok {
			return v, fmt.Errorf("want %s, got %q%s", want, Clip(text), OrOneOf(text, near))
		}
		return v, nil
	}
}

// named reads what people call by several names.
func named[T spell.Named](what string, table spell.Table[T]) func(string) (T, error) {
	return func(text string) (T, error) {
		v, ok := table.Find(text)
		if ok {
			return v, nil
		}
		meant := OrNearest(text, table.Names())
		if name, near := table.Nearest(text); near {
			meant = DidYouMean(name)
		}
		return v, fmt.Errorf("no %s known as %q%s", what, Clip(text), meant)
	}
}

func lookup[T any](words map[string]T) func(string) (T, bool) {
	return func(text string) (T, bool) {
		v, ok := words[strings.ToLower(strings.TrimSpace(text))]
		return v, ok
	}
}

func plain[T any](f Form, parse func(string) (T, error)) Parser {
	return Parser{f, func(string) func(string) (any, error) { return untyped(parse) }}
}

func measured(m measure) Parser {
	return Parser{Amount, func(in string) func(string) (any, error) { return untyped(m.in(floatRange(in))) }}
}

func counted(m measure) Parser {
	return Parser{Amount, func(in string) func(string) (any, error) { return untyped(m.whole(wholeRange(in))) }}
}

func untyped[T any](parse func(string) (T, error)) func(string) (any, error) {
	return func(text string) (any, error) { return parse(text) }
}

// The ranges stand in tags, and a test reads them all; what cannot be read is
// 0, which lets nothing through.

func floatRange(in string) (lo, hi float64) {
	from, to, _ := strings.Cut(in, "..")
	lo, _ = strconv.ParseFloat(from, 64)
	hi, _ = strconv.ParseFloat(to, 64)
	return lo, hi
}

func wholeRange(in string) (lo, hi int) {
	a, b := floatRange(in)
	return int(a), int(b)
}

func spanRange(in string) (lo, hi time.Duration) {
	from, to, _ := strings.Cut(in, "..")
	parse := spans.in(0, 1e9)
	a, _ := parse(from)
	b, _ := parse(to)
	return time.Duration(a) * time.Second, time.Duration(b) * time.Second
}
