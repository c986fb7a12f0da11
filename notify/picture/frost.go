package picture

import (
	"errors"
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"stubbled/scheduler/frost"
)

// FrostChart is the spread of a station's first-frost dates with the date a
// farm plans on and the cutoff counted back from it. It says the same in black
// and white: every mark has a form and words of its own.
type FrostChart struct {
	// Threshold names the frost, as `32F`.
	Threshold string
	// Spread is what is drawn. It must have a fall.
	Spread frost.Distribution
	// PlanOn is the choice and PlanOffset its date in days after Aug 1, a
	// paddock's offset included; ask Spread.PlanOffset for it. NaN draws none.
	PlanOn     frost.PlanOn
	PlanOffset float64
	// Rest is the days of rest before the planning date; 0 draws no cutoff.
	Rest int
}

// The chart's size. At 220 dots an inch it is 1144 by 880 and still fits a
// phone's width with letters of a readable size.
const (
	frostWidth  = 5.2 * vg.Inch
	frostHeight = 4 * vg.Inch
)

// The upper end of the scale leaves room for the words above 100 %.
const (
	shareTop   = 138
	rowBand    = 104.5 // foot of the band's words
	rowRest    = 114.5 // the line of the rest days
	rowMarks   = 121   // foot of the words over the marked days
	marksLines = 119   // how far up the marked days' lines go
)

// mostDots is how many falls are shown as dots; more run into each other.
const mostDots = 60

func (c FrostChart) In(f Format) ([]byte, error) {
	if c.Spread.Counted() == 0 {
		return nil, errors.New("chart of first frosts: no season on record counts")
	}
	return drawn(f, frostWidth, frostHeight, c.draw)
}

func (c FrostChart) planned() bool { return !math.IsNaN(c.PlanOffset) }

// cutoff is the first day of rest, counted back from the planning day itself.
func (c FrostChart) cutoff() float64 { return math.Floor(c.PlanOffset+0.5) - float64(c.Rest) }

// source is the line over the chart that says where it is from.
func (c FrostChart) source() string {
	if c.Spread.ByHand() {
		return "A date typed by hand, with its spread"
	}
	falls := c.Spread.Falls()
	from, to := falls[0].Year, falls[0].Year
	for _, f := range falls {
		from, to = min(from, f.Year), max(to, f.Year)
	}
	text := fmt.Sprintf("%d falls, %d to %d", len(falls), from, to)
	if len(falls) <= mostDots {
		text += ", a dot for each"
	}
	if without := c.Spread.Counted() - c.Spread.Frosts(); without > 0 {
		text += fmt.Sprintf("; %d without one by Dec 31", without)
	}
	return text
}

// draw puts the two lines above and the plot under them.
func (c FrostChart) draw(canvas draw.Canvas) {
	inner := draw.Crop(canvas, 8, -10, 6, -8)
	below := title(inner, "First fall frost of "+c.Threshold, c.source())

	p := plot.New()
	p.BackgroundColor = color.Transparent
	p.X.Min, p.X.Max = c.span()
	p.Y.Min, p.Y.Max = 0, shareTop
	p.X.Tick.Marker = dayTicks{}
	p.Y.Tick.Marker = plot.ConstantTicks{{Value: 0, Label: "0"}, {Value: 25, Label: "25"}, {Value: 50, Label: "50"}, {Value: 75, Label: "75"}, {Value: 100, Label: "100 %"}}
	dress(p)
	p.Y.LineStyle.Width = 0 // the layer draws it up to 100 % only
	p.Add(frostLayer{c})
	p.Draw(draw.Crop(below, 14, 0, 0, 0))
}

// span is the days that the chart reaches over.
func (c FrostChart) span() (from, to float64) {
	falls := c.Spread.Falls()[:c.Spread.Frosts()]
	from, to = 60, 90
	if len(falls) > 0 {
		from, to = float64(falls[0].Offset)-3, float64(falls[len(falls)-1].Offset)+3
	}
	if c.planned() {
		from, to = min(from, c.PlanOffset-6), max(to, c.PlanOffset+6)
		if c.Rest > 0 {
			from = min(from, c.cutoff()-6)
		}
	}
	// The words right of the band need about a quarter of the width, but the
	// season ends on Dec 31.
	late, ok := c.Spread.Quantile(90)
	if !ok {
		late = frost.LastOffset
	}
	to = max(to, min(late+(late-from)/3, frost.LastOffset+2))
	return from, max(to, from+30)
}
