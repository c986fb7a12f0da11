package notify

import (
	"bytes"
	"fmt"

	"github.com/golang-sql/civil"

	"stubbled/notify/picture"
	"stubbled/notify/wording"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// SeasonChart is the season's picture of the paddocks of a plan that rest.
func SeasonChart(lang, farm string, today civil.Date, lines []ladder.Shut) picture.SeasonChart {
	w := wording.Chart(wording.Options{Lang: lang}, farm)
	c := picture.SeasonChart{Today: today, Labels: picture.SeasonLabels{
		Title: w.Title, Open: w.Open, Rest: w.Rest, Spread: w.Spread, Today: w.Today, Reading: w.Reading, FallUse: w.FallUse,
		Month: w.Month, Day: w.Day, Rule: w.Rule,
	}}
	for _, l := range lines {
		if !l.Native || l.Cutoff.IsZero() || l.Frost.IsZero() {
			continue
		}
		r := picture.SeasonRow{
			Name: l.Name, Cutoff: l.Cutoff, Frost: l.Frost, Early: l.Early, Late: l.Latest, End: l.End, Ended: l.Ended,
			Leave: l.Leave, Target: l.Target, FallUse: l.FallUse,
		}
		for _, p := range l.Readings {
			r.Readings = append(r.Readings, picture.Height{Day: p.Day, Inches: p.In})
		}
		c.Rows = append(c.Rows, r)
	}
	return c
}

// pictures draws what goes with a mail; a mail without paddocks has none.
func pictures(lang, farm string, kind ladder.Kind, facts []ladder.Facts) ([]store.File, []string, error) {
	if kind != ladder.MondayMail || len(facts) == 0 {
		return nil, nil, nil
	}
	c := SeasonChart(lang, farm, facts[0].Day, facts[0].Shuts)
	if len(c.Rows) == 0 {
		return nil, nil, nil
	}
	var out bytes.Buffer
	if err := c.Write(&out, picture.PNG); err != nil {
		return nil, nil, fmt.Errorf("draw the season: %w", err)
	}
	return []store.File{{Name: "season.png", Type: "image/png", CID: wording.Season, Data: out.Bytes()}}, []string{wording.Season}, nil
}
