package picture

import (
	"errors"
	"fmt"
	"image/color"
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
	// Low and High are what is found where ground that nobody read lately has as little
	// grass as is likely, and as much.
	Low, High float64
	Ground    []string // where they eat, as people say it
}

// FeedChart is what the herds want and find from the first cutoff to the end
// of rest, day by day: a heavy line for what they want, a shaded area for what
// they find, paler to what is found at most, dashed what is found at least, and the
// names of the ground above it. White under the line is hay.
type FeedChart struct {
	Words
	Farm    string
	Guessed bool // some of the ground was not read lately
	Days    []FeedDay
}

const (
	feedWidth  = 6 * vg.Inch
	feedHeight = 3.4 * vg.Inch
	feedSides  = 0.8 * vg.Inch // beside the days: the pounds and the margins
)

func (c FeedChart) In(f Format) ([]byte, error) {
	if len(c.Days) == 0 {
		return nil, errors.New("chart of the feed: no day to draw")
	}
	p, err := c.plot()
	if err != nil {
		return nil, fmt.Errorf("chart of the feed: %w", err)
	}
	note := "chart.feed.note"
	if c.Guessed {
		note = "chart.feed.range"
	}
	return drawn(f, feedWidth, feedHeight, func(dc draw.Canvas) {
		p.Draw(title(draw.Crop(dc, 6, -10, 6, -6), c.Say("chart.feed", "farm", c.Farm), c.Say(note)))
	})
}

func (c FeedChart) plot() (*plot.Plot, error) {
	p := plot.New()
	dress(p)
	top := 0.0
	for _, d := range c.Days {
		top = max(top, d.Demand)
	}
	for _, of := range []struct {
		lb    func(FeedDay) float64
		color color.Color // under the line; nil for none
		line  draw.LineStyle
	}{
		{func(d FeedDay) float64 { return d.High }, pale, thin},
		{func(d FeedDay) float64 { return d.Eaten }, shade, thin},
		{func(d FeedDay) float64 { return d.Low }, nil, dashed},
		{func(d FeedDay) float64 { return d.Demand }, nil, heavy},
	} {
		if err := c.steps(p, of.lb, of.color, of.line); err != nil {
			return nil, err
		}
	}
	p.Add(feedNames{c, top})
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, float64(len(c.Days)), 0, top*feedHead
	p.X.Tick.Marker, p.Y.Tick.Marker = plot.ConstantTicks(c.ticks()), plot.TickerFunc(wholePounds)
	return p, nil
}

// steps draws a line that is level through each day, and what is under it in a color.
// What is nothing on every day is not drawn.
func (c FeedChart) steps(p *plot.Plot, lb func(FeedDay) float64, under color.Color, style draw.LineStyle) error {
	if !slices.ContainsFunc(c.Days, func(d FeedDay) bool { return lb(d) > 0 }) {
		return nil
	}
	var level plotter.XYs
	for i, d := range c.Days {
		level = append(level, plotter.XY{X: float64(i), Y: lb(d)}, plotter.XY{X: float64(i + 1), Y: lb(d)})
	}
	if under != nil {
		area, err := plotter.NewPolygon(append(slices.Clone(level), plotter.XY{X: float64(len(c.Days)), Y: 0}, plotter.XY{X: 0, Y: 0}))
		if err != nil {
			return err
		}
		area.Color, area.LineStyle.Width = under, 0
		p.Add(area)
	}
	line, err := plotter.NewLine(level)
	if err != nil {
		return err
	}
	line.LineStyle = style
	p.Add(line)
	return nil
}

// wholePounds are marks without decimals.
func wholePounds(from, to float64) []plot.Tick {
	ticks := plot.DefaultTicks{}.Ticks(from, to)
	for i := range ticks {
		if ticks[i].Label != "" {
			ticks[i].Label = fmt.Sprintf("%.0f", ticks[i].Value)
		}
	}
	return ticks
}

// ticks marks each 1st, and the first day and each 15th where its date runs into no
// other.
func (c FeedChart) ticks() []plot.Tick {
	var ticks []plot.Tick
	day := (feedWidth - feedSides) / vg.Length(len(c.Days))
	for _, marked := range []func(i int) bool{
		func(i int) bool { return c.Days[i].Day.Day == 1 },
		func(i int) bool { return c.Days[i].Day.Day == 15 },
		func(i int) bool { return i == 0 },
	} {
		for i := range c.Days {
			name, at := c.Short(c.Days[i].Day), vg.Length(i)*day
			room := words(10).Width(name) + 6
			if marked(i) && !slices.ContainsFunc(ticks, func(t plot.Tick) bool { return at-vg.Length(t.Value)*day < room && vg.Length(t.Value)*day-at < room }) {
				ticks = append(ticks, plot.Tick{Value: float64(i), Label: name})
			}
		}
	}
	return ticks
}

// feedHead is how far the scale goes above what is wanted, for the names.
const feedHead = 1.5

// feedNames writes the ground over each stretch of days on it, on the first row
// where nothing is written yet; a stretch too short for any has none.
type feedNames struct {
	FeedChart
	top float64
}

// Plot writes them.
func (n feedNames) Plot(dc draw.Canvas, p *plot.Plot) { n.write(dc, p) }

func (n feedNames) write(dc draw.Canvas, p *plot.Plot) (written []vg.Rectangle) {
	x, y := p.Transforms(&dc)
	for i := 0; i < len(n.Days); {
		ground, j := n.ground(i), i
		for j < len(n.Days) && n.ground(j) == ground {
			j++
		}
		if box, ok := n.room(dc, x(float64(i)), y(n.top)+4, ground, written); ok {
			written = append(written, box)
			dc.FillText(words(9), box.Min, ground)
		}
		i = j
	}
	return written
}

// room is the lowest place over a day where a name runs into no other.
func (n feedNames) room(dc draw.Canvas, x, low vg.Length, name string, written []vg.Rectangle) (vg.Rectangle, bool) {
	style := words(9)
	x = max(dc.Min.X, min(x, dc.Max.X-style.Width(name)))
	for at := low; at+style.Height(name) <= dc.Max.Y; at += style.Height(name) + 2 {
		box := vg.Rectangle{Min: vg.Point{X: x, Y: at}, Max: vg.Point{X: x + style.Width(name) + 4, Y: at + style.Height(name)}}
		if !slices.ContainsFunc(written, func(w vg.Rectangle) bool { return overprint(box, w) }) {
			return box, true
		}
	}
	return vg.Rectangle{}, false
}

// ground is where the herds eat on a day; hay where they are short.
func (c FeedChart) ground(i int) string {
	d := c.Days[i]
	names := slices.Compact(slices.Sorted(slices.Values(d.Ground)))
	if d.Eaten < d.Demand*0.99 {
		names = append(names, c.Say("chart.hay"))
	}
	return strings.Join(names, ", ")
}
