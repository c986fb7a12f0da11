package scheduler

import (
	"sync"

	"github.com/golang-sql/civil"

	"stubbled/config"
	"stubbled/scheduler/herd"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// daySums keeps the slow sums of a day, which change only with the farm file
// and the diary, each summed when it is first asked for.
type daySums struct {
	sight    season.Sight
	farm     *config.Farm
	day      civil.Date
	last     int64
	lessons  func() map[string]*season.Lesson
	feed     func() *ladder.Feed
	lastPass func() []ladder.Stop
	plan     func() (season.FeedPlan, bool)
	made     *season.FeedPlan // once plan was asked for and there is one
}

// lessons adds what finished seasons say and where the herd eats.
func (s *Scheduler) lessons(in *ladder.Input, sight season.Sight) {
	r := &s.daySums
	if r.farm != s.farm || r.day != sight.Today || r.last != sight.Book.Last() {
		*r = daySums{
			farm: s.farm, day: sight.Today, last: sight.Book.Last(),
			lessons:  sync.OnceValue(func() map[string]*season.Lesson { return lessonsOf(r.sight) }),
			feed:     sync.OnceValue(func() *ladder.Feed { return feedOf(r.sight, r.plan) }),
			lastPass: sync.OnceValue(func() []ladder.Stop { return lastPass(r.sight, r.plan) }),
			plan: sync.OnceValues(func() (season.FeedPlan, bool) {
				plan, ok := season.Feed(r.sight)
				if ok {
					r.made = &plan
				}
				return plan, ok
			}),
		}
	}
	r.sight = sight
	in.Lesson = func(paddock string) *season.Lesson { return r.lessons()[paddock] }
	in.Feed, in.LastPass = r.feed, r.lastPass
}

func lessonsOf(sight season.Sight) map[string]*season.Lesson {
	by := map[string]*season.Lesson{}
	for _, l := range season.Lessons(sight) {
		by[l.Paddock] = &l
	}
	return by
}

// LastPass is where the herds go until the last cutoff, and from it on, as it is
// said; empty where nothing is to be planned.
func LastPass(sight season.Sight) []ladder.Stop {
	return lastPass(sight, func() (season.FeedPlan, bool) { return season.Feed(sight) })
}

func lastPass(sight season.Sight, solved func() (season.FeedPlan, bool)) []ladder.Stop {
	plan, ok := solved()
	if !ok || plan.From.After(plan.Shut) {
		return nil
	}
	var stops []ladder.Stop
	last := map[string]int{} // a herd's last stop
	for _, s := range plan.Feed.Stops() {
		if s.In.After(plan.Shut) {
			break
		}
		if p, ok := sight.Farm.Paddock(s.Ground); ok {
			stops = append(stops, ladder.Stop{Paddock: p.ID, Name: p.Name, Herds: s.Herds, In: s.In, Out: s.Out})
			for _, h := range s.Herds {
				last[h] = len(stops) - 1
			}
			continue
		}
		if i, ok := last[s.Herds[0]]; ok && s.In.Before(plan.Shut) {
			stops[i].Wants += min(s.Out.DaysSince(s.In), plan.Shut.DaysSince(s.In))
		}
	}
	return stops
}

// feedOf is a farm's fall in short; nil where nothing can be said.
func feedOf(sight season.Sight, solved func() (season.FeedPlan, bool)) *ladder.Feed {
	plan, ok := solved()
	if !ok {
		return nil
	}
	low, days, high := plan.ShortDays()
	f := &ladder.Feed{
		From: plan.From, To: plan.To, ShortDays: days, ShortLow: low, ShortHigh: high, Settle: plan.Settle,
		FirstShort: plan.Feed.FirstShort, StockDays: plan.Feed.StockpileDays, RunsOut: plan.RunsOut, GreenUp: plan.GreenUp,
	}
	for _, c := range plan.Feed.Closes {
		switch c.Way {
		case herd.FeedHay:
			hay := sight.Farm.Hay
			f.HayLb, f.HayLow, f.HayHigh, f.BaleLb = c.HayAsFed, hay.ToGet(plan.Good.Short), hay.ToGet(plan.Poor.Short), hay.BaleLb
		case herd.FewerHead:
			f.FewerHead, f.Herd = c.Head, c.Herd
		case herd.WeanNow:
			f.Wean = c.Enough()
		}
	}
	if f.FirstShort.IsZero() {
		f.FirstShort = plan.Poor.FirstShort
	}
	return f
}
