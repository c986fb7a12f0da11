package config

import (
	"strconv"
	"strings"
	"time"

	"stubbled/scheduler/herd"
)

// A parser reads one kind of value. within takes what the tag `in` says: a
// range such as 1..50, or the words known.
type parser struct {
	form   form
	within func(in string) func(string) (any, error)
}

// parsers are all kinds of values, by what the tag `as` calls them.
var parsers = map[string]parser{
	"":            plain(word, asItStands),
	"farm name":   plain(word, parseFarmName),
	"person":      plain(word, parsePerson),
	"role":        plain(word, parseRole),
	"id":          plain(word, parseID),
	"zone":        plain(word, parseZone),
	"units":       plain(word, parseUnits),
	"language":    plain(word, parseLanguage),
	"phone":       plain(word, parsePhone),
	"email":       plain(word, parseEmail),
	"grass":       plain(word, parseGrass),
	"soil":        plain(word, parseSoil),
	"stand":       plain(word, parseStand),
	"hazard":      plain(word, parseHazard),
	"stock":       plain(word, parseKind),
	"month":       plain(word, parseMonth),
	"medium":      plain(word, parseMedium),
	"via":         plain(word, parseVia),
	"path":        plain(word, parsePath),
	"path, none":  plain(word, orElse("none", "", parsePath)),
	"region":      plain(word, parseRegion),
	"url":         plain(word, parseURL),
	"public url":  plain(word, parsePublicURL),
	"web path":    plain(word, parseWebPath),
	"listen":      plain(word, parseListen),
	"header":      plain(word, parseHeader),
	"signed":      plain(word, parseSigned),
	"host":        plain(word, parseHost),
	"tls":         plain(word, parseTLS),
	"degrees":     plain(word, parseUnit),
	"station":     plain(word, parseStation),
	"point":       plain(word, parsePoint),
	"yes or no":   plain(amount, parseYesNo),
	"rate":        plain(amount, parseRate),
	"time":        plain(amount, parseClock),
	"quiet hours": plain(amount, parseQuiet),
	"date":        plain(amount, parseDate),
	"plan on":     plain(amount, parsePlanOn),
	"one of":      {word, func(in string) func(string) (any, error) { return untyped(oneOf(strings.Fields(in)...)) }},
	"number":      {count, func(in string) func(string) (any, error) { return untyped(wholeIn(wholeRange(in))) }},
	"length":      measured(lengths),
	"area":        measured(areas),
	"days":        measured(dayCounts),
	"whole days":  counted(dayCounts),
	"texts":       counted(texts),
	"percent":     {amount, func(in string) func(string) (any, error) { return untyped(share(floatRange(in))) }},
	"temperature": {amount, func(in string) func(string) (any, error) { return untyped(temperature(floatRange(in))) }},
	"weight":      {amount, func(string) func(string) (any, error) { return untyped(weights.in(herd.MinWeightLb, herd.MaxWeightLb)) }},
	"span":        {amount, func(in string) func(string) (any, error) { return untyped(span(spanRange(in))) }},
	"span, never": {amount, func(in string) func(string) (any, error) {
		return untyped(orElse("never", -1, span(spanRange(in))))
	}},
	"day of the year": {amount, func(in string) func(string) (any, error) { return untyped(dayWithin(in)) }},
}

func asItStands(text string) (string, error) { return text, nil }

func plain[T any](f form, parse func(string) (T, error)) parser {
	return parser{f, func(string) func(string) (any, error) { return untyped(parse) }}
}

func measured(m measure) parser {
	return parser{amount, func(in string) func(string) (any, error) { return untyped(m.in(floatRange(in))) }}
}

func counted(m measure) parser {
	return parser{amount, func(in string) func(string) (any, error) { return untyped(m.whole(wholeRange(in))) }}
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
