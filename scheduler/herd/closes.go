package herd

import (
	"math"
	"sort"

	"github.com/golang-sql/civil"
)

// Way is one way to close a gap in the feed.
type Way string

// The ways, in the order they are told.
const (
	FeedHay   Way = "hay"
	FewerHead Way = "fewer head"
	WeanNow   Way = "wean"
	UseNative Way = "use a native paddock"
)

// Close is one way to close the gap, alone.
type Close struct {
	Way       Way
	HayDry    float64    // lb of dry matter to put out, what is wasted included
	HayAsFed  float64    // the same as it lies in the bale
	HayDays   float64    // days' worth of the herd's demand
	Head      int        // head to go by On
	Paddock   string     // native paddock to use on purpose
	On        civil.Date // day it must be done by
	ShortDays int        // days this herd is still short after it
	Short     float64    // lb it still lacks
}

// Enough reports whether this way alone closes the gap.
func (c Close) Enough() bool { return c.ShortDays == 0 }

// Hay is the hay to put out for so much forage lacking, as dry matter and as
// fed, in lb: what is wasted in feeding is added.
func Hay(shortLb float64) (dry, asFed float64) {
	dry = over(shortLb, HayEaten.Value)
	return dry, AsFed(dry, HayMoisture.Value)
}

// AsFed is the weight as fed of so much dry matter at a moisture share; 30 lb at
// 0.6 is 75 lb. A moisture of 1 or more gives 0.
func AsFed(dryLb, moisture float64) float64 { return over(atLeast0(dryLb), 1-atLeast0(moisture)) }

// closes works out every way for one herd that is short.
func (f Fall) closes(herd int, now Feed) []Close {
	h := now.Herds[herd]
	dry, asFed := Hay(h.Short)
	out := []Close{{
		Way: FeedHay, HayDry: dry, HayAsFed: asFed, On: h.FirstShort,
		HayDays: over(h.Short, over(h.Demand, float64(len(h.Days)))),
	}}
	if c, ok := f.fewer(herd); ok {
		out = append(out, c)
	}
	if c, ok := f.wean(herd, h); ok {
		out = append(out, c)
	}
	if c, ok := f.useSpare(herd, h); ok {
		out = append(out, c)
	}
	return out
}

// fewer finds the fewest head to go at the start so that the herd is not short.
// The fewer head the less is eaten each day, so they are found by halving. It is
// no way where the whole herd would have to go.
func (f Fall) fewer(herd int) (Close, bool) {
	after := func(gone int) HerdFeed {
		g := f.clone()
		g.Herds[herd].Head -= gone
		return g.follow().Herds[herd]
	}
	head := f.Herds[herd].Head
	n := sort.Search(head, func(n int) bool { return after(n).ShortDays == 0 })
	return Close{Way: FewerHead, Head: n, On: f.From}, n < head
}

// wean says what weaning on the first day would leave. It is no way where no
// calf eats.
func (f Fall) wean(herd int, now HerdFeed) (Close, bool) {
	g := f.clone()
	g.Herds[herd].Weaned = f.From
	w := g.follow().Herds[herd]
	if now.Demand-w.Demand < 1e-6 {
		return Close{}, false
	}
	return Close{Way: WeanNow, On: f.From, ShortDays: w.ShortDays, Short: w.Short}, true
}

// useSpare opens the first spare native paddock that closes the gap by itself,
// or the one that leaves the least.
func (f Fall) useSpare(herd int, now HerdFeed) (Close, bool) {
	best, found := Close{Short: math.Inf(1)}, false
	for _, s := range f.Spare {
		g := f.clone()
		s.Native, s.Until = true, civil.Date{}
		g.Ground = append(g.Ground, s)
		a := g.follow().Herds[herd]
		c := Close{Way: UseNative, Paddock: s.ID, On: f.From, ShortDays: a.ShortDays, Short: a.Short}
		if !found && a.Short < now.Short-1e-6 || found && c.Short < best.Short-1e-6 {
			best, found = c, true
		}
		if found && best.Enough() {
			break
		}
	}
	return best, found
}

// clone is a copy whose herds and ground may be changed.
func (f Fall) clone() Fall {
	f.Herds = append([]Herd(nil), f.Herds...)
	f.Ground = append([]Ground(nil), f.Ground...)
	return f
}
