package report

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/herd"
	"stubbled/scheduler/season"
)

var fitWords = map[herd.Fit]string{
	herd.Fits:    "may be used whole",
	herd.Lone:    "may be used whole, the smallest that can",
	herd.PartOf:  "part of it, behind a temporary fence",
	herd.TooBig:  "too big for what is allowed",
	herd.LastOne: "used last fall",
}

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
	return printJSON(w, map[string]any{"from": plan.From.String(), "to": plan.To.String(), "herds": herds, "guessed": plan.Guessed})
}

// Feed is where each herd eats from the first cutoff to the end of rest.
func Feed(w io.Writer, sight season.Sight, plan season.FeedPlan) error {
	fmt.Fprintf(w, "%s, where the herd eats from %s to about %s, as of %s\n", sight.Farm.Name, ShortDay(plan.From), longDay(plan.To), longDay(sight.Today))
	for _, h := range plan.Feed.Herds {
		if h.ShortDays == 0 {
			fmt.Fprintf(w, "\n%s: fed every day. Eats %.0f lb", h.ID, h.Supply)
		} else {
			fmt.Fprintf(w, "\n%s: SHORT on %d days from %s. Wants %.0f lb, finds %.0f lb", h.ID, h.ShortDays, ShortDay(h.FirstShort), h.Demand, h.Supply)
		}
		if h.Stockpile > 0 {
			fmt.Fprintf(w, "; %.0f lb of it would have been winter stockpile", h.Stockpile)
		}
		fmt.Fprintln(w)
		t := tabwriter.NewWriter(w, 2, 0, 2, ' ', 0)
		for _, s := range stretches(h.Days) {
			fmt.Fprintf(t, "  %s to %s\t%s\n", ShortDay(s.from), ShortDay(s.to), groundWords(sight, s.ground))
		}
		t.Flush()
		for _, c := range h.Closes {
			fmt.Fprintf(w, "  To close it: %s\n", closeWords(sight, c))
		}
	}
	if len(plan.Guessed) > 0 {
		fmt.Fprintf(w, "\nNot read within the last month, taken at the height to begin grazing: %s. A reading makes this plan better.\n", strings.Join(plan.Guessed, ", "))
	}
	fmt.Fprintln(w, "A rough plan: pounds per inch differ several-fold between stands. Your extension office knows local figures.")
	return nil
}

// A stretch is days in a row on the same ground.
type stretch struct {
	from, to civil.Date
	ground   string
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
		if n := len(out) - 1; n >= 0 && out[n].ground == ground {
			out[n].to = d.Date
			continue
		}
		out = append(out, stretch{d.Date, d.Date, ground})
	}
	return out
}

func groundWords(sight season.Sight, ids string) string {
	var names []string
	for id := range strings.SplitSeq(ids, "+") {
		if p, ok := sight.Farm.Paddock(id); ok {
			names = append(names, p.Name)
		} else {
			names = append(names, id)
		}
	}
	return strings.Join(names, " and ")
}

func closeWords(sight season.Sight, c herd.Close) string {
	var text string
	switch c.Way {
	case herd.FeedHay:
		text = fmt.Sprintf("%.0f lb of hay as fed (%.0f days' worth), on hand by %s", c.HayAsFed, c.HayDays, ShortDay(c.On))
	case herd.FewerHead:
		text = fmt.Sprintf("%d head fewer by %s", c.Head, ShortDay(c.On))
	case herd.WeanNow:
		text = fmt.Sprintf("wean by %s", ShortDay(c.On))
	case herd.UseNative:
		text = fmt.Sprintf("graze %s through its rest on purpose, and write it under fall_use", groundWords(sight, c.Paddock))
	}
	if !c.Enough() {
		text += fmt.Sprintf("; %d days are still short", c.ShortDays)
	}
	return text
}
