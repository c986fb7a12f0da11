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
	Title, Note, Hay string
	Day              func(civil.Date) string
	Days             []FeedDay
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
	p.Add(found, wants, feedNames{c, top})
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, float64(len(c.Days)), 0, top*feedHead
	p.X.Tick.Marker, p.Y.Tick.Marker = plot.ConstantTicks(c.ticks()), plot.TickerFunc(wholePounds)
	return p, nil
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

// ticks marks the first day and each 1st and 15th.
func (c FeedChart) ticks() []plot.Tick {
	var ticks []plot.Tick
	for i, d := range c.Days {
		if d.Day.Day == 1 || d.Day.Day == 15 || i == 0 && d.Day.Day < 11 {
			ticks = append(ticks, plot.Tick{Value: float64(i), Label: c.Day(d.Day)})
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
func (n feedNames) Plot(dc draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&dc)
	var written []vg.Rectangle
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
		names = append(names, c.Hay)
	}
	return strings.Join(names, ", ")
}
