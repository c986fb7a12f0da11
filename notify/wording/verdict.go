package wording

import (
	"cmp"
	"sort"
	"strings"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

var verdictSpeakers = map[ladder.Kind]speaker{
	ladder.AnswerVerdict: saysLong(voice.verdicts, func(f *ladder.VerdictFacts) bool {
		return poisonous(&f.PaddockFacts) || f.Verdict != nil && (len(f.Verdict.Cautions) > 0 || len(f.Verdict.Plants) > 0 || f.Verdict.Reason == season.Hurt || f.Verdict.Reason.Asked())
	}),
}

// verdicts answers heights: GO or WAIT first, then what to do.
func (v voice) verdicts(fs []*ladder.VerdictFacts) []part {
	if len(fs) == 1 {
		return v.verdict(fs[0])
	}
	fs = append([]*ladder.VerdictFacts(nil), fs...)
	sort.SliceStable(fs, func(i, j int) bool { return takeOff(fs[i]) && !takeOff(fs[j]) })
	return []part{{rankNames, append(v.linesOf(each(fs, v.verdict)), v.grouped(fs)...)}}
}

func takeOff(f *ladder.VerdictFacts) bool {
	return f.Verdict != nil && f.Verdict.Action == season.TakeOff
}

// verdict is the answer to a height of one paddock.
func (v voice) verdict(f *ladder.VerdictFacts) []part {
	d := cmp.Or(f.Verdict, unjudged)
	parts := []part{must(v.say(headKey(d), "paddock", v.paddock(f.Place)))}
	parts = append(parts, v.because(f, d)...)
	parts = append(parts, v.cautions(d)...)
	parts = append(parts, v.howSure(f, d)...)
	return append(parts, v.whatNext(f, d)...)
}

// unjudged is what is said of ground that nobody has read.
var unjudged = &season.Verdict{Action: season.ReadIt, Reason: season.NeverRead}

// headKey is the word and what to do: 'WAIT, TAKE THEM OFF Creek.'
func headKey(d *season.Verdict) string {
	switch {
	case d.Say == season.Go && d.Action == season.TurnIn:
		return "verdict.go.in"
	case d.Say == season.Go:
		return "verdict.go.stay"
	case d.Say == season.Wait && d.Action == season.TakeOff:
		return "verdict.wait.off"
	case d.Say == season.Wait && d.Action == season.ReadIt:
		return "verdict.wait.read"
	case d.Say == season.Wait:
		return "verdict.wait.shut"
	}
	return "verdict.read"
}

// because is why, by the row of the table that matched.
func (v voice) because(f *ladder.VerdictFacts, d *season.Verdict) []part {
	switch d.Reason {
	case season.OnHold:
		return []part{keep(rankWhen, each(v.danger([]*ladder.PaddockFacts{&f.PaddockFacts}), sentence)...), keep(rankAnswer, v.say("why.hold", "until", v.heldUntil(f.Hold))),
			keep(rankDetail, v.say("care.hold"), v.say("care.short"))}
	case season.InRest:
		return v.becauseRest(f)
	case season.Parched, season.NoHorses, season.KinShort, season.KinLong, season.FrostUnknown, season.Hurt:
		return v.becauseShut(f, d)
	case season.RestFailed:
		return []part{keep(rankAnswer, v.say("why.failed"))}
	case season.GivenBack:
		return []part{may(rankDetail, v.say("why.given-back", "day", v.date(f.OutBy)))}
	case season.OldReading:
		if f.Height != nil {
			return []part{may(rankWhen, v.say("why.old", "height", v.length(f.Height.Mean), "day", v.date(f.Height.Day)))}
		}
	case season.UnderLeave:
		return append(v.heightAnd(f, d, "why.under"), v.expected(f)...)
	case season.NotReady:
		parts := v.heightAnd(f, d, shortOf[d.Reason])
		if f.Turn != nil && f.Turn.ByReading {
			parts = append(parts, may(rankDetail, v.say("not-ready.about", "day", v.date(f.Turn.About))))
		}
		return parts
	case season.EatenDown, season.LeaveCover, season.UseShort:
		return v.heightAnd(f, d, shortOf[d.Reason])
	case season.UseLacks:
		if lacks := v.length(d.Lacks); lacks != v.length(0) {
			return []part{may(rankAnswer, v.say("why.use-lacks", "height", lacks, "wanted", v.mustStand(&f.PaddockFacts)))}
		}
		return []part{may(rankAnswer, v.say("why.use-even", "wanted", v.mustStand(&f.PaddockFacts)))}
	case season.UseEaten:
		return []part{may(rankAnswer, v.say("why.use-eaten", "height", v.mustStand(&f.PaddockFacts)))}
	case season.TooFewDays:
		return v.becauseFew(f, d)
	case season.GrazedEnough, season.ReadyToGraze, season.DormantGrass, season.UseGrass:
		return v.becauseGrass(f, d)
	}
	if d.Reason.Asked() {
		return v.becauseShut(f, d)
	}
	return nil
}

// shortOf is what is said of a height that is under the one that decides.
var shortOf = map[season.Reason]string{
	season.EatenDown: "why.eaten", season.NotReady: "why.not-ready", season.LeaveCover: "why.cover", season.UseShort: "why.use-short",
}

// cautions are what goes with a GO, whatever else has to be left out.
func (v voice) cautions(d *season.Verdict) (parts []part) {
	for _, c := range d.Cautions {
		parts = append(parts, keep(rankDetail, v.caution(c), v.say("care.vet")))
	}
	return parts
}

func (v voice) caution(c season.Caution) string {
	return sentence(v.say("caution."+string(c.Why), "plants", v.plants(c.Plants)))
}

// cautionsOf are the same of ground that animals are sent to, in a row.
func (v voice) cautionsOf(all []season.Caution) string {
	return strings.Join(each(all, v.caution), " ")
}

func (v voice) becauseGrass(f *ladder.VerdictFacts, d *season.Verdict) []part {
	var parts []part
	if f.Height != nil {
		parts = append(parts, keep(rankAnswer, v.grass(d, v.tall(f, d.Floor)), v.grass(d, v.shortly(f, d.Floor))))
	}
	if f.Early != nil {
		parts = append(parts, keep(rankWhen, v.say("too-early.short", "leave", v.bare(f.Early.Begin))))
	}
	parts = append(parts,
		when(d.Reason == season.UseGrass, may(rankWhen, v.say("why.use", "height", v.mustStand(&f.PaddockFacts)))),
		when(d.Reason == season.DormantGrass && d.Floor > 0, may(rankWhen, v.say("leave", "height", v.length(d.Floor)))))
	return append(parts, v.outBy(f, d)...)
}

// outBy is when they must be out, and where they go then.
func (v voice) outBy(f *ladder.VerdictFacts, d *season.Verdict) []part {
	next, day := v.people(f.MoveTo), v.date(d.OutBy)
	moves := f.Move != nil && len(next) > 0
	care := v.cautionsOf(f.Sends.Cautions)
	then := when(moves, may(rankDetail, strings.TrimSpace(v.say("move-next", "paddock", firstOf(next...))+" "+care)))
	switch shuts := d.More && d.OutBy == f.Cutoff; { // the grass lasts until it shuts
	case d.OutBy.IsZero():
		return []part{then}
	case shuts && f.NoRest:
		return []part{keep(rankWhen, v.say("back-on", "day", day)), then}
	case shuts:
		return []part{keep(rankWhen, v.say("shuts-on", "day", day)), then}
	case moves:
		return []part{keep(rankWhen, strings.TrimSpace(v.say("out-by.then", "day", day, "paddock", next[0])+" "+care), v.say("out-by", "day", day))}
	}
	return []part{keep(rankWhen, v.say("out-by", "day", day))}
}

func (v voice) becauseFew(f *ladder.VerdictFacts, d *season.Verdict) []part {
	if n, known := daysOfGrass(d.Days); known && n < 3 && f.Height != nil {
		h := v.shortly(f, d.Floor)
		if n == 0 {
			return []part{may(rankAnswer, sentence(v.say("why.eaten", "height", h, "leave", v.bare(d.Floor))))}
		}
		return []part{may(rankAnswer, v.say("why.few-days", "height", h, "days", n))}
	}
	if f.Cutoff.IsZero() {
		return nil
	}
	return []part{may(rankAnswer, v.say("why.near-cutoff", "day", v.weekday(f.Cutoff)))}
}

// becauseShut is why ground is shut without a hold: the plant, why, and what to do
// about it.
func (v voice) becauseShut(f *ladder.VerdictFacts, d *season.Verdict) []part {
	parts := []part{keep(rankAnswer, sentence(v.shutFor(d.Reason, d.Plants, d.Floor, d.Since, d.Who)))}
	if d.Reason == season.KinShort && f.Height != nil {
		parts = append(parts, may(rankDetail, sentence(v.say("grass.unknown", "height", v.tall(f, d.Floor)))))
	}
	if d.Reason == season.Hurt {
		return append(parts, keep(rankDetail, v.say("care.vet")))
	}
	return append(parts, keep(rankDetail, v.say("care.hold"), v.say("care.short")))
}

func (v voice) becauseRest(f *ladder.VerdictFacts) []part {
	key, n := "why.rest.day", restDayOf(&f.PaddockFacts)
	switch {
	case f.DaysToFrost > 0 && n > 0:
		key = "why.rest"
	case n > 0:
		key = "why.rest.past"
	case f.DaysToFrost > 0:
		key = "why.rest.start"
	}
	parts := []part{keep(rankAnswer, v.say(key, "n", n, "days", f.DaysToFrost))}
	if f.Height != nil {
		parts = append(parts, may(rankDetail, sentence(v.say("grass.unknown", "height", v.tall(f, f.Target)))))
	}
	return append(parts, v.expected(f)...)
}

// whatNext says how to answer.
func (v voice) whatNext(f *ladder.VerdictFacts, d *season.Verdict) []part {
	switch {
	case d.Reason == season.FrostUnknown, d.Reason == season.FrostAsked:
		return []part{v.frostYet()}
	case d.Reason.Asked():
		return []part{v.answer("answer.clear", 1, v.command(diary.Clear, f.Place))}
	case d.Action == season.TakeOff:
		to := v.moveTo([]*ladder.PaddockFacts{&f.PaddockFacts}, rankWhen)
		if len(f.MoveTo) == 0 {
			to = may(rankWhen, v.say("move-to.hay"))
		}
		return []part{to, v.answer("answer.off", 1, v.command(diary.Off, f.Place))}
	case d.Action == season.ReadIt:
		return []part{v.answer("answer", 1, v.heights(f.Place, max(d.Floor, f.Leave)+1))}
	case d.Reason == season.InRest && restDayOf(&f.PaddockFacts) > 0 && f.DaysToFrost <= 0:
		return []part{v.answer("answer.brown", 1, v.command(diary.Brown, f.Place))}
	case d.Say == season.Go && d.Action == season.TurnIn:
		return []part{may(rankDetail, v.say("answer.in", "text", v.command(diary.On, f.Place)))}
	case d.More, f.Height != nil && f.Height.TodayOnly && d.ReadAgain > 1: // that was said with the days of grass, or that it is good for today
	case d.ReadAgain > 0:
		return []part{may(rankWhen, v.say("read-again", "days", d.ReadAgain))}
	}
	return nil
}
