// Package picture draws what a mail or a report shows and writes the calendar
// file.
//
// It is in charge of how things look: it draws values that others computed. It
// never decides, never reads a clock or a file, and never sends anything.
//
// What always holds: a chart says the same in black and white as in color, its
// letters can be read on a phone, and the same values make the same bytes.
package picture

import (
	"bytes"
	"fmt"
	"image/color"
	"io"
	"time"

	"github.com/golang-sql/civil"
	stdfont "golang.org/x/image/font"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"

	"stubbled/scheduler/frost"
)

// Words say what stands on a chart, in a person's language and units: a phrase of
// page.txt, a day, a month, a height.
type Words interface {
	Say(phrase string, fields ...any) string
	Short(d civil.Date) string
	Month(m time.Month) string
	Length(inches float64) string
}

// Format is a form that a chart can be written in.
type Format string

// The forms. A mail takes PNG only.
const (
	PNG Format = "png"
	SVG Format = "svg"
)

// dotsPerInch is the resolution of a PNG: enough for print at its own size.
const dotsPerInch = 220

// The lines, told apart by weight and dashes and not by color.
var (
	pale   = color.Gray{Y: 243}
	shade  = color.Gray{Y: 226}
	faint  = draw.LineStyle{Color: color.Gray{Y: 200}, Width: 0.5}
	thin   = draw.LineStyle{Color: color.Gray{Y: 110}, Width: 0.7}
	medium = draw.LineStyle{Color: color.Black, Width: 1.1}
	heavy  = draw.LineStyle{Color: color.Black, Width: 2.4}
	dashed = draw.LineStyle{Color: color.Black, Width: 1.8, Dashes: []vg.Length{5, 3}}
)

const boldWeight = stdfont.WeightBold

// words is the plain type at a size in points; its Y is the foot of the text.
func words(size vg.Length) draw.TextStyle {
	return draw.TextStyle{
		Color:   color.Black,
		Font:    font.Font{Typeface: "Liberation", Variant: "Sans", Size: size},
		Handler: plot.DefaultTextHandler,
		YAlign:  text.YBottom,
	}
}

// title writes a chart's two lines and leaves the canvas below them.
func title(c draw.Canvas, heading, source string) draw.Canvas {
	big, small := words(14), words(10)
	big.Font.Weight = boldWeight
	at := vg.Point{X: c.Min.X, Y: c.Max.Y - big.Font.Size}
	c.FillText(big, at, heading)
	at.Y -= 1.6 * small.Font.Size
	c.FillText(small, at, source)
	return draw.Crop(c, 0, 0, 0, at.Y-small.Font.Size/2-c.Max.Y)
}

// boxed writes a text on white, so that no line runs through it.
func boxed(c *draw.Canvas, style draw.TextStyle, at vg.Point, txt string) {
	box := style.Rectangle(txt).Add(at)
	c.FillPolygon(color.White, []vg.Point{box.Min, {X: box.Max.X, Y: box.Min.Y}, box.Max, {X: box.Min.X, Y: box.Max.Y}})
	c.FillText(style, at, txt)
}

// dress gives the axes the same type and weight as the rest.
func dress(p *plot.Plot) {
	for _, axis := range []*plot.Axis{&p.X, &p.Y} {
		axis.Label.TextStyle.Font = words(10).Font
		axis.Tick.Label.Font = words(10).Font
		axis.LineStyle.Width = 0.8
		axis.Tick.LineStyle.Width = 0.8
		axis.Padding = 0
	}
}

// A Chart can be had in any form.
type Chart interface {
	In(f Format) ([]byte, error)
}

// drawn is what is painted on a canvas of the given form.
func drawn(format Format, width, height vg.Length, paint func(draw.Canvas)) ([]byte, error) {
	var sheet io.WriterTo
	switch format {
	case PNG:
		canvas := vgimg.NewWith(vgimg.UseWH(width, height), vgimg.UseDPI(dotsPerInch))
		paint(draw.New(canvas))
		sheet = vgimg.PngCanvas{Canvas: canvas}
	case SVG:
		canvas := vgsvg.New(width, height)
		paint(draw.New(canvas))
		sheet = canvas
	default:
		return nil, fmt.Errorf("chart format %q is neither png nor svg", format)
	}
	var b bytes.Buffer
	if _, err := sheet.WriteTo(&b); err != nil {
		return nil, fmt.Errorf("write chart: %w", err)
	}
	// Whoever lacks the font of an SVG has one of the same widths.
	return bytes.ReplaceAll(b.Bytes(), []byte("font-family:Liberation Sans;"), []byte("font-family:'Liberation Sans',Arial,Helvetica,sans-serif;")), nil
}

// dayTicks marks the 1st of each month and the 15th.
type dayTicks struct{}

// Ticks are in days after Aug 1. Over more than three months only the 1st has a
// name.
func (dayTicks) Ticks(from, to float64) []plot.Tick {
	var ticks []plot.Tick
	for d := frost.DateIn(2001, from); ; d = d.AddDays(1) {
		offset := float64(frost.OffsetIn(2001, d))
		if offset > to {
			return ticks
		}
		if offset < from || d.Day != 1 && d.Day != 15 {
			continue
		}
		tick := plot.Tick{Value: offset}
		if d.Day == 1 || to-from <= 92 {
			tick.Label = dayName(offset)
		}
		ticks = append(ticks, tick)
	}
}

// dayName is an offset as a day of the year, to the nearest day.
func dayName(offset float64) string {
	d := frost.DateIn(2001, offset)
	return fmt.Sprintf("%s %d", d.Month.String()[:3], d.Day)
}
