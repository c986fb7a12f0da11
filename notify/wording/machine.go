package wording

import (
	"stubbled/scheduler/ladder"
)

// farm is the farm as a text can carry it.
func (v voice) farm(fs []ladder.Facts) string {
	if n := v.name(fs[0].Farm); n != "" {
		return n
	}
	return v.say("farm.unnamed")
}

// signOfLife is short, and names no paddock.
func (v voice) signOfLife(fs []ladder.Facts) []part {
	if h := fs[0].Health; h != nil && !h.OK {
		return append([]part{must(v.say("sign-of-life.trouble", v.farm(fs)))}, v.health(h)...)
	}
	return []part{must(v.say("sign-of-life", v.farm(fs))), v.answer("answer", fs[:1], v.say("command.status"))}
}

// alarm says what fails and the mend.
func (v voice) alarm(fs []ladder.Facts) []part {
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
		rank := rankMust
		if len(parts) > 0 {
			rank = rankNames
		}
		if f.Alarm == ladder.AlarmNobodyFor || f.Alarm == ladder.AlarmUnknownSent {
			parts = append(parts, part{rank, v.withLast(v.inEach(key, v.names(fs)), rank)})
			continue
		}
		parts = append(parts, part{rank, v.withLast([]string{v.say(key)}, rank)})
	}
	return append(parts, v.unreached(fs))
}

// withLast lets a part go altogether where it is not the first.
func (v voice) withLast(forms []string, rank int) []string {
	if rank == rankMust {
		return forms
	}
	return append(forms, "")
}

func (v voice) enrolment(fs []ladder.Facts) []part {
	return []part{must(v.say("enrolment", v.farm(fs)))}
}

func (v voice) farmFileBad([]ladder.Facts) []part {
	return []part{must(v.say("farm-file-bad")), keep(rankAnswer, v.say("run-check"))}
}

// who is the other contact that a notice is about.
func (v voice) who(f ladder.Facts) string {
	if n := v.name(f.Who); n != "" {
		return n
	}
	return v.say("somebody")
}

func (v voice) stopTold(fs []ladder.Facts) []part {
	names := make([]string, len(fs))
	for i, f := range fs {
		names[i] = v.who(f)
	}
	return []part{keep(rankNames, v.inEach("stop-told", v.shortening(unique(names), ", "))...),
		may(rankDetail, v.say("stop-told.why"))}
}

func (v voice) contactsGone(fs []ladder.Facts) []part {
	var names []string
	for _, f := range fs {
		names = append(names, f.Missing...)
	}
	if names = v.people(names); len(names) == 0 {
		names = []string{v.say("somebody")}
	}
	parts := []part{keep(rankNames, v.inEach("not-reached", v.shortening(names, ", "))...)}
	if every(fs, func(f ladder.Facts) bool { return f.Name != "" || f.Paddock != "" }) {
		parts = append(parts, may(rankWhen, v.inEach("not-reached.about", v.names(fs))...))
	}
	return parts
}

// help fits one segment with the longest names.
func (v voice) help(fs []ladder.Facts) []part {
	f := fs[0]
	return []part{may(rankRemark, v.say("help.farm", v.farm(fs))), must(v.say("help", v.heights(f, 9), v.typed(f))),
		may(rankDetail, v.say("help.more", v.typed(f))), must(v.say("help.stop"))}
}

// stopped is the one confirmation of an opt-out.
func (v voice) stopped(fs []ladder.Facts) []part {
	parts := []part{must(v.say("stopped", v.farm(fs)))}
	if fs[0].Alarm == ladder.AlarmNobodyLeft {
		parts = append(parts, must(v.say("stopped.nobody-left")))
	}
	return append(parts, must(v.say("stopped.back")))
}

func (v voice) started(fs []ladder.Facts) []part {
	return []part{must(v.say("started", v.farm(fs))), must(v.say("started.how"))}
}
