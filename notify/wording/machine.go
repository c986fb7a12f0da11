package wording

import (
	"stubbled/scheduler/ladder"
)

var farmSpeakers = map[ladder.Kind]speaker{
	ladder.SignOfLife:  says(voice.signOfLife),
	ladder.Alarm:       says(voice.alarm),
	ladder.Enrolment:   says(voice.enrolment),
	ladder.FarmFileBad: says(voice.farmFileBad),
	ladder.StopTold:    says(voice.stopTold),
	ladder.AnswerHelp:  says(voice.help),
	ladder.AnswerStop:  says(voice.stopped),
	ladder.AnswerStart: says(voice.started),
	ladder.AnswerWaits: says(voice.waits),
}

// farm is the farm as a text can carry it.
func (v voice) farm(f ladder.Facts) string {
	if n := v.name(f.About().Farm); n != "" {
		return n
	}
	return v.say("farm.unnamed")
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

func (v voice) enrolment(fs []*ladder.PersonFacts) []part {
	return []part{must(v.say("enrolment", "farm", v.farm(fs[0])))}
}

func (v voice) farmFileBad([]*ladder.AlarmFacts) []part {
	return []part{must(v.say("farm-file-bad")), keep(rankAnswer, v.say("run-check"))}
}

// who is the other contact that a notice is about.
func (v voice) who(name string) string {
	if n := v.name(name); n != "" {
		return n
	}
	return v.say("somebody")
}

func (v voice) stopTold(fs []*ladder.PersonFacts) []part {
	names := make([]string, len(fs))
	for i, f := range fs {
		names[i] = v.who(f.Who)
	}
	return []part{keep(rankNames, v.inEach("stop-told", "list", v.shortening(unique(names), ", "))...),
		may(rankDetail, v.say("stop-told.why"))}
}

// help fits one segment with the longest names.
func (v voice) help(fs []*ladder.AnswerFacts) []part {
	f := fs[0]
	return []part{may(rankRemark, v.say("help.farm", "farm", v.farm(fs[0]))), must(v.say("help", "heights", v.heights(f.Place, 9), "paddock", v.typed(f.Place))),
		may(rankDetail, v.say("help.more", "paddock", v.typed(f.Place))), must(v.say("help.stop"))}
}

// stopped is the one confirmation of an opt-out.
func (v voice) stopped(fs []*ladder.AnswerFacts) []part {
	switch fs[0].Stop {
	case ladder.StopUnproved:
		return []part{must(v.say("stopped.unproved", "farm", v.farm(fs[0]))), must(v.say("stopped.unproved.why"))}
	case ladder.StopMail:
		return []part{must(v.say("stopped.by-mail", "farm", v.farm(fs[0]))), must(v.say("stopped.by-mail.how"))}
	}
	parts := []part{must(v.say("stopped", "farm", v.farm(fs[0])))}
	if fs[0].Alarm == ladder.AlarmNobodyLeft {
		parts = append(parts, must(v.say("stopped.nobody-left")))
	}
	return append(parts, must(v.say("stopped.back")))
}

func (v voice) waits(fs []*ladder.AnswerFacts) []part {
	return []part{must(v.say("waits", "farm", v.farm(fs[0]))), must(v.say("waits.how"))}
}

func (v voice) started(fs []*ladder.AnswerFacts) []part {
	return []part{must(v.say("started", "farm", v.farm(fs[0]))), must(v.say("started.how"))}
}
