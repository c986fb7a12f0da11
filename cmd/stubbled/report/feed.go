package report

import (
	"io"
	"strings"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/herd"
	"stubbled/scheduler/season"
)

// FeedJSON is Feed for other programs.
func FeedJSON(w io.Writer, plan season.FeedPlan) error {
	herds := make([]object, len(plan.Feed.Herds))
	for i, h := range plan.Feed.Herds {
		closes := []object{}
		for _, c := range h.Closes {
			closes = append(closes, object{
				{"way", string(c.Way)}, {"hay_lb,omitempty", c.HayAsFed}, {"hay_days,omitempty", c.HayDays}, {"head,omitempty", c.Head},
				{"paddock,omitempty", c.Paddock}, {"by", isoDate(c.On)}, {"short_days_left", c.ShortDays}, {"enough", c.Enough()},
			})
		}
		herds[i] = object{
			{"id", h.ID}, {"demand_lb", h.Demand}, {"supply_lb", h.Supply}, {"first_short", isoDate(h.FirstShort)}, {"short_days", h.ShortDays},
			{"stockpile_given_up_lb", h.Stockpile}, {"closes", closes},
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
