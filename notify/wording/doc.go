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
// else. Every sentence stands in the catalogues en*.go and es*.go.
package wording

import (
	"strings"

	"stubbled/notify/gsm"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

// Options say for whom the words are made.
type Options struct {
	Lang        string // en, es; regional forms are matched, anything else is English
	Centimetres bool   // a metric farm: cm, degrees C, kg. Otherwise in, degrees F, lb
	// Pictures are the content ids of the pictures that go with a mail; only
	// those are shown: Season, and SeasonOf a paddock.
	Pictures []string
}

// Season is the content id of the picture of the whole farm's season.
const Season = "season"

// SeasonOf is the content id of the picture of one paddock's seasons.
func SeasonOf(paddock string) string { return Season + "-" + paddock }

// Text is one text message for a bundle of notices of one kind to one person:
// GSM 7-bit, one segment or, for what has to be complete, two.
func Text(o Options, kind ladder.Kind, facts []ladder.Facts) string {
	v := newVoice(o)
	return v.text(kind, cleaned(facts))
}

// Answer is one text for an answer with everything that it says besides
// (Facts.And): the most pressing part first, a line each, two segments at most.
func Answer(o Options, kind ladder.Kind, f ladder.Facts) string {
	v := newVoice(o)
	parts := withAnd(kind, cleaned([]ladder.Facts{f})[0])
	var each [][]part
	for len(parts) > 0 {
		kind, n := parts[0].Kind, 1
		for kind == ladder.AnswerVerdict && n < len(parts) && parts[n].Kind == kind {
			n++ // heights of several paddocks are answered together
		}
		facts := make([]ladder.Facts, n)
		for i := range facts {
			facts[i] = parts[i].Facts
		}
		if parts = parts[n:]; len(each) == 0 && len(parts) == 0 {
			return v.text(kind, facts)
		}
		each = append(each, v.parts(kind, facts))
	}
	text, _ := fit(gsm.TwoSegments, []part{{rankNames, v.lines(each, "lines-more.answer")}})
	return text
}

// withAnd takes an answer apart: its own part, then the others.
func withAnd(kind ladder.Kind, f ladder.Facts) []ladder.Also {
	and := f.And
	f.And = nil
	out := []ladder.Also{{Kind: kind, Facts: f}}
	for _, also := range and {
		also.Facts.Farm = firstOf(also.Facts.Farm, f.Farm)
		out = append(out, withAnd(also.Kind, also.Facts)...)
	}
	return out
}

func (v voice) text(kind ladder.Kind, facts []ladder.Facts) string {
	if len(facts) == 0 {
		facts = []ladder.Facts{{}}
	}
	text, _ := fit(roomFor(kind, facts), v.parts(kind, facts))
	return text
}

// roomFor is how many septets a message may take: one segment, or two where it
// speaks of several paddocks or things, or carries a caution.
func roomFor(kind ladder.Kind, facts []ladder.Facts) int {
	f := facts[0]
	if len(facts) > 1 || len(f.Recorded) > 1 && kind != ladder.AnswerVerdict || len(f.Undone) > 1 || cautions(kind, f) {
		return gsm.TwoSegments
	}
	switch kind {
	case ladder.AnswerStatus, ladder.FallAhead, ladder.MondayMail, ladder.LessonsMail:
		return gsm.TwoSegments
	case ladder.FrostSeen, ladder.FreezeSeen:
		if len(f.Shuts) > 1 {
			return gsm.TwoSegments
		}
	case ladder.AnswerAsk:
		if len(f.Recorded) > 0 {
			return gsm.TwoSegments
		}
	}
	return gsm.OneSegment
}

// cautions reports whether a message must say more than what to do: that plants
// may be poisonous, or that the rest of a promise is not given.
func cautions(kind ladder.Kind, f ladder.Facts) bool {
	switch kind {
	case ladder.FrostWarning, ladder.HoldBegins, ladder.HoldOver, ladder.RestOver, ladder.KillingFreeze:
		return true
	case ladder.FrostSeen, ladder.FreezeSeen:
		return restOver(f)
	case ladder.AnswerVerdict:
		return f.Hold != nil && len(f.Hold.Plants) > 0
	case ladder.AnswerRecorded:
		return looser(f) || tells(f, diary.Regrowth) || restOver(f) || heldOn(f)
	}
	return false
}

// parts are the sentences of one message, in the order they are said.
func (v voice) parts(kind ladder.Kind, fs []ladder.Facts) []part {
	if say, ok := speakers[kind]; ok {
		return say(v, fs)
	}
	return []part{must(v.say("unknown-kind", v.name(oneLine(strings.ReplaceAll(string(kind), "-", " ")))))}
}
