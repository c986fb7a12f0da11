package report

import (
	"io"
	"strings"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/herd"
	"stubbled/scheduler/season"
)

type closeJSON struct {
	Way       string  `json:"way"`
	HayLb     float64 `json:"hay_lb,omitempty"`
	HayDays   float64 `json:"hay_days,omitempty"`
	Head      int     `json:"head,omitempty"`
	Paddock   string  `json:"paddock,omitempty"`
	By        *string `json:"by"`
	ShortDays int     `json:"short_days_left"`
	Enough    bool    `json:"enough"`
}

type herdJSON struct {
	ID         string      `json:"id"`
	Demand     float64     `json:"demand_lb"`
	Supply     float64     `json:"supply_lb"`
	FirstShort *string     `json:"first_short"`
	ShortDays  int         `json:"short_days"`
	Stockpile  float64     `json:"stockpile_given_up_lb"`
	Closes     []closeJSON `json:"closes"`
}

// FeedJSON is Feed for other programs.
func FeedJSON(w io.Writer, plan season.FeedPlan) error {
	herds := make([]herdJSON, len(plan.Feed.Herds))
	for i, h := range plan.Feed.Herds {
		herds[i] = herdJSON{ID: h.ID, Demand: h.Demand, Supply: h.Supply, FirstShort: isoDate(h.FirstShort), ShortDays: h.ShortDays, Stockpile: h.Stockpile, Closes: []closeJSON{}}
		for _, c := range h.Closes {
			herds[i].Closes = append(herds[i].Closes, closeJSON{
				Way: string(c.Way), HayLb: c.HayAsFed, HayDays: c.HayDays, Head: c.Head, Paddock: c.Paddock, By: isoDate(c.On), ShortDays: c.ShortDays, Enough: c.Enough(),
			})
		}
	}
	return JSON(w, map[string]any{"from": plan.From.String(), "to": plan.To.String(), "herds": herds, "guessed": plan.Guessed})
}

// Feed is where each herd eats from the first cutoff to the end of rest.
func Feed(w io.Writer, sight season.Sight, plan season.FeedPlan) error {
	return printPage(w, "feed.txt", sight.Farm, struct {
		season.Sight
		season.FeedPlan
	}{sight, plan})
}

// A stretch is days in a row on the same ground.
type stretch struct {
	From, To civil.Date
	Ground   string
}

func stretches(days []herd.Day) []stretch {
	var out []stretch
	for _, d := range days {
		var names []string
		for _, b := range d.Bites {
			names = append(names, b.Ground)
		}
		if d.Short() > 0 {
			names = append(names, "hay")
		}
		ground := strings.Join(names, "+")
		if n := len(out) - 1; n >= 0 && out[n].Ground == ground {
			out[n].To = d.Date
			continue
		}
		out = append(out, stretch{d.Date, d.Date, ground})
	}
	return out
}

// groundWords names the ground that ids with pluses between stand for.
func groundWords(farm *season.Farm, ids string) string {
	var names []string
	for id := range strings.SplitSeq(ids, "+") {
		if p, ok := farm.Paddock(id); ok {
			names = append(names, p.Name)
		} else {
			names = append(names, id)
		}
	}
	return strings.Join(names, " and ")
}
