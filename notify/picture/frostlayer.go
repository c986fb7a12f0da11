package picture

import (
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// frostLayer draws everything inside the axes of a FrostChart.
type frostLayer struct{ FrostChart }

// area turns days and shares into points of a canvas.
type area struct {
	*draw.Canvas
	x, y func(float64) vg.Length
}

// Plot draws from the back to the front.
func (l frostLayer) Plot(canvas draw.Canvas, p *plot.Plot) {
	a := area{Canvas: &canvas}
	a.x, a.y = p.Transforms(&canvas)
	l.band(a)
	l.scale(a, p)
	l.steps(a, p.X.Max)
	l.marks(a)
	l.bandDates(a)
}

// edges is the days of the 10 % and the 90 % date as far as there are such; the
// second is past the season where it is not whole.
func (l frostLayer) edges() (early, late float64, whole, ok bool) {
	early, ok = l.Spread.Quantile(10)
	late, whole = l.Spread.Quantile(90)
	return early, late, whole, ok && !(whole && early == late)
}

// band is the days from the 10 % to the 90 % date, shaded.
func (l frostLayer) band(a area) {
	early, late, whole, ok := l.edges()
	if !ok {
		return // one date alone has no band
	}
	left, right := a.x(early), a.Max.X
	if whole {
		right = a.x(late)
	}
	a.FillPolygon(shade, []vg.Point{{X: left, Y: a.y(0)}, {X: right, Y: a.y(0)}, {X: right, Y: a.y(100)}, {X: left, Y: a.y(100)}})
	a.StrokeLine2(thin, left, a.y(0), left, a.y(100))
	if whole {
		a.StrokeLine2(thin, right, a.y(0), right, a.y(100))
	}
}

// bandDates is the dates of the band's edges, above it.
func (l frostLayer) bandDates(a area) {
	early, late, whole, ok := l.edges()
	if !ok {
		return
	}
	small := words(9)
	small.XAlign = text.XRight
	at := vg.Point{X: a.x(early) - 3, Y: a.y(rowBand)}
	boxed(a.Canvas, small, at, "10 % by "+dayName(early))
	name := "90 % past Dec 31"
	at.X = a.Max.X
	if whole {
		name = "90 % by " + dayName(late)
		at.X = min(a.x(late)+3+small.Width(name), a.Max.X)
	}
	boxed(a.Canvas, small, at, name)
}

// scale is the axis of shares, a faint line at each quarter, and its name.
func (l frostLayer) scale(a area, p *plot.Plot) {
	for share := 25.0; share <= 100; share += 25 {
		a.StrokeLine2(faint, a.x(p.X.Min), a.y(share), a.x(p.X.Max), a.y(share))
	}
	a.StrokeLine2(draw.LineStyle{Color: color.Black, Width: 0.8}, a.Min.X, a.y(0), a.Min.X, a.y(100))
	name := words(10)
	name.Rotation = math.Pi / 2
	name.XAlign = text.XCenter
	a.FillText(name, vg.Point{X: a.Min.X - 37, Y: a.y(50)}, "falls with frost by then")
}

// steps is the share of falls with a frost by each day, one dot a fall.
func (l frostLayer) steps(a area, end float64) {
	falls := l.Spread.Falls()
	came := falls[:l.Spread.Frosts()]
	share := func(n int) vg.Length { return a.y(100 * float64(n) / float64(len(falls))) }
	var line []vg.Point
	for i, f := range came {
		x := a.x(float64(f.Offset))
		line = append(line, vg.Point{X: x, Y: share(i)}, vg.Point{X: x, Y: share(i + 1)})
	}
	line = append(line, vg.Point{X: a.x(end), Y: share(len(came))})
	a.StrokeLines(medium, line)
	if l.Spread.ByHand() || len(falls) > mostDots {
		return // a date by hand has no falls of its own
	}
	dot := draw.GlyphStyle{Color: color.Black, Radius: 2.6, Shape: draw.CircleGlyph{}}
	for i, f := range came {
		a.DrawGlyph(dot, vg.Point{X: a.x(float64(f.Offset)), Y: share(i + 1)})
	}
}

// marks are the planning day, the cutoff, and the rest between.
func (l frostLayer) marks(a area) {
	if !l.planned() {
		return
	}
	plan := a.x(l.PlanOffset)
	a.StrokeLine2(heavy, plan, a.y(0), plan, a.y(marksLines))
	bold := words(10.5)
	bold.Font.Weight = boldWeight
	bold.XAlign = text.XCenter
	name := "plan: " + l.PlanOn.String() + "\n" + dayName(l.PlanOffset)
	a.FillText(bold, vg.Point{X: min(plan, a.Max.X-bold.Width(name)/2), Y: a.y(rowMarks)}, name)
	l.sooner(a, plan)
	if l.Rest == 0 {
		return
	}
	cut := a.x(l.cutoff())
	a.StrokeLine2(dashed, cut, a.y(0), cut, a.y(marksLines))
	a.FillText(bold, vg.Point{X: cut, Y: a.y(rowMarks)}, "cutoff\n"+dayName(l.cutoff()))
	l.rest(a, cut, plan)
}

// sooner says left of the planning day, where the steps are always lower, in how
// many falls the frost came before it.
func (l frostLayer) sooner(a area, plan vg.Length) {
	if l.Spread.ByHand() {
		return
	}
	planned, n := math.Floor(l.PlanOffset+0.5), 0
	for _, f := range l.Spread.Falls() {
		if !f.None && float64(f.Offset) < planned {
			n++
		}
	}
	small := words(9)
	small.XAlign = text.XRight
	a.FillText(small, vg.Point{X: plan - 5, Y: a.y(80)}, fmt.Sprintf("sooner in\n%d of %d", n, l.Spread.Counted()))
}

// rest is the line with two heads between cutoff and planning day.
func (l frostLayer) rest(a area, cut, plan vg.Length) {
	y := a.y(rowRest)
	a.StrokeLine2(medium, cut+2, y, plan-3, y)
	const head = 5
	for _, tip := range []struct{ x, back vg.Length }{{cut + 1.5, head}, {plan - 2, -head}} {
		a.FillPolygon(color.Black, []vg.Point{{X: tip.x, Y: y}, {X: tip.x + tip.back, Y: y + head/2}, {X: tip.x + tip.back, Y: y - head/2}})
	}
	label := words(10)
	label.XAlign = text.XCenter
	a.FillText(label, vg.Point{X: (cut + plan) / 2, Y: y + 2.5}, fmt.Sprintf("%d days of rest", l.Rest))
}
