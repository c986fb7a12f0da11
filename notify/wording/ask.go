package wording

import (
	"strings"
	"unicode"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

// Ask is the question asked back instead of guessing: one short text that names
// the choices, answered by a name or by a letter, never by a number. names gives
// paddock and herd ids as people say them.
func Ask(o Options, q diary.Question, names map[string]string) string {
	v := newVoice(o)
	return v.text(ladder.AnswerAsk, cleaned([]ladder.Facts{{Question: &q, Names: names}}))
}

// asked is a question back, behind what could be written down of the same text.
func (v voice) asked(fs []ladder.Facts) []part {
	f := fs[0]
	var parts []part
	var items []string
	for _, one := range fs {
		for _, r := range one.Recorded {
			items = append(items, v.entry(r, one))
		}
	}
	if items = unique(items); len(items) > 0 {
		parts = append(parts, keep(rankDetail, v.inEach("noted", v.shortening(items, "; "))...))
	}
	q := f.Question
	if q == nil {
		q = &diary.Question{Why: diary.Unclear}
	}
	return append(parts, v.question(q, f)...)
}

func (v voice) question(q *diary.Question, f ladder.Facts) []part {
	word := v.name(q.Word)
	about := ladder.Facts{Paddock: q.Paddock, Name: f.Names[q.Paddock], Say: v.sayOf(q, f), Names: f.Names}
	key, args := "ask."+string(q.Why), []any{word}
	if !has(key) {
		key = "ask.unclear"
	}
	if q.Paddock != "" && has(key+".in") {
		key, args = key+".in", []any{word, v.paddock(about)}
	}
	if word == "" && has(key+".bare") {
		key += ".bare"
	}
	parts := []part{must(v.say(key, args...))}
	if len(q.Choices) > 0 {
		return append(parts, v.choices(q.Choices)...)
	}
	return append(parts, v.askedFor(q, about)...)
}

// sayOf is a name to show in an example: the paddock in question, else the one
// that the facts give; a stand-in where there is none, for names holds herds too.
func (v voice) sayOf(q *diary.Question, f ladder.Facts) string {
	if q.Paddock != "" {
		return q.Paddock
	}
	return f.Say
}

// choices are lettered: a number would be a height.
func (v voice) choices(all []diary.Choice) []part {
	letters := "abcd"
	all = all[:min(len(all), len(letters))]
	items := make([]string, len(all))
	used := make([]string, len(all))
	for i, c := range all {
		items[i] = v.say("ask.choice", letters[i:i+1], v.name(c.Name))
		used[i] = letters[i : i+1]
	}
	parts := []part{must(v.say("ask.choices", strings.Join(items, ", ")))}
	for _, c := range all {
		if strings.ContainsAny(c.Name, "0123456789") && !strings.ContainsFunc(c.Name, unicode.IsLetter) {
			return append(parts, must(v.say("answer.choice.letter", v.list(used, "list.or"))))
		}
	}
	return append(parts, must(v.say("answer.choice")))
}

// askedFor is what to text where there is nothing to choose from.
func (v voice) askedFor(q *diary.Question, f ladder.Facts) []part {
	fs := []ladder.Facts{f}
	switch q.Why {
	case diary.Negation, diary.Plan, diary.PartOfHerd:
		return []part{v.answer("answer.when-done", fs, v.command(diary.Off, f))}
	case diary.WhichDay:
		return []part{v.answer("answer.like", fs, v.say("command.with", v.command(diary.Off, f), v.say("date.sample")))}
	case diary.WhichHerd:
		return []part{v.answer("answer.like", fs, v.say("command.with", v.command(diary.On, f), v.say("cattle")))}
	case diary.NotAllowed:
		return nil
	case diary.UnknownPaddock:
		return []part{v.answer("answer.names", fs, v.say("command.status"))}
	case diary.Unclear:
		return []part{v.answer("answer.like", fs, v.list([]string{v.heights(f, 9), v.command(diary.Off, f), v.say("command.help")}, "list.or"))}
	}
	return []part{v.answer("answer.like", fs, v.heights(f, 9))}
}

// Typed is a fact as somebody types it in a language: what a text may ask for
// is understood when it comes back. name is the paddock's or herd's name or
// alias; heights are in the farm's unit.
func Typed(o Options, f diary.Fact, name string) string {
	v := newVoice(o)
	facts := ladder.Facts{Say: name}
	if f.Kind == diary.Reading {
		hs := make([]string, len(f.Heights))
		for i, h := range f.Heights {
			hs[i] = v.bare(h)
		}
		return v.say("command.with", v.typed(facts), strings.Join(hs, " "))
	}
	if f.Paddock == "" {
		return v.say("command." + string(f.Kind))
	}
	return v.command(f.Kind, facts)
}

// Command is the word that a kind of fact is texted with: off, fuera. Empty
// where there is none.
func Command(lang string, kind diary.Kind) string {
	if key := "command." + string(kind); has(key) {
		return newVoice(Options{Lang: lang}).say(key)
	}
	return ""
}
