package herd

import (
	"sort"

	"github.com/golang-sql/civil"
)

// Way is one way to close a gap in the feed.
type Way string

// The ways, in the order they are told: the smallest first.
const (
	FeedHay   Way = "hay"
	WeanNow   Way = "wean"
	FewerHead Way = "fewer head"
	UseNative Way = "use a native paddock"
)

// Close is one way to close the gap of the farm, alone.
type Close struct {
	Way       Way
	HayAsFed  float64    // lb still to get as it lies in the bale, what is wasted included
	HayDays   float64    // days' worth of what all herds want
	Herd      string     // that is weaned, or sold from
	Head      int        // head to go by On
	Paddock   string     // native paddock to use on purpose
	On        civil.Date // day it must be done by
	ShortDays int        // days that are still short after it
}

// Enough reports whether this way alone closes the gap.
func (c Close) Enough() bool { return c.ShortDays == 0 }

// MostSold is the part of a herd that is ever advised to go: one in so many.
const MostSold = 3

// closes works out every way for a farm that is short.
func (f Fall) closes(now Feed) []Close {
	var out []Close
	if lb := f.Hay.ToGet(now.Short); lb > 0 {
		out = append(out, Close{Way: FeedHay, HayAsFed: lb, On: now.FirstShort, HayDays: over(now.Short, over(now.Demand, float64(len(now.Herds[0].Days))))})
	}
	for _, way := range []func(Feed) (Close, bool){f.wean, f.fewer, f.useSpare} {
		if c, ok := way(now); ok {
			out = append(out, c)
		}
	}
	return out
}

// lack is what a fall lacks at least, lb, and the days that lack more than a hundredth.
func (f Fall) lack() (lb float64, days int) { return newWalk(f).rations.lack(0) }

// Lacks is the lb that a fall lacks at least.
func (f Fall) Lacks() float64 {
	lb, _ := f.lack()
	return lb
}

// fewer finds the fewest head of one herd to go at the start so that no herd is
// short: the fewer head, the less is lacking. It is no way where more than a third
// of the herd would have to go, nor as long as ground that matters was not read.
func (f Fall) fewer(Feed) (best Close, ok bool) {
	if f.Unread {
		return best, false
	}
	for i, h := range f.Herds {
		most := h.Head / MostSold
		n := 1 + sort.Search(most, func(n int) bool {
			g := f.clone()
			g.Herds[i].Head -= n + 1
			_, days := g.lack()
			return days == 0
		})
		if n <= most && (!ok || n < best.Head) {
			best, ok = Close{Way: FewerHead, Herd: h.ID, Head: n, On: f.From}, true
		}
	}
	return best, ok
}

// wean says what weaning the herd that eats most for its calves leaves, on the first
// day. It is no way where no calf eats.
func (f Fall) wean(now Feed) (best Close, ok bool) {
	least := now.Short - crumb
	for i, h := range f.Herds {
		g := f.clone()
		g.Herds[i].Weaned = f.From
		if lb, days := g.lack(); lb < least {
			least = lb
			best, ok = Close{Way: WeanNow, Herd: h.ID, On: f.From, ShortDays: days}, true
		}
	}
	return best, ok
}

// useSpare opens the first spare native paddock that closes the gap by itself,
// or the one that leaves the least.
func (f Fall) useSpare(now Feed) (best Close, ok bool) {
	least, r := now.Short-crumb, newWalk(f).rations
	for _, s := range f.Spare {
		if lb, days := r.lack(s.Standing); lb < least {
			least = lb
			best, ok = Close{Way: UseNative, Paddock: s.ID, On: f.From, ShortDays: days}, true
		}
		if ok && best.Enough() {
			break
		}
	}
	return best, ok
}

// clone is a copy whose herds and ground may be changed.
func (f Fall) clone() Fall {
	f.Herds = append([]Herd(nil), f.Herds...)
	f.Ground = append([]Ground(nil), f.Ground...)
	return f
}
