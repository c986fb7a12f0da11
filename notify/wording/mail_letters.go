package wording

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// lessonsLetter is what the finished falls of each paddock teach.
func (v voice) lessonsLetter(fs []*ladder.EndFacts) letter {
	title := v.say("lessons.title", "paddock", strings.Join(v.names(places(fs))[:1], ""))
	l := letter{Subject: v.subject(fs[0], title), Title: title}
	for _, f := range fs {
		s := section{Head: v.paddock(f.Place), Lines: v.lessonLines(f)}
		if f.Result != nil && f.Result.Lesson != nil && len(f.Result.Lesson.Seasons) > 0 {
			s.Table = v.seasonsTable(f.Result.Lesson.Seasons)
		}
		if cid := SeasonOf(f.Paddock); slices.Contains(v.o.Pictures, cid) {
			s.CID, s.Alt = cid, v.say("picture.paddock", "paddock", v.paddock(f.Place))
		}
		l.Sections = append(l.Sections, s)
	}
	l.add(section{Lines: []string{v.say("lessons.rule")}})
	return l
}

// lessonLines say what to do next fall, with the chance of each cure.
func (v voice) lessonLines(f *ladder.EndFacts) []string {
	out, r := v.wishes(f), f.Result
	if r == nil || r.Lesson == nil {
		return append(out, v.say("lesson.none"))
	}
	les := r.Lesson
	if les.LeaveIn != nil {
		out = append(out, v.say("lesson.cure.leave", "height", v.length(*les.LeaveIn), "falls", v.falls(les.LeaveChance)))
	}
	if les.RestDays != nil {
		key := "lesson.cure.rest"
		if les.LeaveIn != nil {
			key = "lesson.cure.or-rest"
		}
		out = append(out, v.say(key, "days", max(1, *les.RestDays), "falls", v.falls(les.RestChance)))
	}
	for _, more := range append(v.price(les), v.thumb(les)...) {
		out = append(out, full([]part{more}))
	}
	switch target := max(f.Target, r.Target); {
	case les.Chance == nil:
		out = append(out, v.say("lesson.too-few", "n", taught(les.Seasons)))
	case target > 0:
		out = append(out, v.say("lesson.chance", "height", v.length(target), "falls", v.falls(*les.Chance), "n", taught(les.Seasons)))
	}
	if les.NoCure {
		out = append(out, v.say("lesson.no-cure"))
	}
	if les.Easy {
		out = append(out, v.say("lesson.easy"))
	}
	return out
}

// wishes say what a manager wished by text, and the line that makes it the rule.
func (v voice) wishes(f *ladder.EndFacts) (out []string) {
	for _, w := range f.Wishes {
		line := w.Line(v.o.Centimetres)
		if w.Leave > 0 {
			out = append(out, v.say("lesson.wish.leave", "height", v.length(w.Leave), "who", v.who(w.By), "day", v.date(w.Told), "rule", v.length(f.Leave), "paddock", f.Paddock, "line", line))
			continue
		}
		out = append(out, v.say("lesson.wish.rest", "days", w.Days, "who", v.who(w.By), "day", v.date(w.Told), "paddock", f.Paddock, "line", line))
	}
	return out
}

// taught counts the seasons that may teach.
func taught(seasons []season.Finished) int {
	n := 0
	for _, s := range seasons {
		if s.Teaches {
			n++
		}
	}
	return n
}

// mostDays is more than a rest has days: where heat was not measured growth goes by
// them, and they are no weather.
const mostDays = 150

// seasonsTable has a row for every finished fall, the latest first.
func (v voice) seasonsTable(seasons []season.Finished) *table {
	t := &table{Heads: []string{v.say("col.fall"), v.say("col.start"), v.say("col.end"), v.say("col.rest"), v.say("col.heat"), v.say("col.rain"), v.say("col.met")}}
	sorted := slices.Clone(seasons)
	slices.SortStableFunc(sorted, func(a, b season.Finished) int { return b.Year - a.Year })
	for _, s := range sorted {
		t.Rows = append(t.Rows, []string{v.year(s.Year), v.cell(s.Start > 0, v.length(s.Start)), v.cell(s.End > 0, v.length(s.End)),
			v.realRest(s), v.cell(s.Heat > mostDays, v.lang.Number(math.Round(s.Heat), 0)), v.cell(s.RainMM >= 0, v.rain(s.RainMM/10/cmPerInch)), v.met(s)})
	}
	return t
}

// realRest is how long a paddock rested; the whole season where nobody was in.
func (v voice) realRest(s season.Finished) string {
	if s.Empty {
		return v.say("rest.all-season")
	}
	return v.say("days", "days", max(0, s.RealRest))
}

// met is whether a fall was long enough, and whether it may teach.
func (v voice) met(s season.Finished) string {
	met := v.say("met.short")
	if s.Met {
		met = v.say("met")
	}
	switch {
	case s.End <= 0 && s.Teaches:
		return v.say("none")
	case s.End <= 0:
		return v.say("met.record")
	case !s.Teaches:
		return v.say("met.no-lesson", "result", met)
	}
	return met
}

// fallLetter is the fall ahead: feed, and which paddock shuts when.
func (v voice) fallLetter(f *ladder.FarmFacts) letter {
	l := v.titled(f, v.brief().planFall(f.Feed))
	lines := append(v.planFall(f.Feed), when(f.Days > 0, may(rankDetail, v.say("fall-ahead.days", "days", f.Days))))
	l.Sections = append(l.Sections, section{Lines: []string{full(lines)}, Rows: v.feedRows(f.Feed)})
	if len(f.Shuts) > 0 {
		t := &table{Heads: []string{v.say("col.paddock"), v.say("col.shuts"), v.say("col.leave"), v.say("col.frost")}}
		for _, s := range f.Shuts {
			if s.Cutoff.IsZero() && !s.FallUse {
				continue
			}
			shuts := v.brief().weekday(s.Cutoff)
			if s.FallUse {
				shuts = v.say("col.fall-use")
			}
			t.Rows = append(t.Rows, []string{v.paddock(s.Place), shuts, v.cell(s.Leave > 0, v.length(s.Leave)),
				v.cell(!s.Frost.IsZero(), v.brief().date(s.Frost))})
		}
		l.Sections = append(l.Sections, section{Head: v.say("fall.when"), Table: t})
	}
	l.add(section{Head: v.say("fall.where"), Lines: slices.Concat(v.passLines(f.Pass), v.changes(f.Changed))})
	return l
}

// feedRows is a feed budget, label by value.
func (v voice) feedRows(feed *ladder.Feed) [][2]string {
	if feed == nil {
		return nil
	}
	r := rows{v: v}
	r.add("row.period", !feed.From.IsZero() && !feed.To.IsZero(), v.say("row.period.days", "from", v.date(feed.From), "to", v.date(feed.To)))
	if low, high := feed.Short(); low < high {
		r.add("row.short", true, v.say("row.short.range", "low", low, "high", high, "day", v.date(cmp.Or(feed.FirstShort, feed.From))))
	} else {
		r.add("row.short", high > 0, v.say("row.short.days", "days", high, "day", v.date(cmp.Or(feed.FirstShort, feed.From))))
	}
	low, high := feed.Hay()
	r.add("row.hay", high > 0, v.hay(low, high))
	r.add("row.fewer", feed.FewerHead > 0, v.lang.Number(float64(feed.FewerHead), 0))
	return r.list
}

// statusLetter has a section for one paddock, or a table of all.
func (v voice) statusLetter(fs []*ladder.StatusFacts) letter {
	parts := v.status(fs)
	l := v.titled(fs[0], []part{must(v.say("status.title"))})
	say, answer := v.paragraphs(parts)
	l.add(section{Lines: say, Answer: answer})
	if shuts := fs[0].Shuts; len(shuts) > 1 {
		l.Sections = append(l.Sections, section{Table: v.paddockTable(shuts)})
	}
	return l
}

// paddockTable has a row for every paddock.
func (v voice) paddockTable(shuts []ladder.Shut) *table {
	t := &table{Heads: []string{v.say("col.paddock"), v.say("col.state"), v.say("col.height"), v.say("col.shuts")}}
	for _, s := range shuts {
		height := v.say("none")
		if s.Height != nil && s.Height.Mean > 0 {
			height = v.say("entry.dated", "entry", v.withUnit(v.against(s.Height.Mean, floorOf(s))), "day", v.brief().date(s.Height.Day))
		}
		t.Rows = append(t.Rows, []string{v.paddock(s.Place), v.state(s), height, v.cell(!s.Cutoff.IsZero(), v.brief().date(s.Cutoff))})
	}
	return t
}

// facts lists what is known of a paddock, label by value, for a notice about
// it; nothing for notices that are about no paddock.
func (v voice) facts(all ladder.Facts) [][2]string {
	f := ladder.OnPaddock(all)
	if f == nil || f.Name == "" && f.Paddock == "" {
		return nil
	}
	r := rows{v: v}
	r.add("row.cutoff", !f.Cutoff.IsZero(), v.weekday(f.Cutoff))
	r.add("row.frost", !f.Frost.IsZero(), v.weekday(f.Frost))
	r.add("row.out-by", !f.OutBy.IsZero(), v.weekday(f.OutBy))
	r.add("row.leave", f.Leave > 0, v.length(f.Leave))
	r.add("row.target", f.Target > 0 && !f.NoRest, v.length(f.Target))
	r.add("row.reading", true, v.readingRow(f.Height, f.Leave))
	if j, ok := all.(interface{ Judgement() *season.Verdict }); ok && j.Judgement() != nil {
		n, known := daysOfGrass(j.Judgement().Days)
		r.add("row.days", j.Judgement().More, v.say("row.days.more"))
		r.add("row.days", known && !j.Judgement().More, v.say("row.days.n", "days", n))
	}
	r.add("row.expect", true, v.expectRow(f.Expect, f.Target))
	r.add("row.move-to", true, v.list(f.MoveTo, "list.or"))
	if h := f.Hold; h != nil && len(h.Plants) > 0 {
		r.add("row.plants", true, v.plants(h.Plants))
		r.add("row.hold", !h.Until.IsZero(), v.heldUntil(h))
	}
	if s, ok := all.(interface{ Seen() *ladder.Frost }); ok && s.Seen() != nil {
		r.add("row.cold", true, v.seen(s.Seen()))
	}
	return r.list
}

// rows are gathered label by value.
type rows struct {
	v    voice
	list [][2]string
}

// add adds a row where it is known and says something.
func (r *rows) add(key string, known bool, value string) {
	if known && value != "" {
		r.list = append(r.list, [2]string{r.v.say(key), value})
	}
}

// cell is a value in a table, where it is known.
func (v voice) cell(known bool, value string) string {
	if known {
		return value
	}
	return v.say("none")
}
