package picture

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"stubbled/scheduler/season"
	"stubbled/scheduler/spring"
)

// LessonChart is a paddock's finished falls: an arrow a fall, from the height
// that rest began with to the height at its end, against the height wanted. A
// fall that teaches nothing is dashed.
type LessonChart struct {
	Words
	Paddock       string
	Target, Leave float64
	Falls         []season.Finished // oldest first, at least one
}

const (
	lessonWidth  = 5.2 * vg.Inch
	lessonHeight = 2.9 * vg.Inch
)

func (c LessonChart) In(f Format) ([]byte, error) {
	if len(c.Falls) == 0 {
		return nil, errors.New("chart of the lessons: no fall has finished")
	}
	return drawn(f, lessonWidth, lessonHeight, func(dc draw.Canvas) {
		p := plot.New()
		dress(p)
		p.Add(c)
		top := max(c.Target, c.Leave)
		for _, fall := range c.Falls {
			top = max(top, fall.Start, fall.End)
		}
		p.X.Min, p.X.Max = -0.6, float64(len(c.Falls))+0.4
		p.Y.Min, p.Y.Max = 0, top*1.2
		p.X.Tick.Marker = plot.ConstantTicks(c.years())
		p.Draw(title(draw.Crop(dc, 6, -8, 6, -6), c.Say("chart.falls", "paddock", c.Paddock), c.Say("chart.falls.note")))
	})
}

func (c LessonChart) years() []plot.Tick {
	ticks := make([]plot.Tick, len(c.Falls))
	for i, f := range c.Falls {
		ticks[i] = plot.Tick{Value: float64(i), Label: fmt.Sprint(f.Year)}
	}
	return ticks
}

// Plot draws the lines and arrows.
func (c LessonChart) Plot(dc draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&dc)
	for _, l := range []struct {
		at    float64
		name  string
		style draw.LineStyle
	}{{c.Target, c.Say("chart.wanted"), medium}, {c.Leave, c.Say("chart.left"), thin}} {
		dc.StrokeLine2(l.style, dc.Min.X, y(l.at), dc.Max.X, y(l.at))
		name := words(9)
		name.XAlign = -1
		boxed(&dc, name, vg.Point{X: dc.Max.X, Y: y(l.at) + 2}, fmt.Sprintf("%s %s", l.name, c.Length(l.at)))
	}
	for i, f := range c.Falls {
		c.fall(dc, x(float64(i)), y, f)
	}
}

func (c LessonChart) fall(dc draw.Canvas, x vg.Length, y func(float64) vg.Length, f season.Finished) {
	style := heavy
	if !f.Teaches {
		style = dashed
	}
	if f.Start > 0 && f.End > 0 {
		dc.StrokeLine2(style, x, y(f.Start), x, y(f.End))
	}
	if f.Start > 0 {
		dc.DrawGlyph(draw.GlyphStyle{Color: ink, Radius: 3, Shape: draw.RingGlyph{}}, vg.Point{X: x, Y: y(f.Start)})
	}
	if f.End > 0 {
		dc.DrawGlyph(draw.GlyphStyle{Color: ink, Radius: 4, Shape: draw.CircleGlyph{}}, vg.Point{X: x, Y: y(f.End)})
		label := words(9)
		label.Font.Weight = boldWeight
		label.XAlign = 0
		boxed(&dc, label, vg.Point{X: x + 6, Y: y(f.End) - 4}, c.Length(f.End))
	}
}

// RestChart is how much later springs came by the rest of the fall before: a dot for
// each spring of a paddock, a ring for one after a broken rest.
type RestChart struct {
	Words
	Springs []RestedSpring
}

// RestedSpring is one spring of a paddock.
type RestedSpring struct {
	spring.Year
	Name string // written beside it; empty where it is of an earlier year
}

func (c RestChart) In(f Format) ([]byte, error) {
	if len(c.Springs) == 0 {
		return nil, errors.New("chart of the springs: none was read")
	}
	return drawn(f, lessonWidth, lessonHeight, func(dc draw.Canvas) {
		p := plot.New()
		dress(p)
		p.Add(c)
		p.X.Label.Text, p.Y.Label.Text = c.Say("score.chart.rest"), c.Say("score.chart.later")
		longest, reach := 30, 4.0
		for _, s := range c.Springs {
			longest, reach = max(longest, s.Rest), max(reach, math.Abs(s.Against))
		}
		p.X.Min, p.X.Max = 0, float64(longest)*1.25
		p.Y.Min, p.Y.Max = -reach*1.2, reach*1.2
		p.Draw(title(draw.Crop(dc, 6, -8, 6, -6), c.Say("score.chart"), c.Say("score.chart.note")))
	})
}

// beside is how far from its dot a name stands.
const beside = vg.Length(6)

// Plot draws the springs about a line for the farm's others.
func (c RestChart) Plot(dc draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&dc)
	dc.StrokeLine2(thin, dc.Min.X, y(0), dc.Max.X, y(0))
	for _, s := range c.Springs {
		name, at := words(9), vg.Point{X: x(float64(s.Rest)) + beside, Y: y(s.Against) - 4}
		if at.X > (dc.Min.X+dc.Max.X)/2 {
			name.XAlign, at.X = -1, at.X-2*beside
		}
		if s.Name != "" {
			boxed(&dc, name, at, s.Name)
		}
	}
	for _, s := range c.Springs {
		at := vg.Point{X: x(float64(s.Rest)), Y: y(s.Against)}
		dot := draw.GlyphStyle{Color: ink, Radius: 3, Shape: draw.CircleGlyph{}}
		if s.Broken {
			dot.Radius, dot.Shape = 4, draw.RingGlyph{}
		}
		dc.DrawGlyph(dot, at)
	}
}
