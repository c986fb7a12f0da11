package report

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"time"

	"stubbled/cmd/stubbled/usage"
	"stubbled/config"
	"stubbled/notify"
	"stubbled/notify/picture"
	"stubbled/notify/wording"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// Chart writes a chart in the form of its file's ending.
func Chart(path string, chart picture.Chart) error {
	form := picture.Format(strings.TrimPrefix(strings.ToLower(filepath.Ext(path)), "."))
	if form != picture.PNG && form != picture.SVG {
		return usage.Errorf("a chart is a .png or an .svg file, got %q", path)
	}
	data, err := chart.In(form)
	if err != nil {
		return err
	}
	return WriteFile(path, data)
}

func SeasonChart(path string, farm *config.Farm, sight season.Sight, views []season.View) error {
	return Chart(path, notify.SeasonChart(farm.FirstManager().Language, sight.Farm.Name, sight.Today, lines(views)))
}

func lines(views []season.View) []ladder.Shut {
	all := make([]ladder.Shut, len(views))
	for i := range views {
		all[i] = ladder.Line(&views[i], views[i].Today)
	}
	return all
}

// FrostChart draws the spread of a station's first frosts.
func FrostChart(path string, report frost.Report) error {
	c := picture.FrostChart{Threshold: report.Plan.String(), Spread: report.Planned().Distribution, PlanOffset: math.NaN(), Rest: frost.RestChoices()[0]}
	if offset, err := c.Spread.PlanOffset(c.PlanOn); err == nil {
		c.PlanOffset = offset
	}
	return Chart(path, c)
}

// Calendar writes every cutoff as an entry of its own, which a calendar moves
// when the cutoff does.
func Calendar(path string, farm *config.Farm, views []season.View, now time.Time) error {
	data, err := notify.Calendar(Voice(farm, farm.FirstManager().Language), farm.Name, lines(views), now)
	if err != nil {
		return fmt.Errorf("calendar: %w", err)
	}
	return WriteFile(path, data)
}

// FeedPicture is where the herds eat, drawn.
func FeedPicture(sight season.Sight, plan season.FeedPlan, o wording.Options) picture.FeedChart {
	c := picture.FeedChart{Words: wording.OnPage(o), Farm: sight.Farm.Name, Guessed: len(plan.Guessed) > 0}
	for i, h := range plan.Feed.Herds {
		for t, d := range h.Days {
			if t == len(c.Days) {
				c.Days = append(c.Days, picture.FeedDay{Day: d.Date})
			}
			day := &c.Days[t]
			day.Demand += d.Demand
			day.Eaten += d.Eaten
			if len(plan.Guessed) > 0 {
				day.Low += plan.Poor.Herds[i].Days[t].Eaten
				day.High += plan.Good.Herds[i].Days[t].Eaten
			}
		}
	}
	for _, s := range plan.Feed.Stops() {
		for t := s.In.DaysSince(plan.From); s.Ground != "" && t < s.Out.DaysSince(plan.From); t++ {
			c.Days[t].Ground = append(c.Days[t].Ground, groundWords(sight.Farm, s.Ground))
		}
	}
	return c
}

// WriteFile writes what a person asked for.
func WriteFile(path string, data []byte) error {
	if err := os.WriteFile(path, data, 0o644); err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	return nil
}
