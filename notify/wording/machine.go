package wording

import (
	"cmp"

	"stubbled/scheduler/ladder"
)

var farmSpeakers = map[ladder.Kind]speaker{
	ladder.SignOfLife:  says(voice.signOfLife),
	ladder.Alarm:       says(voice.alarm),
	ladder.Enrolment:   says(phrases[*ladder.PersonFacts]("enrolment")),
	ladder.FarmFileBad: says(voice.farmFileBad),
	ladder.StopTold:    says(voice.stopTold),
	ladder.AnswerHelp:  saysLong(voice.help, inFull),
	ladder.AnswerStop:  says(voice.stopped),
	ladder.AnswerStart: says(phrases[*ladder.AnswerFacts]("started", "started.how")),
	ladder.AnswerWaits: says(phrases[*ladder.AnswerFacts]("waits", "waits.how")),
}

// farm is the farm as a text can carry it.
func (v voice) farm(f ladder.Facts) string {
	return cmp.Or(v.name(f.About().Farm), v.say("farm.unnamed"))
}

// signOfLife is short, and names no paddock.
func (v voice) signOfLife(fs []*ladder.FarmFacts) []part {
	if h := fs[0].Health; h != nil && !h.OK {
		return append([]part{must(v.say("sign-of-life.trouble", "farm", v.farm(fs[0])))}, v.health(h)...)
	}
	return []part{must(v.say("sign-of-life", "farm", v.farm(fs[0]))), v.answer("answer", 1, v.say("command.status"))}
}

// alarm says what fails and the mend.
func (v voice) alarm(fs []*ladder.AlarmFacts) []part {
	var parts []part
	seen := map[string]bool{}
	for _, f := range fs {
		if seen[f.Alarm] {
			continue
		}
		seen[f.Alarm] = true
		key := "alarm." + f.Alarm
		if !has(key) {
			key = "alarm"
		}
		said := v.say(key, "who", v.who(f.Detail))
		if len(parts) > 0 {
			parts = append(parts, may(rankNames, said))
			continue
		}
		parts = append(parts, must(said))
	}
	return parts
}

func (v voice) farmFileBad([]*ladder.AlarmFacts) []part {
	return []part{must(v.say("farm-file-bad")), keep(rankAnswer, v.say("run-check"))}
}

// who is the other contact that a notice is about.
func (v voice) who(name string) string {
	return cmp.Or(v.name(name), v.say("somebody"))
}

func (v voice) stopTold(fs []*ladder.PersonFacts) []part {
	names := each(fs, func(f *ladder.PersonFacts) string { return v.who(f.Who) })
	return []part{keep(rankNames, v.inEach("stop-told", "list", v.shortening(unique(names), ", "))...),
		may(rankDetail, v.say("stop-told.why"))}
}

// help says the three words that are used most first, then what can be asked and told.
func (v voice) help(fs []*ladder.AnswerFacts) []part {
	f := fs[0]
	return []part{may(rankRemark, v.say("help.farm", "farm", v.farm(fs[0]))), must(v.say("help", "heights", v.heights(f.Place, 9), "paddock", v.typed(f.Place))),
		must(v.say("help.ask", "paddock", v.typed(f.Place), "supposing", v.say("command.what-if", "paddock", v.typed(f.Place)))),
		may(rankDetail, v.say("help.more", "paddock", v.typed(f.Place))), must(v.say("help.stop"))}
}

// stopped is the one confirmation of an opt-out.
func (v voice) stopped(fs []*ladder.AnswerFacts) []part {
	keys := []string{"stopped", "stopped.back"}
	switch f := fs[0]; {
	case f.Stop == ladder.StopUnproved:
		keys = []string{"stopped.unproved", "stopped.unproved.why"}
	case f.Stop == ladder.StopMail:
		keys = []string{"stopped.by-mail", "stopped.by-mail.how"}
	case f.Alarm == ladder.AlarmNobodyLeft:
		keys = []string{"stopped", "stopped.nobody-left", "stopped.back"}
	}
	return phrases[*ladder.AnswerFacts](keys...)(v, fs)
}

// phrases are said one after the other whatever the facts are; they may name the
// farm.
func phrases[T ladder.Facts](keys ...string) func(voice, []T) []part {
	return func(v voice, fs []T) (parts []part) {
		for _, key := range keys {
			parts = append(parts, must(v.say(key, "farm", v.farm(fs[0]))))
		}
		return parts
	}
}
