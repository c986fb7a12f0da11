package ladder

import (
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
	"stubbled/scheduler/season/shut"
)

// How often frost is asked about where nothing measures it. Ours.
const (
	askAgain  = 7 // days
	wordLasts = 6 // days after a person's word that it is asked again, a day before it no longer holds
)

// frostAsk asks the manager what nobody measures: whether it has frozen, weekly
// from the early side of 36 F on and on the planned date itself; from that date on
// whether the tops are brown as well. A killing freeze that came too soon is asked
// about the same way, from its morning on.
func (p *plan) frostAsk() {
	var days []civil.Date
	var asked []*season.View
	var first, planned civil.Date
	for i := range p.Views {
		v := &p.Views[i]
		if !p.asksFrost(v) {
			continue
		}
		asked, first = append(asked, v), diary.EarlierDay(first, v.Dates.Cold)
		if v.Paddock.Native() {
			planned = diary.EarlierDay(planned, v.Dates.Frost)
		}
	}
	if len(asked) > 0 {
		days = p.frostAskDays(first, planned)
	}
	doubted, of := p.doubted()
	if len(of) > 0 {
		days = append(days, weekly(doubted.AddDays(1), p.today)...)
	}
	tops := len(of) > 0 || slices.ContainsFunc(asked, p.asksTops)
	p.askOn(days, tops, func() *FrostFacts {
		f := &FrostFacts{}
		for _, v := range asked {
			s := Line(v, p.today)
			if s.Wants = ""; p.asksTops(v) {
				s.Wants = "brown"
			}
			f.Shuts = append(f.Shuts, s)
		}
		for _, v := range of {
			s := Line(v, p.today)
			s.Wants = "brown"
			f.Shuts = append(f.Shuts, s)
		}
		f.FrostSeen = p.doubtedFrost(doubted)
		return f
	})
}

// asksTops reports whether a paddock's tops are asked about beside the frost.
func (p *plan) asksTops(v *season.View) bool {
	return v.Paddock.Native() && v.Phase == season.Rest && !v.FallUse && !p.today.Before(v.Dates.Frost)
}

// asksFrost reports whether anything on a paddock waits for word of a frost that
// nothing measures: not what froze for good, whose hold lasts as long as the doubt does.
func (p *plan) asksFrost(v *season.View) bool {
	if !v.Unwatched || v.Dates.Cold.IsZero() || p.today.Before(v.Dates.Cold) {
		return false
	}
	rests := v.Paddock.Native() && !v.FallUse && v.Phase != season.Dormant && v.Dates.Ended.IsZero()
	outlasts := !v.Dates.Ended.IsZero() && v.Hold != nil && !v.Hold.Until.IsZero() && !v.Hold.Regrown
	return rests || len(v.AtRisk) > 0 && !outlasts
}

// frostAskDays are the days up to today on which it is asked: weekly, from the
// sixth day after the last word of it, and the planned date.
func (p *plan) frostAskDays(first, planned civil.Date) []civil.Date {
	var word civil.Date // the latest day of which a person said whether it froze
	for _, f := range p.words(first) {
		word = diary.LaterDay(word, f.Day)
	}
	if next := word.AddDays(wordLasts); !word.IsZero() && next.After(first) {
		first = next
	}
	days := weekly(first, p.today)
	if !planned.IsZero() && planned.After(first) && !planned.After(p.today) {
		days = append(days, planned)
	}
	return days
}

// doubted are the paddocks whose rest a killing freeze came too soon to end, and
// the day of the latest such freeze.
func (p *plan) doubted() (day civil.Date, of []*season.View) {
	for i := range p.Views {
		v := &p.Views[i]
		d := &v.Dates
		if d.Doubted.IsZero() || !d.Ended.IsZero() || v.FallUse || !v.Paddock.Native() {
			continue
		}
		of, day = append(of, v), diary.LaterDay(day, d.Doubted)
	}
	return day, of
}

// doubtedFrost is the freeze of that day as it was measured, where it was.
func (p *plan) doubtedFrost(day civil.Date) (seen *Frost) {
	for _, n := range p.frosts() {
		if n.Day == day && (seen == nil || n.TempC != nil) && !p.Views[0].Unwatched {
			seen = frostOf(n)
		}
	}
	return seen
}

func weekly(first, today civil.Date) (days []civil.Date) {
	for d := first; !d.After(today); d = d.AddDays(askAgain) {
		days = append(days, d)
	}
	return days
}

// askOn asks on the latest of some days, until a week later: nobody who is told in
// these days to take animals off until somebody says whether it froze, unless the tops
// are asked about.
func (p *plan) askOn(days []civil.Date, tops bool, facts func() *FrostFacts) {
	var day civil.Date
	for _, d := range days {
		day = diary.LaterDay(day, d)
	}
	if day.IsZero() || day.AddDays(askAgain).Before(p.today) {
		return
	}
	var f *FrostFacts
	k := Key{Of: ofFarm, Day: day.String(), Cause: Cause{Kind: string(FrostAsk)}}
	for _, c := range p.hearers(FrostAsk) {
		when := p.mornings(c, day, day.AddDays(askAgain))
		p.comes(c, FrostAsk, when.until)
		if !p.open(c, FrostAsk, k, when) || !tops && p.asksWithWait(c.Name) {
			continue
		}
		if f == nil {
			f = facts()
			f.Day = day
		}
		p.tell(c, FrostAsk, k, f, when)
	}
}

// asksWithWait reports whether the word that animals stand where nobody knows of frost
// asks somebody for it this week.
func (p *plan) asksWithWait(to string) bool {
	return slices.ContainsFunc(p.Views, func(v season.View) bool {
		if v.Herds.Occupancy == season.Empty || v.Hold != nil || len(v.Shut) == 0 || v.Shut[0].Why != shut.NotKnown {
			return false
		}
		return told(p.Said.byPaddock[v.Paddock.ID], to, WaitAnimals, func(r *SaidRow) bool { return p.Now.Sub(r.At) < askAgain*24*time.Hour }) ||
			slices.ContainsFunc(p.notices, func(n Notice) bool {
				return n.Kind == WaitAnimals && n.To == to && n.Key.Of == v.Paddock.ID
			})
	})
}

// disputedFor is how many days back two words of one night are held together.
const disputedFor = 7

// disputed tells two people who do not say the same of a night, and the managers, that
// the stricter counts: what the frost holds stays held.
func (p *plan) disputed() {
	since := p.today.AddDays(-disputedFor)
	words := p.words(since)
	told := map[civil.Date]bool{}
	for _, f := range words {
		for _, none := range words {
			night := season.NightOf(f, p.Zone)
			apart := f.Kind != diary.Frost || none.Kind != diary.NoFrost || f.By == none.By || !none.Concerns(f.Paddock)
			if apart || told[night] || season.NightOf(none, p.Zone) != night {
				continue
			}
			told[night] = true
			p.dispute(night, f, none)
		}
	}
}

func (p *plan) dispute(night civil.Date, frost, none diary.Fact) {
	later := frost
	if none.At.After(later.At) {
		later = none
	}
	k := Key{Of: ofFarm, Day: night.String(), Cause: Cause{"disputed", frost.ID}}
	said := &DisputeFacts{Head: Head{Day: frost.Day}, Who: frost.By, None: none.By}
	for _, c := range p.hearers(FrostDisputed) {
		if c.Manager() || c.Name == frost.By || c.Name == none.By {
			p.tell(c, FrostDisputed, k, said, p.news(c, later.At))
		}
	}
}

// words are what people told of a frost or of none, of the farm or of a paddock, on the
// days from one to today: of each what concerns the whole farm first, and of one ground
// the newest.
func (p *plan) words(since civil.Date) (all []diary.Fact) {
	for _, kind := range []diary.Kind{diary.Frost, diary.NoFrost} {
		first, told := len(all), p.Book.Every(kind)
		for _, f := range slices.Backward(told[diary.From(told, since):]) {
			if !f.Measured() && !f.Day.After(p.today) && (f.Paddock == "" || p.place(*f) >= 0) {
				all = append(all, *f)
			}
		}
		slices.SortStableFunc(all[first:], func(a, b diary.Fact) int { return p.place(a) - p.place(b) })
	}
	return all
}

// place is that of the ground that a fact speaks of among the views; -1 for other
// ground, and for the whole farm.
func (p *plan) place(f diary.Fact) int {
	return slices.IndexFunc(p.Views, func(v season.View) bool { return v.Paddock.ID == f.Paddock })
}
