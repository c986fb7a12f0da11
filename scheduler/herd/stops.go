package herd

import (
	"slices"

	"github.com/golang-sql/civil"
)

// Stop is one stay of herds that move together, as a plan has it.
type Stop struct {
	Ground  string // empty: no ground carries them, they are on hay
	Herds   []string
	In, Out civil.Date // first day in; the day they go on
}

// Stops are the stays of all herds in the order of their first days. A day belongs
// to the ground that carries most of it, where that is half of the day or more, else
// to hay.
func (f Feed) Stops() []Stop {
	var out []Stop
	for _, h := range f.Herds {
		for _, s := range h.stops() {
			if i := slices.IndexFunc(out, func(o Stop) bool { return o.Ground == s.Ground && o.In == s.In && o.Out == s.Out }); i >= 0 {
				out[i].Herds = append(out[i].Herds, h.ID)
				continue
			}
			out = append(out, s)
		}
	}
	slices.SortStableFunc(out, func(a, b Stop) int { return a.In.DaysSince(b.In) })
	return out
}

func (h HerdFeed) stops() []Stop {
	var out []Stop
	for _, d := range h.Days {
		ground, most := "", d.Demand/2-crumb
		for _, b := range d.Bites {
			if b.Lb >= most {
				ground, most = b.Ground, b.Lb
			}
		}
		if n := len(out) - 1; n >= 0 && out[n].Ground == ground {
			out[n].Out = d.Date.AddDays(1)
			continue
		}
		out = append(out, Stop{ground, []string{h.ID}, d.Date, d.Date.AddDays(1)})
	}
	return steady(out)
}

// steady leaves out a day elsewhere between two stays on the same ground: nobody moves a
// herd for it.
func steady(stops []Stop) (out []Stop) {
	for i, s := range stops {
		switch n := len(out) - 1; {
		case n >= 0 && out[n].Ground == s.Ground:
			out[n].Out = s.Out
		case n >= 0 && i+1 < len(stops) && stops[i+1].Ground == out[n].Ground && s.Out.DaysSince(s.In) == 1:
			out[n].Out = s.Out
		default:
			out = append(out, s)
		}
	}
	return out
}
