package ladder

import (
	"slices"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
)

// When a height is asked for during rest. Assumptions: what a season needs to
// teach anything, and no more texts than that.
const (
	freshAtCutoff = 4  // days; a reading as fresh as this is the height at cutoff
	freshMidRest  = 7  // days
	askFor        = 5  // days that the question stays worth asking
	endAskAfter   = 5  // days after the end of rest, once the cautions were read
	endWindow     = 14 // days after the end of rest in which a height still counts
)

// askHeights asks for the heights that tell what a rest was worth: at cutoff
// once the paddock is empty, at mid-rest, and after the end of rest.
func (p *plan) askHeights(v *season.View) {
	if !v.Paddock.Native() || v.FallUse || v.Dates.Cutoff.IsZero() {
		return
	}
	if v.Phase == season.Dormant {
		if v.EndHeight == 0 && v.Dates.EndedBy != "" {
			p.ask(v, "end", v.Dates.Ended.AddDays(endAskAfter), endWindow-endAskAfter)
		}
		return
	}
	if v.Herds.Occupancy == season.Grazed {
		return
	}
	mid := v.Dates.Cutoff.AddDays(v.Dates.Frost.DaysSince(v.Dates.Cutoff) / 2)
	start := diary.LaterDay(v.Dates.Cutoff, v.Herds.LastOff) // where they left late the rest begins only then
	begun := start.AddDays(1)
	when, day, since := "mid-rest", mid, mid.AddDays(-freshMidRest)
	if v.Herds.Occupancy == season.Empty && (p.today.Before(mid) || begun.After(mid)) {
		when, day, since = "cutoff", begun, start.AddDays(-freshAtCutoff)
	}
	if !readSince(v, since) {
		p.ask(v, when, day, askFor)
	}
}

func readSince(v *season.View, day civil.Date) bool {
	return v.Reading != nil && !v.Reading.Day.Before(day)
}

func (p *plan) ask(v *season.View, when string, day civil.Date, days int) {
	k, f := cutoffKey(v, Cause{Kind: "-"}, "height", when), &HeightFacts{PaddockFacts: p.facts(v), When: when}
	for _, c := range p.hearers(AskHeight) {
		// Where nobody stood there it was asked for with the word that rest starts.
		if when == "cutoff" && told(p.Said.byPaddock[v.Paddock.ID], c.Name, KeepShut, func(r *SaidRow) bool {
			return r.Cutoff == v.Dates.Cutoff && r.Key.Rung == "0"
		}) {
			continue
		}
		p.tell(c, AskHeight, k, f, p.mornings(c, day, day.AddDays(days)))
	}
}

// resultAfter is how many days after the end of rest a season's result is told
// at the latest, read or not.
const resultAfter = 15

// ending tells that rest is over and, later, what the season came to.
func (p *plan) ending(v *season.View) {
	d := v.Dates
	if v.Phase != season.Dormant || d.Ended.IsZero() || v.FallUse {
		return
	}
	early := d.Ended.Before(d.Cutoff)
	for _, c := range p.hearers(RestOver) {
		p.over(v, c, early)
		if !early {
			p.result(v, c)
		}
	}
}

func (p *plan) over(v *season.View, c person, early bool) {
	d, by := v.Dates, p.endedBy(v)
	p.wide = p.wide || by.By == c.Name
	own := by.By == c.Name && (by.Kind == diary.Brown || !by.Measured() && EndsAllRest(p.Views, by))
	if own || p.toldEnd(v, c.Name, by, RestOver, FrostFirst) {
		return // the answer to their own word has said all this, or they were told before
	}
	f := EndFacts{
		PaddockFacts: p.facts(v),
		Result:       &Result{Year: v.Year, RestEnd: d.Ended, NoFrost: d.EndedBy == season.ByYear},
	}
	if f.Result.NoFrost {
		f.Result.RestEnd = d.Ended.AddDays(-1)
	}
	if d.EndedBy == season.ByFreeze && by.ID > 0 {
		f.FrostSeen = frostOf(by)
		f.FrostSeen.BeforeCutoff, f.FrostSeen.RestOver = early, !early
	}
	kind := RestOver
	if early {
		kind = FrostFirst
	}
	when := p.mornings(c, d.Ended, d.Ended.AddDays(resultAfter))
	if by.ID > 0 {
		when.from = p.decent(c.Contact, by.At)
	}
	p.tell(c, kind, endKey(v, by, "over"), &f, when)
}

// endedBy is the fact that ended a rest; zero where the year did. Of several
// that tell of one day the one that told first counts.
func (p *plan) endedBy(v *season.View) diary.Fact {
	var first diary.Fact
	take := func(f diary.Fact) {
		if f.Day == v.Dates.Ended && f.Concerns(v.Paddock.ID) && (first.ID == 0 || f.ID < first.ID) {
			first = f
		}
	}
	switch v.Dates.EndedBy {
	case season.ByFreeze:
		for _, f := range p.frosts() {
			if v.Paddock.EndsRest(f) {
				take(f)
			}
		}
	case season.ByBrown:
		for f := range p.Book.About(v.Paddock.ID, diary.Brown, v.Dates.Ended) {
			take(*f)
		}
	}
	return first
}

// EndsAllRest reports whether a frost ended the rest of every paddock that it
// found in rest.
func EndsAllRest(views []season.View, f diary.Fact) bool {
	ended := false
	for i := range views {
		switch v := &views[i]; {
		case !v.Paddock.Native() || v.FallUse:
		case v.Phase == season.Rest:
			return false
		case v.Dates.Ended == f.Day && v.Paddock.EndsRest(f):
			ended = true
		}
	}
	return ended
}

func endKey(v *season.View, by diary.Fact, rung string) Key {
	return Key{Of: v.Paddock.ID, Day: v.Dates.Ended.String(), Cause: Cause{string(v.Dates.EndedBy), by.ID}, Rung: rung, Repeat: "0"}
}

// toldEnd reports whether a contact was told of the end of this season by
// another fact that still stands: an earlier freeze that a record brings later
// is no news.
func (p *plan) toldEnd(v *season.View, to string, by diary.Fact, kinds ...Kind) bool {
	now := endKey(v, by, "").Cause
	return slices.ContainsFunc(p.Said.byPaddock[v.Paddock.ID], func(r *SaidRow) bool {
		if r.To != to || !slices.Contains(kinds, r.Kind) || r.Key.Cause == now {
			return false
		}
		if day, err := civil.ParseDate(r.Key.Day); err != nil || day.Before(v.Dates.Turn) || !day.Before(v.Dates.Next) {
			return false
		}
		_, stands := p.Book.Standing(r.Key.Cause.Fact)
		return stands || r.Key.Cause.Fact == 0 // the year's end takes nothing back
	})
}

// result tells what a season came to, the morning after its end was read, or
// after it can no longer be.
func (p *plan) result(v *season.View, c person) {
	done, by := v.Finished, p.endedBy(v)
	if done == nil || p.toldEnd(v, c.Name, by, SeasonResult) {
		return
	}
	day := v.Dates.Ended.AddDays(resultAfter)
	if v.EndHeight > 0 && v.EndRead.AddDays(1).Before(day) {
		day = v.EndRead.AddDays(1)
	}
	k, when := endKey(v, by, "result"), p.mornings(c, day, day.AddDays(resultAfter))
	if !p.open(c, SeasonResult, k, when) {
		return // what it taught takes long to work out
	}
	f := EndFacts{PaddockFacts: p.facts(v), Result: &Result{
		Year: done.Year, NoFrost: done.EndedBy == season.ByYear,
		RealRest: done.RealRest, Start: done.Start, StartOn: done.StartOn, End: done.End, Target: v.Paddock.Rule.AtFrost, Met: done.Met,
		Lesson: p.Lesson(v.Paddock.ID),
	}}
	if done.Empty {
		f.Result.RealRest = 0 // nobody left it this season
	}
	p.tell(c, SeasonResult, k, &f, when)
}
