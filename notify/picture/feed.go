package picture

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/golang-sql/civil"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// FeedDay is one day of all herds.
type FeedDay struct {
	Day    civil.Date
	Demand float64 // lb of dry matter
	Eaten  float64
	Ground []string // where they eat, as people say it
}

// FeedChart is what the herds want and find from the first cutoff to the end
// of rest, day by day: a heavy line for what they want, a shaded area for what
// they find, and the names of the ground above it. White under the line is hay.
type FeedChart struct {
	Title, Note string
	Days        []FeedDay
}

const (
	feedWidth  = 6 * vg.Inch
	feedHeight = 3.4 * vg.Inch
)

func (c FeedChart) Write(w io.Writer, f Format) error {
	if len(c.Days) == 0 {
		return errors.New("chart of the feed: no day to draw")
	}
	p, err := c.plot()
	if err != nil {
		return fmt.Errorf("chart of the feed: %w", err)
	}
	return write(w, f, feedWidth, feedHeight, func(dc draw.Canvas) {
		p.Draw(title(draw.Crop(dc, 6, -10, 6, -6), c.Title, c.Note))
	})
}

func (c FeedChart) plot() (*plot.Plot, error) {
	p := plot.New()
	dress(p)
	var eaten, demand plotter.XYs
	top := 0.0
	for i, d := range c.Days {
		x := float64(i)
		eaten = append(eaten, plotter.XY{X: x, Y: d.Eaten}, plotter.XY{X: x + 1, Y: d.Eaten})
		demand = append(demand, plotter.XY{X: x, Y: d.Demand}, plotter.XY{X: x + 1, Y: d.Demand})
		top = max(top, d.Demand, d.Eaten)
	}
	area := append(slices.Clone(eaten), plotter.XY{X: float64(len(c.Days)), Y: 0}, plotter.XY{X: 0, Y: 0})
	found, err := plotter.NewPolygon(area)
	if err != nil {
		return nil, err
	}
	found.Color, found.LineStyle = shade, thin
	wants, err := plotter.NewLine(demand)
	if err != nil {
		return nil, err
	}
	wants.LineStyle = heavy
	names, err := c.names(top)
	if err != nil {
		return nil, err
	}
	p.Add(found, wants, names)
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, float64(len(c.Days)), 0, top*1.35
	p.X.Tick.Marker = plot.ConstantTicks(c.ticks())
	return p, nil
}

// ticks marks the first day and each 1st and 15th.
func (c FeedChart) ticks() []plot.Tick {
	var ticks []plot.Tick
	for i, d := range c.Days {
		if d.Day.Day == 1 || d.Day.Day == 15 || i == 0 && d.Day.Day < 11 {
			ticks = append(ticks, plot.Tick{Value: float64(i), Label: fmt.Sprintf("%s %d", d.Day.Month.String()[:3], d.Day.Day)})
		}
	}
	return ticks
}

// names writes the ground over each stretch of days on it, on alternate rows
// so that short stretches do not run into each other.
func (c FeedChart) names(top float64) (*plotter.Labels, error) {
	var at plotter.XYs
	var texts []string
	for i, row := 0, 0; i < len(c.Days); row++ {
		ground := c.ground(i)
		j := i
		for j < len(c.Days) && c.ground(j) == ground {
			j++
		}
		at = append(at, plotter.XY{X: float64(i), Y: top * (1.05 + 0.1*float64(row%3))})
		texts = append(texts, ground)
		i = j
	}
	l, err := plotter.NewLabels(plotter.XYLabels{XYs: at, Labels: texts})
	if err != nil {
		return nil, err
	}
	for i := range l.TextStyle {
		l.TextStyle[i] = words(9)
	}
	return l, nil
}

// ground is where the herds eat on a day; hay where they are short.
func (c FeedChart) ground(i int) string {
	d := c.Days[i]
	names := slices.Compact(slices.Sorted(slices.Values(d.Ground)))
	if d.Eaten < d.Demand*0.99 {
		names = append(names, "hay")
	}
	return strings.Join(names, ", ")
}
