package wording

import (
	"strings"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// shuts is the day that a paddock shuts, with its weekday.
func (v voice) shuts(f ladder.Facts) string {
	if f.Cutoff.IsZero() && !f.OutBy.IsZero() {
		return v.weekday(f.OutBy)
	}
	return v.weekday(f.Cutoff)
}

// givenBack reports whether the ground has no rest of its own: it only has to
// be given back.
func givenBack(f ladder.Facts) bool { return f.Cold }

// ground picks the phrase for ground that only has to be given back.
func ground(fs []ladder.Facts, key string) string {
	if every(fs, givenBack) {
		return key + ".back"
	}
	return key
}

func (v voice) headsUp(fs []ladder.Facts) []part {
	a := v.about(fs, v.shuts)
	first := v.sentence(a, ground(fs, "heads-up"), max(0, fs[0].Days), a.tag)
	if a.many && a.tag == "" {
		first = keep(rankNames, v.inEach("heads-up.each", a.forms)...)
	}
	return together(v.opening(fs), []part{
		first, v.leave(fs, rankWhen), v.lastRead(fs), may(rankRemark, v.say("how-to-read")),
		v.heightOrEmpty(fs),
	})
}

// leave says what height to leave: once where all of a bundle leave the same.
func (v voice) leave(fs []ladder.Facts, rank int) part {
	if l := same(fs, func(f ladder.Facts) float64 { return f.Leave }); l > 0 {
		return may(rank, v.say("leave", v.length(l)))
	}
	if len(fs) > 4 { // too many to say one by one
		return part{}
	}
	var each []string
	for _, f := range fs {
		if f.Leave > 0 {
			each = append(each, v.say("named-day", v.paddock(f), v.length(f.Leave)))
		}
	}
	if len(each) == 0 {
		return part{}
	}
	return may(rank, v.say("leave.each", strings.Join(each, ", ")))
}

// lastRead tells the latest reading of a single paddock.
func (v voice) lastRead(fs []ladder.Facts) part {
	if h := fs[0].Height; len(fs) == 1 && h != nil && h.Mean > 0 {
		return may(rankDetail, v.say("last-read", v.withUnit(v.against(h.Mean, fs[0].Leave)), v.date(h.Day)))
	}
	return part{}
}

// heightOrEmpty asks for a height, and where nobody knows, whether it is empty.
func (v voice) heightOrEmpty(fs []ladder.Facts) part {
	read := v.heights(fs[0], fs[0].Leave+1)
	if len(fs) == 1 && fs[0].Unknown {
		return keep(rankAnswer, v.say("answer.or-empty", read, v.command(diary.Off, fs[0])), v.say("answer", read))
	}
	return v.answer("answer", fs, read)
}

func (v voice) lastLook(fs []ladder.Facts) []part {
	if len(fs) == 1 && fs[0].Verdict != nil && fs[0].Verdict.Action == season.TakeOff {
		return v.lookShort(fs)
	}
	a := v.about(fs, v.shuts)
	first := v.sentence(a, ground(fs, "last-look"), max(0, fs[0].Days), a.tag)
	if a.many && a.tag == "" {
		first = keep(rankNames, v.inEach("last-look.each", a.forms)...)
	}
	return together(v.opening(fs), []part{first, v.known(fs), v.leave(fs, rankDetail), v.pass(fs[0].Pass), v.heightOrEmpty(fs)})
}

// lookShort is the last look at a paddock that is eaten down already.
func (v voice) lookShort(fs []ladder.Facts) []part {
	f := fs[0]
	parts := append(v.opening(fs), must(v.say("last-look.off", v.paddock(f))))
	if f.Height != nil {
		parts = append(parts, may(rankWhen, v.say("reading.leave",
			v.withUnit(v.against(f.Height.Mean, f.Leave)), v.date(f.Height.Day), v.bare(f.Leave))))
	}
	return append(parts,
		may(rankWhen, v.say("shuts-on", v.shuts(f))),
		v.moveTo(fs, rankDetail),
		v.answer("answer.off", fs, v.command(diary.Off, f)))
}

// known says what is known of the grass of a single paddock, or that nothing is.
func (v voice) known(fs []ladder.Facts) part {
	if len(fs) > 1 {
		return part{}
	}
	f := fs[0]
	if f.Height == nil || f.Height.Mean <= 0 {
		return may(rankDetail, v.say("never-read"))
	}
	height := v.withUnit(v.against(f.Height.Mean, f.Leave))
	short := v.say("last-read", height, v.date(f.Height.Day))
	if f.Verdict != nil {
		if n, ok := daysOfGrass(f.Verdict.Days); ok && n > 0 {
			return may(rankWhen, v.say("last-read.days", height, v.date(f.Height.Day), n), short)
		}
	}
	return may(rankWhen, short)
}

func (v voice) movePlan(fs []ladder.Facts) []part {
	a := v.about(fs, v.shuts)
	key := ground(fs, "move-plan")
	if anyOf(fs, func(f ladder.Facts) bool { return f.Unknown }) && !a.many {
		key += ".unknown"
	}
	first := v.sentence(a, key, a.tag)
	if a.many && a.tag == "" {
		first = keep(rankNames, v.inEach("move-plan.each", a.forms)...)
	}
	days := part{}
	if d := same(fs, func(f ladder.Facts) int { return f.Days }); d > 0 && !fs[0].Repeat {
		days = may(rankDetail, v.say("days-left", d))
	}
	return together(v.again(fs), v.opening(fs), []part{first, days, v.placeToGo(fs), v.nobodyAnswered(fs),
		v.leave(fs, rankRemark), v.unreached(fs), v.answer("answer.off", fs, v.command(diary.Off, fs[0]))})
}

// placeToGo is where the herd goes, or that no paddock on file can take it.
func (v voice) placeToGo(fs []ladder.Facts) part {
	if len(fs[0].MoveTo) == 0 && !fs[0].Unknown {
		return may(rankWhen, v.say("nowhere"))
	}
	return v.moveTo(fs, rankWhen)
}

func repeated(f ladder.Facts) bool { return f.Repeat }

// again opens what is said a second time.
func (v voice) again(fs []ladder.Facts) []part {
	if every(fs, repeated) {
		return []part{must(v.say("again"))}
	}
	return nil
}

func (v voice) nobodyAnswered(fs []ladder.Facts) part {
	if every(fs, repeated) {
		return may(rankRemark, v.say("nobody-answered"))
	}
	return part{}
}

func (v voice) shutToday(fs []ladder.Facts) []part {
	key := ground(fs, "shut-today")
	if every(fs, func(f ladder.Facts) bool { return f.Unknown }) {
		key += ".unknown"
	}
	parts := together(v.again(fs), v.opening(fs), []part{v.sentence(v.about(fs, nil), key),
		v.moveTo(fs, rankWhen), v.nobodyAnswered(fs)})
	if f := fs[0]; !f.Repeat && f.DaysToFrost > 0 && !givenBack(f) {
		parts = append(parts, may(rankRemark, v.say("rest-runs", f.DaysToFrost, v.date(f.Frost))))
	}
	return append(parts, v.unreached(fs), v.answer("answer.off", fs, v.command(diary.Off, fs[0])))
}

func (v voice) overdue(fs []ladder.Facts) []part {
	f := fs[0]
	why := part{}
	if !every(fs, givenBack) {
		why = may(rankDetail, v.say("root-reserve"))
		if n := same(fs, func(f ladder.Facts) int { return f.DaysToFrost }); n > 0 {
			why = may(rankDetail, v.say("root-reserve.left", n), v.say("root-reserve"))
		}
	}
	putOff := part{}
	if f.Who != "" {
		putOff = may(rankDetail, v.say("put-off-by", v.who(f)))
	}
	return append(together(v.opening(fs), v.stillGrazed(fs)), why, putOff, v.moveTo(fs, rankRemark), v.unreached(fs),
		v.answer("answer.off", fs, v.command(diary.Off, f)))
}

// stillGrazed says who is late and by how much.
func (v voice) stillGrazed(fs []ladder.Facts) []part {
	f := fs[0]
	day := max(1, f.RestDay)
	if len(fs) > 1 {
		a := v.about(fs, func(f ladder.Facts) string { return v.lateTag(f) })
		if a.tag != "" && every(fs, func(f ladder.Facts) bool { return f.Unknown }) {
			return []part{keep(rankNames, v.inEach("overdue.unsure", a.forms, day)...), must(v.say("overdue.do.unsure"))}
		}
		if a.tag != "" {
			return []part{keep(rankNames, v.inEach("overdue.same", a.forms, a.tag)...), must(v.say("overdue.do.many"))}
		}
		return []part{keep(rankNames, v.inEach("overdue.each", a.forms)...), must(v.say("overdue.do.many"))}
	}
	key := "overdue"
	switch {
	case f.BackIn:
		key = "overdue.back-in"
	case f.Unknown:
		key = "overdue.unknown"
	case givenBack(f):
		key = "overdue.back"
	}
	return []part{must(v.say(key, v.paddock(f), day))}
}

func (v voice) lateTag(f ladder.Facts) string {
	if f.Unknown {
		return v.say("late.unsure", max(1, f.RestDay))
	}
	return v.say("late", max(1, f.RestDay))
}

func (v voice) keepShut(fs []ladder.Facts) []part {
	a := v.about(fs, v.shuts)
	days := same(fs, func(f ladder.Facts) int { return f.Days })
	first := v.sentence(a, ground(fs, "keep-shut.today"))
	switch {
	case a.many && a.tag == "":
		first = keep(rankNames, v.inEach("keep-shut.each", a.forms)...)
	case days > 0:
		first = v.sentence(a, ground(fs, "keep-shut"), days, a.tag)
	case restDayOf(fs[0]) > 0 && !fs[0].Frost.IsZero():
		first = v.sentence(a, "keep-shut.resting", v.date(fs[0].Frost))
	}
	parts := append(v.opening(fs), first, v.lastRead(fs))
	if days <= 0 && !every(fs, givenBack) {
		parts = append(parts, may(rankRemark, v.say("rest-until")))
	}
	return append(parts, v.answer("answer.on", fs, v.command(diary.On, fs[0])))
}
