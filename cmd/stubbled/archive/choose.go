package archive

import (
	"context"
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"

	"stubbled/scheduler/frost"
	"stubbled/scheduler/station"
)

// A Choice is a station near a farm with its record.
type Choice struct {
	station.Candidate
	Record *frost.Record
	Data   []byte
	From   string // where it was fetched
}

// How many records are looked into, and how many stations are shown.
const (
	lookedInto = 6
	shown      = 3
)

// Choose fetches the records of the stations that promise most, and gives the
// best three by what is really in them. A record that cannot be had or planned
// on is passed over.
func (a Archive) Choose(ctx context.Context, place station.Place) ([]Choice, error) {
	all, err := a.Stations(ctx)
	if err != nil {
		return nil, err
	}
	near := station.Near(place, all, a.Now.Year())
	byID := map[string]Choice{}
	var usable []station.Candidate
	var failed error
	for _, c := range near[:min(lookedInto, len(near))] {
		a.Say(fmt.Sprintf("fetching the record of %s, %.0f miles away", c.Name, c.Miles))
		url := strings.TrimSuffix(a.Base, "/") + "/all/" + c.ID + ".dly"
		data, r, err := Record(ctx, url)
		if err == nil {
			_, err = r.Distribution(frost.Freeze32F, frost.Pick{}).PlanOffset(frost.Average)
		}
		if err != nil {
			failed = err
			a.Say(fmt.Sprintf("passed over: %v", err))
			continue
		}
		c.Falls, c.To = r.Distribution(frost.Freeze32F, frost.Pick{}).Counted(), r.Last().Year
		byID[c.ID] = Choice{c, r, data, url}
		usable = append(usable, c)
	}
	if len(usable) == 0 {
		if failed != nil {
			return nil, fmt.Errorf("no record near can be used, the last since: %w", failed)
		}
		return nil, fmt.Errorf("no station within reach has a record long and fresh enough; give the date by hand")
	}
	station.Sort(usable, a.Now.Year())
	var best []Choice
	for _, c := range usable[:min(shown, len(usable))] {
		best = append(best, byID[c.ID])
	}
	return best, nil
}

// Print shows stations side by side, for somebody to choose by what they know
// of their own hollows.
func Print(out io.Writer, best []Choice) error {
	w := tabwriter.NewWriter(out, 2, 0, 2, ' ', 0)
	fmt.Fprintln(w, "\tstation\tmiles\theight\tfalls\tto\tfirst 32F, average\tone fall in five by")
	for i, c := range best {
		d := c.Record.Distribution(frost.Freeze32F, frost.Pick{})
		mean, _ := d.PlanOffset(frost.Average)
		careful := "-"
		if offset, err := d.PlanOffset(frost.Level(20)); err == nil {
			careful = day(offset)
		}
		fmt.Fprintf(w, "%d\t%s (%s)\t%.0f\t%+.0f ft\t%d\t%d\t%s\t%s\n", i+1, c.Name, c.ID, c.Miles, math.Round(c.Feet/10)*10, c.Falls, c.To, day(mean), careful)
	}
	if err := w.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintln(out, "The first is likely nearest to your own. In a hollow frost comes earlier than at a station on\nthe hill: take the one that you know your ground to be like, or give a low paddock a frost_offset.")
	return err
}

func day(offset float64) string {
	d := frost.DateIn(2001, offset)
	return fmt.Sprintf("%.3s %d", d.Month, d.Day)
}
