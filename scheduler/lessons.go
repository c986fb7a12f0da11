package scheduler

import (
	"sync"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/dry"
	"stubbled/scheduler/herd"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// daySums are the slow sums of a farm as it stands, each summed when it is first
// asked for.
type daySums struct {
	feed     func() *ladder.Feed
	lastPass func() []ladder.Stop
	plan     func() (season.FeedPlan, bool)
	rain     func(civil.Date) dry.Rain
	made     *season.FeedPlan // once plan was asked for and there is one
	changed  []season.Change  // why the plan kept is another than the one before
}

func sumsOf(sight season.Sight, land season.Land) *daySums {
	r := &daySums{changed: sight.Changed}
	var whole func() season.FeedPlan
	r.plan = sync.OnceValues(func() (plan season.FeedPlan, ok bool) {
		if plan, whole, ok = land.PlanFeed(sight.Kept); ok {
			r.made = &plan
		}
		return plan, ok
	})
	r.feed = sync.OnceValue(func() *ladder.Feed {
		return feedOf(sight, func() (plan season.FeedPlan, ok bool) {
			if plan, ok = r.plan(); ok {
				plan = whole()
			}
			return plan, ok
		})
	})
	rained := map[civil.Date]dry.Rain{}
	r.rain = func(day civil.Date) dry.Rain {
		rain, known := rained[day]
		if !known {
			rain = dry.RainOf(sight.Air, dry.Told(sight.Book.Every(diary.Rain), ""), day)
			rained[day] = rain
		}
		return rain
	}
	r.lastPass = sync.OnceValue(func() []ladder.Stop { return lastPass(land, r.plan) })
	return r
}

// saves are the days of feed that the plan saves by leaving the one that was told.
func (d *daySums) saves() float64 {
	plan, _ := d.plan()
	return plan.Feed.Saves
}

// LastPass is where the herds go until the last cutoff, and from it on, as it is
// said; empty where nothing is to be planned.
func LastPass(sight season.Sight) []ladder.Stop { return sumsOf(sight, sight.Land()).lastPass() }

func lastPass(land season.Land, solved func() (season.FeedPlan, bool)) []ladder.Stop {
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
		if v, ok := land.Of(s.Ground); ok {
			stops = append(stops, ladder.Stop{Paddock: s.Ground, Name: v.Paddock.Name, Herds: s.Herds, In: s.In, Out: s.Out, Unproved: unproved(&v, s.Herds), Cautions: harms(&v, s.Herds)})
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
		FirstShort: plan.Feed.FirstShort, StockDays: plan.Feed.StockpileDays, RunsOut: plan.Winter.RunsOut, GreenUp: plan.Winter.GreenUp,
	}
	if w := plan.Winter; !w.From.IsZero() {
		f.Winter = &ladder.Winter{From: w.From, Stock: w.Stockpile, Native: w.Native, Hay: w.Hay, Unread: w.Unread, Guessed: w.Guessed}
	}
	for _, c := range plan.Feed.Closes {
		switch c.Way {
		case herd.FeedHay:
			hay := plan.Hay
			f.HayLb, f.HayLow, f.HayHigh, f.BaleLb = c.HayAsFed, hay.ToGet(plan.Good.Short), hay.ToGet(plan.Poor.Short), hay.BaleLb
		case herd.FewerHead:
			f.FewerHead, f.Herd = c.Head, c.Herd
		case herd.WeanNow:
			f.Wean = c.Enough()
		}
	}
	if least, most := f.Short(); least < most || f.FirstShort.IsZero() { // as many days as are short at most
		f.FirstShort = plan.Poor.FirstShort
	}
	return f
}

// headOn is the head of all herds on a day.
func (s *Scheduler) headOn(book *diary.Book) func(civil.Date) int {
	return func(day civil.Date) (head int) {
		for _, h := range s.farm.HerdsOn(book, day) {
			head += h.Head
		}
		return head
	}
}
