package wording

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

var askSpeakers = map[ladder.Kind]speaker{
	ladder.AnswerAsk: saysLong(voice.asked, func(f *ladder.QuestionFacts) bool { return len(f.Recorded) > 0 }),
}

// asked is a question back, behind what could be written down of the same text.
func (v voice) asked(fs []*ladder.QuestionFacts) []part {
	f := fs[0]
	var parts []part
	items := unique(gathered(fs, func(f *ladder.QuestionFacts) []string { return v.entries(f.Recorded, f.Place, f.Names) }))
	if len(items) > 0 {
		parts = append(parts, keep(rankDetail, v.inEach("noted", "list", v.shortening(items, "; "))...))
	}
	return append(parts, v.question(cmp.Or(f.Question, &diary.Question{Why: diary.Unclear}), f)...)
}

func (v voice) question(q *diary.Question, f *ladder.QuestionFacts) []part {
	word := v.name(q.Word)
	about := ladder.Place{Paddock: q.Paddock, Name: f.Names[q.Paddock], Say: cmp.Or(q.Paddock, f.Say)} // names hold herds too
	switch {
	case q.Why == diary.Lift:
		return v.lift(f, about)
	case q.Why == diary.NothingShut && f.Wait != nil:
		return []part{must(v.say("ask.nothing-shut.wait", "paddock", v.paddock(about))), must(v.waitsFor(f.Wait))}
	}
	key, fields := "ask."+string(q.Why), []any{"word", word}
	if !has(key) {
		key = "ask.unclear"
	}
	if q.Paddock != "" && has(key+".in") {
		key, fields = key+".in", []any{"word", word, "paddock", v.paddock(about)}
	}
	if word == "" && has(key+".bare") {
		key += ".bare"
	}
	parts := []part{must(v.say(key, fields...))}
	if q.Why == diary.Likely && len(q.Choices) == 1 {
		return v.likely(q, about, f)
	}
	if len(q.Choices) > 0 {
		return append(parts, v.choices(q.Choices, f)...)
	}
	return append(parts, v.askedFor(q, about)...)
}

// likely says back what was probably meant, for a letter to confirm, and how to
// text it otherwise.
func (v voice) likely(q *diary.Question, about ladder.Place, f *ladder.QuestionFacts) []part {
	facts := slices.DeleteFunc(slices.Clone(q.Choices[0].Facts), func(f diary.Fact) bool { return f.Kind == diary.Undo })
	list := strings.Join(unique(v.entries(facts, f.Place, f.Names)), "; ") // all of it: a letter writes it down
	like := v.heights(about, 9)
	if len(facts) > 0 && facts[0].Kind != diary.Reading && q.Paddock != "" && has("command."+string(facts[0].Kind)) {
		like = v.command(facts[0].Kind, about)
	}
	return []part{must(v.say("ask.likely", "list", list, "letter", "a")), v.answer("answer.else", 1, like)}
}

// lift names everything that a clear would lift, each with its day, and asks once.
func (v voice) lift(f *ladder.QuestionFacts, at ladder.Place) []part {
	var causes []string
	for _, c := range f.Causes {
		key := "lift." + strings.ReplaceAll(string(c.Why), " ", "-")
		if c.Why.Asked() {
			key = "lift.asked"
		}
		if c.Of > 0 {
			key += ".day"
		}
		causes = append(causes, v.say(key, "day", v.date(c.Day), "n", c.N, "of", c.Of))
	}
	return []part{must(v.say("ask.lift", "list", v.list(causes, "list.and"), "paddock", v.paddock(at)))}
}

// choices are lettered: a number would be a height. Each says what it writes down,
// or where that is too long what it is called.
func (v voice) choices(all []diary.Choice, f *ladder.QuestionFacts) []part {
	letters := "abcd"
	all = all[:min(len(all), len(letters))]
	items, whole := make([]string, len(all)), make([]string, len(all))
	used := make([]string, len(all))
	for i, c := range all {
		items[i] = v.say("ask.choice", "letter", letters[i:i+1], "name", v.name(c.Name))
		whole[i] = items[i]
		if len(c.Facts) > 0 && c.Facts[0].Kind.Recorded() {
			whole[i] = v.say("ask.choice", "letter", letters[i:i+1], "name", strings.Join(unique(v.entries(c.Facts, f.Place, f.Names)), "; "))
		}
		used[i] = letters[i : i+1]
	}
	parts := []part{must(v.inEach("ask.choices", "list", []string{strings.Join(whole, ", "), strings.Join(items, ", ")})...)}
	number := func(c diary.Choice) bool {
		return strings.ContainsAny(c.Name, "0123456789") && !strings.ContainsFunc(c.Name, unicode.IsLetter)
	}
	if slices.ContainsFunc(all, number) {
		return append(parts, must(v.say("answer.choice.letter", "letter", v.list(used, "list.or"))))
	}
	return append(parts, must(v.say("answer.choice")))
}

// askedFor is what to text where there is nothing to choose from.
func (v voice) askedFor(q *diary.Question, at ladder.Place) []part {
	help := v.say("command.help")
	switch nowhere := q.Paddock == ""; { // no command about a paddock that nobody meant
	case nowhere && (q.Why == diary.Negation || q.Why == diary.Plan): // not yet, tomorrow
		return []part{v.answer("answer.like", 1, v.list([]string{v.say("command.later"), help}, "list.or"))}
	case nowhere && (q.Why == diary.PartOfHerd || q.Why == diary.Unclear):
		return []part{v.answer("answer.like", 1, help)}
	}
	switch q.Why {
	case diary.Negation, diary.Plan, diary.PartOfHerd:
		return []part{v.answer("answer.when-done", 1, v.command(diary.Off, at))}
	case diary.WhichDay:
		return []part{v.answer("answer.like", 1, v.say("command.with", "command", v.command(diary.Off, at), "with", v.say("date.sample")))}
	case diary.WhichHerd:
		return []part{v.answer("answer.like", 1, v.say("command.with", "command", v.command(diary.On, at), "with", v.say("cattle")))}
	case diary.NotAllowed, diary.NothingShut, diary.TooMany, diary.TooFar, diary.Cells:
		return nil
	case diary.Suppose:
		return []part{v.answer("answer.like", 1, v.say("command.what-if", "paddock", v.typed(at)))}
	case diary.UnknownPaddock:
		return []part{v.answer("answer.names", 1, v.say("command.status"))}
	case diary.Unclear:
		return []part{v.answer("answer.like", 1, v.list([]string{v.heights(at, 9), v.command(diary.Off, at), help}, "list.or"))}
	}
	return []part{v.answer("answer.like", 1, v.heights(at, 9))}
}
