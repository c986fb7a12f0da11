package report

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/cmd/stubbled/usage"
	"stubbled/config"
	"stubbled/notify"
	"stubbled/notify/picture"
	"stubbled/notify/wording"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// formatOf is the form of a chart by its file's ending.
func formatOf(path string) (picture.Format, error) {
	switch ext := strings.ToLower(filepath.Ext(path)); ext {
	case ".png":
		return picture.PNG, nil
	case ".svg":
		return picture.SVG, nil
	default:
		return "", usage.Errorf("a chart is a .png or an .svg file, got %q", path)
	}
}

func writeChart(path string, draw func(*bytes.Buffer, picture.Format) error) error {
	f, err := formatOf(path)
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if err := draw(&out, f); err != nil {
		return err
	}
	return writeFile(path, out.Bytes())
}

// SeasonChart draws the season.
func SeasonChart(path string, sight season.Sight, views []season.View) error {
	c := notify.SeasonChart("en", sight.Farm.Name, sight.Today, lines(views))
	return writeChart(path, func(b *bytes.Buffer, f picture.Format) error { return c.Write(b, f) })
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
	c := picture.FrostChart{Threshold: report.Plan.String(), Spread: report.Planned().Distribution, PlanOffset: math.NaN(), Rest: 45}
	if offset, err := c.Spread.PlanOffset(c.PlanOn); err == nil {
		c.PlanOffset = offset
	}
	return writeChart(path, func(b *bytes.Buffer, f picture.Format) error { return c.Write(b, f) })
}

// Calendar writes every cutoff as an entry of its own, which a calendar moves
// when the cutoff does.
func Calendar(path string, farm *config.Farm, views []season.View, now time.Time) error {
	o := wording.Options{Lang: "en", Centimetres: farm.Units == config.Centimetres}
	data, err := notify.Calendar(o, farm.Name, lines(views), now)
	if err != nil {
		return fmt.Errorf("calendar: %w", err)
	}
	return writeFile(path, data)
}

// FeedChart draws demand and what is found day by day.
func FeedChart(path string, sight season.Sight, plan season.FeedPlan) error {
	c := picture.FeedChart{Title: fmt.Sprintf("%s: where the herd eats", sight.Farm.Name), Note: "lb of dry matter a day: the line is wanted, grey is found, white is hay"}
	byDay := map[civil.Date]int{}
	for _, h := range plan.Feed.Herds {
		for _, d := range h.Days {
			i, ok := byDay[d.Date]
			if !ok {
				i = len(c.Days)
				byDay[d.Date] = i
				c.Days = append(c.Days, picture.FeedDay{Day: d.Date})
			}
			day := &c.Days[i]
			day.Demand += d.Demand
			day.Eaten += d.Eaten
			for _, b := range d.Bites {
				day.Ground = append(day.Ground, groundWords(sight.Farm, b.Ground))
			}
		}
	}
	return writeChart(path, func(b *bytes.Buffer, f picture.Format) error { return c.Write(b, f) })
}

// writeFile writes what a person asked for.
func writeFile(path string, data []byte) error {
	if err := os.WriteFile(path, data, 0o644); err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	return nil
}
