package wording

import (
	"cmp"
	"strconv"
	"strings"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

var fallSpeakers = map[ladder.Kind]speaker{
	ladder.FallAhead:     saysLong(voice.fallAhead, inFull),
	ladder.AnswerAsked:   saysLong(voice.askedOf, supposedLong),
	ladder.FallUseStarts: says(voice.fallUseStarts),
	ladder.FallUseAsk:    says(voice.fallUseAsk),
	ladder.FallUseOut:    says(voice.fallUseOut),
	ladder.AskHeight:     says(voice.askHeight),
	ladder.SeasonResult:  says(voice.seasonResult),
	ladder.LessonsMail:   saysLong(voice.seasonResult, inFull),
	ladder.CutoffMoved:   says(voice.cutoffMoved),
}

// fallAhead is the farm's fall at a glance: feed first, while there is time to
// sell, wean or buy hay.
func (v voice) fallAhead(fs []*ladder.FarmFacts) []part {
	f := fs[0]
	parts := append(v.planFall(f.Feed), v.shutting(f.Shuts)...)
	return append(parts, when(f.Days > 0, may(rankDetail, v.say("fall-ahead.days", "days", f.Days))), keep(rankAnswer, v.say("answer", "text", v.say("command.status"))))
}

// askedOf answers what was asked of the farm.
func (v voice) askedOf(fs []*ladder.AskedFacts) (parts []part) {
	f := fs[0]
	var what diary.Fact
	if len(f.Recorded) > 0 {
		what = f.Recorded[0]
	}
	switch about := what.Kind; {
	case f.Supposed != nil && about == diary.HowLow:
		return v.low(f, what)
	case f.Supposed != nil:
		return v.supposed(f, what)
	case about == diary.FeedLasts && f.Feed != nil && f.Feed.Winter != nil && !f.Feed.Winter.From.After(f.Day):
		return v.ledger(f.Feed)
	case about == diary.FeedLasts:
		return v.feed(f.Feed)
	case about == diary.When && f.Frost.IsZero():
		return []part{must(v.say("asked.no-frost"))}
	case about == diary.When:
		return append([]part{must(v.say("asked.frost", "day", v.date(f.Frost)))}, v.shutting(f.Shuts)...)
	case len(f.Pass) == 0:
		return []part{must(v.say("asked.none"))}
	}
	who := func(s ladder.Stop) string { return strings.Join(v.herds(s.Herds), ", ") }
	for _, some := range groups(f.Pass, who) {
		parts = append(parts, keep(rankNames, v.inEach("asked.next", "list", v.shortening(each(some, v.stop), ", "), "herds", who(some[0]))...))
	}
	for _, line := range v.careOf(f.Pass) {
		parts = append(parts, keep(rankAnswer, line, v.say("care.vet")))
	}
	for _, line := range v.changes(f.Changed) {
		parts = append(parts, keep(rankAnswer, line))
	}
	return parts
}

// shutting names each paddock that will shut with its cutoff.
func (v voice) shutting(shuts []ladder.Shut) []part {
	shuts = only(shuts, func(s ladder.Shut) bool { return !s.Cutoff.IsZero() && !s.FallUse })
	if len(shuts) == 0 {
		return nil
	}
	items := each(shuts, func(s ladder.Shut) string {
		return v.say("named-day", "name", v.paddock(s.Place), "with", v.date(s.Cutoff))
	})
	return []part{keep(rankNames, v.inEach("fall-ahead.shuts", "list", v.shortening(items, ", "))...)}
}

func (v voice) fallUseStarts(fs []*ladder.FallUseFacts) []part {
	return v.fallUse(fs, "fall-use-starts", may(rankWhen, v.say("fall-use.how-often")), part{})
}

func (v voice) fallUseAsk(fs []*ladder.FallUseFacts) []part {
	return v.fallUse(fs, "fall-use-ask", v.lastRead(paddocks(fs)), may(rankRemark, v.say("how-to-read")))
}

func (v voice) fallUse(fs []*ladder.FallUseFacts, key string, more ...part) []part {
	in := paddocks(fs)
	a := v.about(in, v.mustStand)
	first := v.sentenceEach(a, key, key, "height", a.tag)
	parts := append(v.opening(in), first)
	parts = append(parts, more...)
	return append(parts, v.answer("answer", len(fs), v.heights(fs[0].Place, fs[0].Target+1)))
}

func (v voice) fallUseOut(fs []*ladder.FallUseFacts) []part {
	in := paddocks(fs)
	a := v.about(in, v.mustStand)
	stand := part{}
	if a.tag != "" {
		stand = may(rankWhen, v.say("must-stand", "height", a.tag))
	}
	them := about{forms: v.names(places(fs)), many: a.many}
	tooOld := func(f *ladder.FallUseFacts) bool { return f.Verdict != nil && f.Verdict.Action == season.ReadIt }
	if every(fs, tooOld) { // nothing is taken off by such a reading
		return append(v.opening(in), v.sentence(them, "fall-use-walk"), stand, v.lastRead(in), v.answer("answer", len(fs), v.heights(fs[0].Place, fs[0].Target+1)))
	}
	return append(v.opening(in), v.sentence(them, "fall-use-out"), stand,
		v.lastRead(in), v.moveTo(in, rankDetail),
		v.answer("answer.off", len(fs), v.command(diary.Off, fs[0].Place)))
}

func (v voice) askHeight(fs []*ladder.HeightFacts) []part {
	in := paddocks(fs)
	when := same(fs, func(f *ladder.HeightFacts) string { return f.When })
	key := "ask-height." + when
	if !has(key) {
		key = "ask-height"
	}
	f := fs[0]
	near := f.Leave + 1
	if when == "mid-rest" || when == "end" {
		near = max(near, f.Target)
	}
	return []part{v.sentence(v.about(in, nil), key), v.lastRead(in), may(rankRemark, v.say("how-to-read.many")),
		v.answer("answer", len(fs), v.heights(f.Place, near))}
}

func (v voice) seasonResult(fs []*ladder.EndFacts) []part {
	if len(fs) > 1 {
		return v.results(fs)
	}
	f, r := fs[0], cmp.Or(fs[0].Result, &ladder.Result{})
	if r.End <= 0 {
		return []part{must(v.say("result.unread", "paddock", v.paddock(f.Place), "year", v.year(r.Year)))}
	}
	parts := v.cures(v.paddock(f.Place), r)
	parts = append(parts, v.price(r.Lesson)...)
	key := "result.short"
	switch {
	case len(parts) > 0: // the cure has named the paddock
		key = "result.then"
	case r.Met:
		key = "result.met"
	}
	made := []string{v.say(key, "paddock", v.paddock(f.Place), "year", v.year(r.Year), "height", v.length(r.End), "wanted", v.bare(r.Target))}
	rank := rankMust
	if key == "result.then" { // what a cure costs goes before all its words
		made = append(made, v.say("result.then.short", "year", v.year(r.Year), "height", v.length(r.End), "wanted", v.bare(r.Target)))
		rank = rankRemark
	}
	parts = append(parts, keep(rank, made...))
	parts = append(parts, v.thumb(r.Lesson)...)
	return append(parts,
		when(r.RealRest > 0, may(rankDetail, v.say("result.rest", "days", r.RealRest))),
		when(r.Start > 0 && !r.StartOn.IsZero(), may(rankRemark, v.say("result.start", "height", v.length(r.Start), "day", v.date(r.StartOn)))))
}

// cures say what would make next fall better, where the seasons teach it.
func (v voice) cures(name string, r *ladder.Result) []part {
	switch l := r.Lesson; {
	case l == nil:
		return nil
	case l.LeaveIn != nil && l.RestDays != nil:
		return []part{must(v.say("lesson.both", "paddock", name, "height", v.length(*l.LeaveIn), "days", max(1, *l.RestDays)))}
	case l.LeaveIn != nil:
		return []part{must(v.say("lesson.leave", "paddock", name, "height", v.length(*l.LeaveIn)))}
	case l.RestDays != nil:
		return []part{must(v.say("lesson.rest", "paddock", name, "days", max(1, *l.RestDays)))}
	}
	return nil
}

// price is what a longer rest costs: so many days on other ground, or hay.
func (v voice) price(l *season.Lesson) []part {
	if l == nil || l.RestMore < 1 || l.RestHayLb <= 0 {
		return nil
	}
	return []part{may(rankDetail, v.say("lesson.price", "days", l.RestMore, "hay", v.hay(l.RestHayLb, l.RestHayLb)))}
}

// thumb is what the rule of thumb would want after a first short fall.
func (v voice) thumb(l *season.Lesson) []part {
	switch {
	case l == nil || l.Thumb == nil:
		return nil
	case l.Thumb.LeaveFor.Found && l.Thumb.RestFor.Found:
		return []part{may(rankDetail, v.say("lesson.thumb.both", "height", v.length(l.Thumb.LeaveFor.Value), "days", int(l.Thumb.RestFor.Value)))}
	case l.Thumb.LeaveFor.Found:
		return []part{may(rankDetail, v.say("lesson.thumb.leave", "height", v.length(l.Thumb.LeaveFor.Value)))}
	case l.Thumb.RestFor.Found:
		return []part{may(rankDetail, v.say("lesson.thumb.rest", "days", int(l.Thumb.RestFor.Value)))}
	}
	return nil
}

func unread(f *ladder.EndFacts) bool { return f.Result == nil || f.Result.End <= 0 }

// results is a bundle of seasons: who made it and who did not.
func (v voice) results(fs []*ladder.EndFacts) []part {
	items := each(fs, func(f *ladder.EndFacts) string {
		if unread(f) {
			return v.say("result.item.unread", "paddock", v.paddock(f.Place))
		}
		return v.say("result.item", "paddock", v.paddock(f.Place), "height", v.length(f.Result.End), "wanted", v.bare(f.Result.Target))
	})
	year := cmp.Or(fs[0].Result, &ladder.Result{}).Year
	if every(fs, unread) {
		return []part{v.sentence(v.about(paddocks(fs), nil), "result.unread", "year", v.year(year))}
	}
	return []part{keep(rankNames, v.inEach("result.many", "list", v.shortening(unique(items), ", "), "year", v.year(year))...)}
}

func (v voice) cutoffMoved(fs []*ladder.PaddockFacts) []part {
	if len(fs) > 1 {
		first := v.opening(fs)
		now := same(fs, func(f *ladder.PaddockFacts) civil.Date { return f.Cutoff })
		was := same(fs, func(f *ladder.PaddockFacts) civil.Date { return f.WasCutoff })
		if !now.IsZero() && !was.IsZero() {
			first = []part{keep(rankNames, v.inEach("cutoff.now.for.many", "paddock", v.names(places(fs)), "day", v.date(now), "was", v.date(was))...)}
		}
		return append(first, may(rankDetail, v.say("farm-file-changed")), v.answer("answer", 1, v.say("command.status")))
	}
	f := fs[0]
	return []part{must(v.say("cutoff.now.for", "day", v.date(f.Cutoff), "was", v.date(f.WasCutoff), "paddock", v.paddock(f.Place))),
		may(rankDetail, v.say("farm-file-changed")), v.answer("answer", 1, v.command(diary.Status, f.Place))}
}

// year is the year of a fall, without a thousands separator.
func (v voice) year(y int) string {
	if y <= 0 {
		return v.say("year.this")
	}
	return strconv.Itoa(y)
}
