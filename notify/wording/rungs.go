package wording

import (
	"slices"
	"strings"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

var rungSpeakers = map[ladder.Kind]speaker{
	ladder.HeadsUp:   says(voice.headsUp),
	ladder.LastLook:  says(voice.lastLook),
	ladder.MovePlan:  says(voice.movePlan),
	ladder.ShutToday: says(voice.shutToday),
	ladder.Overdue:   says(voice.overdue),
	ladder.KeepShut:  says(voice.keepShut),
}

// shuts is the day that a paddock shuts, with its weekday.
func (v voice) shuts(f *ladder.PaddockFacts) string {
	if f.Cutoff.IsZero() && !f.OutBy.IsZero() {
		return v.weekday(f.OutBy)
	}
	return v.weekday(f.Cutoff)
}

// givenBack reports whether the ground has no rest of its own: it only has to
// be given back.
func givenBack(f *ladder.PaddockFacts) bool { return f.NoRest }

// ground picks the phrase for ground that only has to be given back.
func ground(fs []*ladder.PaddockFacts, key string) string {
	if every(fs, givenBack) {
		return key + ".back"
	}
	return key
}

func (v voice) headsUp(fs []*ladder.RungFacts) []part {
	in := paddocks(fs)
	a := v.about(in, v.shuts)
	return slices.Concat(v.opening(in), []part{
		v.sentenceEach(a, "heads-up", ground(in, "heads-up"), "days", max(0, fs[0].Days), "day", a.tag),
		v.leave(in, rankWhen), v.lastRead(in), may(rankRemark, v.say("how-to-read")),
		v.heightOrEmpty(in),
	})
}

// leave says what height to leave: once where all of a bundle leave the same.
func (v voice) leave(fs []*ladder.PaddockFacts, rank int) part {
	if l := same(fs, func(f *ladder.PaddockFacts) float64 { return f.Leave }); l > 0 {
		return may(rank, v.say("leave", "height", v.length(l)))
	}
	if len(fs) > 4 { // too many to say one by one
		return part{}
	}
	var each []string
	for _, f := range fs {
		if f.Leave > 0 {
			each = append(each, v.say("named-day", "name", v.paddock(f.Place), "with", v.length(f.Leave)))
		}
	}
	if len(each) == 0 {
		return part{}
	}
	return may(rank, v.say("leave.each", "list", strings.Join(each, ", ")))
}

// lastRead tells the latest reading of a single paddock.
func (v voice) lastRead(fs []*ladder.PaddockFacts) part {
	if h := fs[0].Height; len(fs) == 1 && h != nil && h.Mean > 0 {
		return may(rankDetail, v.say("last-read", "height", v.withUnit(v.against(h.Mean, fs[0].Leave)), "day", v.date(h.Day)))
	}
	return part{}
}

// heightOrEmpty asks for a height, and where nobody knows, whether it is empty.
func (v voice) heightOrEmpty(fs []*ladder.PaddockFacts) part {
	read := v.heights(fs[0].Place, fs[0].Leave+1)
	if len(fs) == 1 && fs[0].Unknown {
		return keep(rankAnswer, v.say("answer.or-empty", "height", read, "off", v.command(diary.Off, fs[0].Place)), v.say("answer", "text", read))
	}
	return v.answer("answer", len(fs), read)
}

func (v voice) lastLook(fs []*ladder.RungFacts) []part {
	in := paddocks(fs)
	if len(fs) == 1 && fs[0].Verdict != nil && fs[0].Verdict.Action == season.TakeOff {
		return v.lookShort(in[0])
	}
	a := v.about(in, v.shuts)
	first := v.sentenceEach(a, "last-look", ground(in, "last-look"), "days", max(0, fs[0].Days), "day", a.tag)
	known := part{}
	if len(fs) == 1 {
		known = v.known(in[0], fs[0].Verdict)
	}
	return slices.Concat(v.opening(in), []part{first, known, v.leave(in, rankDetail), v.pass(fs[0].Pass, fs[0].Changed), v.heightOrEmpty(in)})
}

// lookShort is the last look at a paddock that is eaten down already.
func (v voice) lookShort(f *ladder.PaddockFacts) []part {
	in := []*ladder.PaddockFacts{f}
	parts := append(v.opening(in), must(v.say("last-look.off", "paddock", v.paddock(f.Place))))
	if f.Height != nil {
		parts = append(parts, may(rankWhen, v.say("reading.leave",
			"height", v.withUnit(v.against(f.Height.Mean, f.Leave)), "day", v.date(f.Height.Day), "leave", v.bare(f.Leave))))
	}
	return append(parts,
		may(rankWhen, v.say("shuts-on", "day", v.shuts(f))),
		v.moveTo(in, rankDetail),
		v.answer("answer.off", 1, v.command(diary.Off, f.Place)))
}

// known says what is known of the grass of a paddock, or that nothing is.
func (v voice) known(f *ladder.PaddockFacts, d *season.Verdict) part {
	if f.Height == nil || f.Height.Mean <= 0 {
		return may(rankDetail, v.say("never-read"))
	}
	height := v.withUnit(v.against(f.Height.Mean, f.Leave))
	short := v.say("last-read", "height", height, "day", v.date(f.Height.Day))
	if d != nil {
		if n, ok := daysOfGrass(d.Days); ok && n > 0 {
			return may(rankWhen, v.say("last-read.days", "height", height, "day", v.date(f.Height.Day), "days", n), short)
		}
	}
	return may(rankWhen, short)
}

func (v voice) movePlan(fs []*ladder.RungFacts) []part {
	in := paddocks(fs)
	a := v.about(in, v.shuts)
	key := ground(in, "move-plan")
	if !a.many && fs[0].Unknown {
		key += ".unknown"
	}
	first := v.sentenceEach(a, "move-plan", key, "day", a.tag)
	days := same(in, func(f *ladder.PaddockFacts) int { return f.Days })
	return slices.Concat(v.again(fs), v.opening(in), []part{first, when(days > 0 && !fs[0].Repeat, may(rankDetail, v.say("days-left", "days", days))), v.placeOr(in, "nowhere"), v.nobodyAnswered(fs),
		v.leave(in, rankRemark), v.unreached(gathered(fs, func(f *ladder.RungFacts) []string { return f.Missing })), v.answer("answer.off", len(fs), v.command(diary.Off, fs[0].Place))})
}

// placeOr is where the herd goes, or what to do where no paddock on file can take it.
func (v voice) placeOr(fs []*ladder.PaddockFacts, nowhere string) part {
	if len(fs[0].MoveTo) == 0 && !fs[0].Unknown {
		return may(rankWhen, v.say(nowhere))
	}
	return v.moveTo(fs, rankWhen)
}

func repeated(f *ladder.RungFacts) bool { return f.Repeat }

// again opens what is said a second time.
func (v voice) again(fs []*ladder.RungFacts) []part {
	if every(fs, repeated) {
		return []part{must(v.say("again"))}
	}
	return nil
}

func (v voice) nobodyAnswered(fs []*ladder.RungFacts) part {
	return when(every(fs, repeated), may(rankRemark, v.say("nobody-answered")))
}

func (v voice) shutToday(fs []*ladder.RungFacts) []part {
	in := paddocks(fs)
	key := ground(in, "shut-today")
	if every(in, func(f *ladder.PaddockFacts) bool { return f.Unknown }) {
		key += ".unknown"
	}
	parts := slices.Concat(v.again(fs), v.opening(in), []part{v.sentence(v.about(in, nil), key),
		v.moveTo(in, rankWhen), v.nobodyAnswered(fs)})
	f := fs[0]
	return append(parts, when(!f.Repeat && f.DaysToFrost > 0 && !f.NoRest, may(rankRemark, v.say("rest-runs", "days", f.DaysToFrost, "day", v.date(f.Frost)))),
		v.unreached(gathered(fs, func(f *ladder.RungFacts) []string { return f.Missing })), v.answer("answer.off", len(fs), v.command(diary.Off, fs[0].Place)))
}

func (v voice) overdue(fs []*ladder.OverdueFacts) []part {
	return v.overdueTo(fs, v.placeOr(paddocks(fs), "move-to.hay"))
}

// What is said of a rest that runs out: the days that make one, and from how many days
// before them on that is what is said.
const (
	restMade   = 30 // real rest under this fails (assumption)
	restNearly = 37
)

// costs is what each day costs that a rest is still grazed; once frost is due nothing
// is lost any more.
func (v voice) costs(fs []*ladder.OverdueFacts) part {
	in := paddocks(fs)
	ahead := func(f *ladder.PaddockFacts) bool {
		return f.Frost.IsZero() || f.Frost.DaysSince(f.Cutoff) > max(-f.Days, fs[0].RestDay)
	}
	if every(in, givenBack) || !every(in, ahead) {
		return part{}
	}
	switch n := same(in, func(f *ladder.PaddockFacts) int { return f.DaysToFrost }); {
	case n > restNearly:
		return may(rankDetail, v.say("root-reserve.left", "days", n), v.say("root-reserve"))
	case n > 0:
		return may(rankDetail, v.say("rest-fails.left", "days", n, "rest", restMade), v.say("rest-fails", "rest", restMade))
	}
	return may(rankDetail, v.say("root-reserve"))
}

// overdueTo says it with the place where they can go.
func (v voice) overdueTo(fs []*ladder.OverdueFacts, to part) []part {
	in := paddocks(fs)
	f := fs[0]
	putOff := when(f.Who != "", may(rankDetail, v.say("put-off-by", "who", v.who(f.Who))))
	return append(slices.Concat(v.opening(in), v.stillGrazed(fs)), to, v.costs(fs), putOff, v.unreached(gathered(fs, func(f *ladder.OverdueFacts) []string { return f.Missing })),
		v.answer("answer.off", len(fs), v.command(diary.Off, f.Place)))
}

// stillGrazed says who is late and by how much.
func (v voice) stillGrazed(fs []*ladder.OverdueFacts) []part {
	f := fs[0]
	day := max(1, f.RestDay)
	if len(fs) > 1 {
		a := v.aboutEach(places(fs), each(fs, v.lateTag))
		if a.tag != "" && every(fs, func(f *ladder.OverdueFacts) bool { return f.Unknown }) {
			return []part{keep(rankNames, v.inEach("overdue.unsure", "paddock", a.forms, "n", day)...), must(v.say("overdue.do.unsure"))}
		}
		if a.tag != "" {
			return []part{keep(rankNames, v.inEach("overdue.same", "paddock", a.forms, "late", a.tag)...), must(v.say("overdue.do.many"))}
		}
		return []part{keep(rankNames, v.inEach("overdue.each", "paddock", a.forms)...), must(v.say("overdue.do.many"))}
	}
	key := "overdue"
	switch {
	case f.Unknown: // who was back in was seen elsewhere since
		key = "overdue.unknown"
	case f.BackIn:
		key = "overdue.back-in"
	case f.NoRest:
		key = "overdue.back"
	}
	return []part{must(v.say(key, "paddock", v.paddock(f.Place), "n", day))}
}

func (v voice) lateTag(f *ladder.OverdueFacts) string {
	if f.Unknown {
		return v.say("late.unsure", "n", max(1, f.RestDay))
	}
	return v.say("late", "n", max(1, f.RestDay))
}

func (v voice) keepShut(fs []*ladder.RungFacts) []part {
	in := paddocks(fs)
	a := v.about(in, v.shuts)
	days := same(in, func(f *ladder.PaddockFacts) int { return f.Days })
	first := v.sentence(a, ground(in, "keep-shut.today"))
	resting := every(in, func(f *ladder.PaddockFacts) bool { return f.Days <= 0 && !f.Frost.IsZero() }) &&
		!every(in, func(f *ladder.PaddockFacts) bool { return restDayOf(f) == 0 })
	if resting {
		a = v.about(in, func(f *ladder.PaddockFacts) string { return v.date(f.Frost) })
	}
	switch {
	case resting:
		first = v.sentenceEach(a, "keep-shut.resting", "keep-shut.resting", "day", a.tag)
	case a.many && a.tag == "":
		first = keep(rankNames, v.inEach("keep-shut.each", "paddock", a.forms)...)
	case days > 0:
		first = v.sentence(a, ground(in, "keep-shut"), "days", days, "day", a.tag)
	}
	parts := append(v.opening(in), first, v.lastRead(in), when(days <= 0 && !resting && !every(in, givenBack), may(rankRemark, v.say("rest-until"))))
	if read := slices.IndexFunc(fs, func(f *ladder.RungFacts) bool { return f.Read }); read >= 0 {
		parts = append(parts, v.answer("answer.height", len(fs), v.heights(fs[read].Place, fs[read].Leave+1)))
	}
	return append(parts, v.answer("answer.on", len(fs), v.command(diary.On, fs[0].Place)))
}

// restDayOf is how many days it has rested: since the cutoff, or since the animals
// left after it; 0 where that is not known.
func restDayOf(f *ladder.PaddockFacts) int {
	return max(0, -f.Days-f.Left)
}
