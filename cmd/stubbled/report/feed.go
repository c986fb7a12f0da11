package report

import (
	"fmt"
	"io"
	"strings"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/herd"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// span is a figure with the grass taken to stand there, and with as little and as
// much as is likely on ground that nobody read lately.
func span(low, middle, high any) object {
	return object{{"low", low}, {"middle", middle}, {"high", high}}
}

// FeedJSON is Feed for other programs. A stop without a paddock is hay.
func FeedJSON(w io.Writer, sight season.Sight, plan season.FeedPlan) error {
	herds := make([]object, len(plan.Feed.Herds))
	for i, h := range plan.Feed.Herds {
		bad, good := plan.Poor.Herds[i], plan.Good.Herds[i]
		stops := []object{}
		for _, s := range (herd.Feed{Herds: []herd.HerdFeed{h}}).Stops() {
			stops = append(stops, object{{"paddock", orNull(s.Ground)}, {"in", s.In.String()}, {"out", s.Out.String()}})
		}
		herds[i] = object{
			{"id", h.ID}, {"demand_lb", h.Demand}, {"supply_lb", span(bad.Supply, h.Supply, good.Supply)}, {"first_short", isoDate(h.FirstShort)},
			{"short_days", span(good.ShortDays, h.ShortDays, bad.ShortDays)}, {"stockpile_given_up_lb", h.Stockpile},
			{"closes", []object{}}, // they are the farm's
			{"stops", stops},
		}
	}
	closes := []object{}
	for _, c := range plan.Feed.Closes {
		j := object{{"way", string(c.Way)}}
		if hay := plan.Hay; c.Way == herd.FeedHay {
			j = append(j, object{{"hay_lb", span(hay.ToGet(plan.Good.Short), c.HayAsFed, hay.ToGet(plan.Poor.Short))}}...)
		}
		closes = append(closes, append(j, object{
			{"hay_days,omitempty", c.HayDays}, {"herd,omitempty", c.Herd}, {"head,omitempty", c.Head}, {"paddock,omitempty", c.Paddock},
			{"by", isoDate(c.On)}, {"short_days_left", c.ShortDays}, {"enough", c.Enough()},
		}...))
	}
	return JSON(w, object{
		{"from", plan.From.String()}, {"to", plan.To.String()}, {"herds", herds}, {"closes", closes}, {"guessed", plan.Guessed},
		{"changed", changed(sight)}, {"settle", orNull(plan.Settle)}, {"stockpile_days", plan.Feed.StockpileDays}, {"lasts_to", isoDate(plan.Winter.RunsOut)}, {"green_up", isoDate(plan.Winter.GreenUp)},
	})
}

// Feed is where each herd eats up to the end of rest.
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

// daysShort are the days short, as a range where it is wide.
func daysShort(plan season.FeedPlan) string {
	low, high := ladder.Spread(plan.ShortDays())
	return between(low, high, "%d")
}

// hayShort is the hay still to get, lb as fed.
func hayShort(hay herd.Hay, plan season.FeedPlan) string {
	low, high := ladder.Spread(hay.ToGet(plan.Good.Short), hay.ToGet(plan.Feed.Short), hay.ToGet(plan.Poor.Short))
	return between(low, high, "%.0f") + " lb"
}

func between[T int | float64](low, high T, form string) string {
	if low == high {
		return fmt.Sprintf(form, high)
	}
	return fmt.Sprintf(form+" to "+form, low, high)
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

// changed is why the plan that is kept sends herds elsewhere than the one before.
func changed(sight season.Sight) []object {
	all := []object{}
	for _, c := range sight.Changed {
		j := object{{"herds", c.Herds}, {"was", c.Was}, {"now", c.Now}, {"at", c.At}, {"why,omitempty", string(c.Why)}, {"saves_days,omitempty", c.Days}}
		if f := c.Fact; f != nil {
			j = append(j, object{{"fact", object{{"kind", string(f.Kind)}, {"paddock", orNull(f.Paddock)}, {"date", f.Day.String()}}}}...)
		}
		all = append(all, j)
	}
	return all
}
