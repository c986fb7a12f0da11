package picture

import (
	"errors"
	"io"
	"math"

	"stubbled/scheduler/spring"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

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

func (c RestChart) Write(w io.Writer, f Format) error {
	if len(c.Springs) == 0 {
		return errors.New("chart of the springs: none was read")
	}
	return write(w, f, lessonWidth, lessonHeight, func(dc draw.Canvas) {
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
