// Package wording is in charge of everything that is said to a person: it
// makes a message out of facts, in the language of the one who gets it and for
// the medium that it travels by.
//
// It never decides anything: what is due, who is told and whether cattle may
// graze stand in the facts. It reads no clock and no file.
//
// Texts keep to the GSM 7-bit alphabet, to one segment where the matter allows
// it and to two everywhere. They speak in one order: what to do, in which
// paddock, when, why, and how to answer. What does not fit goes in the order
// of its rank: first remarks, then detail, last the names of further paddocks.
// The phone networks' own words for opting in and out are used for nothing
// else. Every sentence stands in said.txt of package language.
package wording

import (
	"slices"
	"strings"

	"stubbled/notify/gsm"
	"stubbled/scheduler/ladder"
)

// Options say for whom the words are made.
type Options struct {
	Lang        string // a tag of notify/language; regional forms are matched, anything else is the default
	Centimetres bool   // a metric farm: cm, degrees C, kg. Otherwise in, degrees F, lb
	Stock       bool   // the farm's animals are not all cattle
	// Pictures are the content ids of the pictures that go with a mail; only
	// those are shown: Season, SeasonOf a paddock, and Rests.
	Pictures []string
}

// Season is the content id of the picture of the whole farm's season.
const Season = "season"

// Rests is the content id of the scorecard's picture.
const Rests = "rests"

// SeasonOf is the content id of the picture of one paddock's seasons.
func SeasonOf(paddock string) string { return Season + "-" + paddock }

// Message is a bundle of notices of one kind to one person in the words of a medium; an
// answer, which is never bundled, with all that it says besides. Subject and HTML are a
// mail's.
func Message(o Options, by ladder.Medium, kind ladder.Kind, facts []ladder.Facts) (subject, text, html string) {
	switch {
	case by == ladder.Mail:
		return Mail(o, kind, facts)
	case by == ladder.Call:
		return "", Speech(o, kind, facts), ""
	case kind.Answer():
		return "", Answer(o, kind, facts[0]), ""
	}
	return "", Text(o, kind, facts), ""
}

// Text is one text message for a bundle of notices of one kind to one person:
// GSM 7-bit, one segment or, for what has to be complete, two.
func Text(o Options, kind ladder.Kind, facts []ladder.Facts) string {
	return newVoice(o).text(kind, ready(kind, facts))
}

// Fit is how many of a bundle one text can name: all of them, but of a kind that
// is never cut.
func Fit(o Options, kind ladder.Kind, facts []ladder.Facts) int {
	v, all := newVoice(o), ready(kind, facts)
	v.uncut = true
	n := len(all)
	for ; n > 1 && kind.Whole(); n-- {
		if _, ok := fit(roomFor(kind, all[:n]), v.parts(kind, all[:n])); ok {
			break
		}
	}
	return n
}

// Answer is one text for an answer with everything that it says besides: the
// most pressing part first, a line each, two segments at most.
func Answer(o Options, kind ladder.Kind, f ladder.Facts) string {
	v := newVoice(o)
	parts := withAnd(kind, ready(kind, []ladder.Facts{f})[0])
	var all [][]part
	for len(parts) > 0 {
		kind, n := parts[0].Kind, 1
		for kind == ladder.AnswerVerdict && n < len(parts) && parts[n].Kind == kind {
			n++ // heights of several paddocks are answered together
		}
		facts := each(parts[:n], func(p ladder.Part) ladder.Facts { return p.Facts })
		if parts = parts[n:]; len(all) == 0 && len(parts) == 0 {
			return v.text(kind, facts)
		}
		all = append(all, v.parts(kind, facts))
	}
	text, _ := fit(gsm.TwoSegments, []part{{rankNames, v.lines(all, "lines-more.answer")}})
	return text
}

// Together is one text for a day's work of several kinds, a line each, two segments at
// most: what has to come off today first.
func Together(o Options, work []ladder.Notice) string {
	v := newVoice(o)
	kinds := groups(work, func(n ladder.Notice) ladder.Kind { return n.Kind })
	slices.SortStableFunc(kinds, func(a, b []ladder.Notice) int {
		return slices.Index(pressing, a[0].Kind) - slices.Index(pressing, b[0].Kind)
	})
	all := each(kinds, func(some []ladder.Notice) []part {
		return v.parts(some[0].Kind, ready(some[0].Kind, each(some, func(n ladder.Notice) ladder.Facts { return n.Facts })))
	})
	text, _ := fit(gsm.TwoSegments, []part{{rankNames, v.linesOf(all)}})
	return text
}

// pressing is the order of a day's work in one text.
var pressing = []ladder.Kind{ladder.ShutToday, ladder.Overdue, ladder.MovePlan, ladder.LastLook, ladder.HeadsUp, ladder.KeepShut, ladder.AskHeight}

// withAnd takes an answer apart: its own part, then the others.
func withAnd(kind ladder.Kind, f ladder.Facts) []ladder.Part {
	out := []ladder.Part{{Kind: kind, Facts: f}}
	answer, ok := f.(ladder.Answer)
	if !ok {
		return out
	}
	for _, also := range answer.Reply().And {
		facts := ready(also.Kind, []ladder.Facts{also.Facts})[0]
		facts.About().Farm = firstOf(facts.About().Farm, f.About().Farm)
		out = append(out, withAnd(also.Kind, facts)...)
	}
	return out
}

func (v voice) text(kind ladder.Kind, facts []ladder.Facts) string {
	text, _ := fit(roomFor(kind, facts), v.parts(kind, facts))
	return text
}

// roomFor is how many septets a message may take: one segment, or two where it
// speaks of several paddocks or things, or carries a caution: that plants may be
// poisonous, or that the rest of a promise is not given.
func roomFor(kind ladder.Kind, facts []ladder.Facts) int {
	to, sends := facts[0].(interface{ Warned() bool })
	if long := speakers[kind].long; len(facts) > 1 || long != nil && long(facts[0]) || sends && to.Warned() {
		return gsm.TwoSegments
	}
	return gsm.OneSegment
}

// parts are the sentences of one message, in the order they are said.
func (v voice) parts(kind ladder.Kind, fs []ladder.Facts) []part {
	if s, ok := speakers[kind]; ok {
		return s.say(v, fs)
	}
	return []part{must(v.say("unknown-kind", "kind", v.name(oneLine(strings.ReplaceAll(string(kind), "-", " ")))))}
}
