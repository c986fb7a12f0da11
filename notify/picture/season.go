package picture

import (
	"cmp"
	"errors"
	"fmt"
	"image/color"
	"slices"

	"stubbled/scheduler/ladder"

	"github.com/golang-sql/civil"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// The picture's measures, in points.
const (
	seasonWide  = 5.4 * vg.Inch
	rowTall     = 54
	headTall    = 40
	footTall    = 52
	nameWide    = 152
	rightMargin = 14
)

var ink = color.Black

// SeasonChart is the falls of some paddocks above each other on one time axis.
type SeasonChart struct {
	Words
	Farm  string
	Today civil.Date
	Rows  []ladder.Shut // at least one
}

func (ch SeasonChart) In(f Format) ([]byte, error) {
	if len(ch.Rows) == 0 {
		return nil, errors.New("chart of the season: no paddock rests")
	}
	tall := vg.Length(headTall + footTall + rowTall*len(ch.Rows))
	return drawn(f, seasonWide, tall, func(c draw.Canvas) { ch.sheet(c).draw() })
}

func (s *seasonSheet) draw() {
	s.axis()
	for i, r := range s.Rows {
		s.row(i, r)
	}
	s.legend()
	s.now()
}

// A seasonSheet is the canvas with its scale.
type seasonSheet struct {
	SeasonChart
	c        draw.Canvas
	from, to civil.Date
	written  []vg.Rectangle // what is written where, so that nothing is written over it
}

func (ch SeasonChart) sheet(c draw.Canvas) *seasonSheet {
	s := &seasonSheet{SeasonChart: ch, c: c, from: ch.Today, to: ch.Today}
	if i := slices.IndexFunc(ch.Rows, rests); i >= 0 {
		s.from, s.to = ch.Rows[i].Cutoff, ch.Rows[i].Frost
	}
	for _, r := range ch.Rows {
		if rests(r) {
			s.cover(r.Cutoff.AddDays(-21))
			s.cover(r.End.AddDays(10))
		}
		s.cover(r.Latest)
		for _, h := range r.Readings {
			s.cover(h.Day)
		}
	}
	s.from = civil.Date{Year: s.from.Year, Month: s.from.Month, Day: 1}
	return s
}

func rests(r ladder.Shut) bool { return !r.Frost.IsZero() }

func (s *seasonSheet) cover(d civil.Date) {
	if d.IsZero() {
		return
	}
	if d.Before(s.from) {
		s.from = d
	}
	if d.After(s.to) {
		s.to = d
	}
}

func (s *seasonSheet) x(d civil.Date) vg.Length {
	span := float64(max(1, s.to.DaysSince(s.from)))
	at := min(max(float64(d.DaysSince(s.from))/span, 0), 1)
	return s.c.Min.X + nameWide + vg.Length(at)*(s.c.Max.X-s.c.Min.X-nameWide-rightMargin)
}

func (s *seasonSheet) y(row int) vg.Length {
	return s.c.Max.Y - headTall - rowTall*vg.Length(row) - rowTall/2
}

// write puts words at a point; ax and ay say which part of them is there: -1
// left or below, 0 middle, -0.5 centre.
func (s *seasonSheet) write(at vg.Point, size vg.Length, bold bool, ax text.XAlignment, ay text.YAlignment, txt string) {
	style := styled(size, bold, ax, ay)
	s.written = append(s.written, style.Rectangle(txt).Add(at))
	s.c.FillText(style, at, txt)
}

func styled(size vg.Length, bold bool, ax text.XAlignment, ay text.YAlignment) draw.TextStyle {
	style := words(size)
	if bold {
		style.Font.Weight = boldWeight
	}
	style.XAlign, style.YAlign = ax, ay
	return style
}

// fit is write where nothing is written yet: in the middle of the point, beside it,
// or nowhere.
func (s *seasonSheet) fit(at vg.Point, size vg.Length, bold bool, ay text.YAlignment, txt string) {
	for _, ax := range []text.XAlignment{-0.5, -1, 0} {
		box := styled(size, bold, ax, ay).Rectangle(txt).Add(at)
		inside := box.Min.X >= s.c.Min.X && box.Max.X <= s.c.Max.X
		if inside && !slices.ContainsFunc(s.written, func(w vg.Rectangle) bool { return overprint(box, w) }) {
			s.write(at, size, bold, ax, ay, txt)
			return
		}
	}
}

// overprint reports whether two texts run into each other.
func overprint(a, b vg.Rectangle) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}

func (s *seasonSheet) line(width vg.Length, shade color.Color, dashes []vg.Length, pts ...vg.Point) {
	s.c.StrokeLines(draw.LineStyle{Color: shade, Width: width, Dashes: dashes}, pts)
}

// axis draws the title and the months.
func (s *seasonSheet) axis() {
	top, bottom := s.c.Max.Y-headTall+4, s.c.Min.Y+footTall-6
	s.write(vg.Point{X: s.c.Min.X + 8, Y: s.c.Max.Y - 6}, 11, true, 0, -1, s.Say("chart.title", "farm", s.Farm))
	for m := s.from; !m.After(s.to); {
		x := s.x(m)
		s.line(0.5, faint.Color, []vg.Length{1, 2}, vg.Point{X: x, Y: bottom}, vg.Point{X: x, Y: top})
		s.fit(vg.Point{X: x + 12, Y: top + 2}, 9, false, 0, s.Month(m.Month))
		next := m.AddDays(32)
		m = civil.Date{Year: next.Year, Month: next.Month, Day: 1}
	}
}

// row draws one paddock: a thin line while it is open, a bar while it rests,
// a bracket for the spread of the frost, circles with the heights read.
func (s *seasonSheet) row(i int, r ladder.Shut) {
	y := s.y(i)
	s.write(vg.Point{X: s.c.Min.X + 8, Y: y + 2}, 10, true, 0, 0, r.Name)
	rule := s.Say("chart.leave", "height", s.Length(r.Leave))
	if r.Target > 0 {
		rule = s.Say("chart.rule", "height", s.Length(r.Leave), "wanted", s.Length(r.Target))
	}
	s.write(vg.Point{X: s.c.Min.X + 8, Y: y - 2}, 7.5, false, 0, -1, rule)
	end := r.Cutoff
	if end.IsZero() {
		end = s.to
	}
	s.line(1.5, ink, nil, vg.Point{X: s.x(s.from), Y: y}, vg.Point{X: s.x(end), Y: y})
	if !r.Cutoff.IsZero() && !r.Cutoff.After(s.to) {
		s.fit(vg.Point{X: s.x(r.Cutoff), Y: y - 10}, 8, false, -1, s.Short(r.Cutoff))
	}
	if rests(r) {
		s.bar(y, r)
		s.bracket(y, r)
	}
	for _, h := range slices.Backward(r.Readings) { // the latest is told where there is no room for all
		at := vg.Point{X: s.x(h.Day), Y: y}
		s.c.DrawGlyph(draw.GlyphStyle{Color: color.White, Radius: 3, Shape: draw.CircleGlyph{}}, at)
		s.ring(at)
		s.fit(vg.Point{X: at.X, Y: y + 10}, 8, true, 0, fmt.Sprintf("%.0f", h.In))
	}
}

func (s *seasonSheet) bar(y vg.Length, r ladder.Shut) {
	x0, x1 := s.x(r.Cutoff), s.x(r.End)
	box := []vg.Point{{X: x0, Y: y - 7}, {X: x1, Y: y - 7}, {X: x1, Y: y + 7}, {X: x0, Y: y + 7}, {X: x0, Y: y - 7}}
	if !r.FallUse {
		s.c.FillPolygon(shade, box)
	}
	dashes := []vg.Length{3, 2}
	if r.Ended {
		dashes = nil
	}
	s.line(1, ink, nil, box[1], box[0], box[3], box[2])
	s.line(1, ink, dashes, box[1], box[2])
	if r.FallUse {
		s.write(vg.Point{X: (x0 + x1) / 2, Y: y}, 8, false, -0.5, -0.5, s.Say("chart.fall-use"))
	}
}

func (s *seasonSheet) bracket(y vg.Length, r ladder.Shut) {
	low := y - 13
	if !r.Early.IsZero() && !r.Latest.IsZero() {
		s.line(1, ink, nil, vg.Point{X: s.x(r.Early), Y: low + 3}, vg.Point{X: s.x(r.Early), Y: low}, vg.Point{X: s.x(r.Latest), Y: low}, vg.Point{X: s.x(r.Latest), Y: low + 3})
	}
	s.c.DrawGlyph(draw.GlyphStyle{Color: ink, Radius: 3, Shape: draw.PyramidGlyph{}}, vg.Point{X: s.x(r.Frost), Y: low})
	s.fit(vg.Point{X: s.x(r.Frost), Y: low - 4}, 8, false, -1, s.Short(r.Frost))
}

// now is today, a line that leaves out whatever is written across it.
func (s *seasonSheet) now() {
	if s.Today.Before(s.from) || s.Today.After(s.to) {
		return
	}
	x, y := s.x(s.Today), s.c.Min.Y+footTall-6
	s.fit(vg.Point{X: x, Y: y - 2}, 8, false, -1, s.Say("chart.today"))
	across := slices.DeleteFunc(slices.Clone(s.written), func(w vg.Rectangle) bool { return x < w.Min.X-1 || x > w.Max.X+1 || w.Max.Y < y })
	slices.SortFunc(across, func(a, b vg.Rectangle) int { return cmp.Compare(a.Min.Y, b.Min.Y) })
	top := s.c.Max.Y - headTall
	for _, w := range append(across, vg.Rectangle{Min: vg.Point{Y: top}}) {
		if end := min(w.Min.Y-1, top); end > y {
			s.line(1, ink, []vg.Length{4, 3}, vg.Point{X: x, Y: y}, vg.Point{X: x, Y: end})
		}
		y = max(y, w.Max.Y+1)
	}
}

// legend says what each mark means, as many on a line as it holds.
func (s *seasonSheet) legend() {
	at := vg.Point{X: s.c.Min.X + 8, Y: s.c.Min.Y + 24}
	for _, item := range []struct {
		words string
		mark  func(vg.Point)
	}{
		{s.Say("chart.open"), func(at vg.Point) { s.line(1.5, ink, nil, at, vg.Point{X: at.X + 18, Y: at.Y}) }},
		{s.Say("chart.rest"), s.restMark},
		{s.Say("chart.reading"), func(at vg.Point) { s.ring(vg.Point{X: at.X + 9, Y: at.Y}) }},
		{s.Say("chart.spread"), s.spreadMark},
	} {
		wide := 22 + words(8).Width(item.words)
		if at.X+wide > s.c.Max.X-4 {
			at = vg.Point{X: s.c.Min.X + 8, Y: at.Y - 13}
		}
		item.mark(at)
		s.write(vg.Point{X: at.X + 22, Y: at.Y}, 8, false, 0, -0.5, item.words)
		at.X += wide + 14
	}
}

// ring is a height that was read.
func (s *seasonSheet) ring(at vg.Point) {
	s.c.DrawGlyph(draw.GlyphStyle{Color: ink, Radius: 3, Shape: draw.RingGlyph{}}, at)
}

func (s *seasonSheet) restMark(at vg.Point) {
	x, y := at.X, at.Y
	box := []vg.Point{{X: x, Y: y - 5}, {X: x + 18, Y: y - 5}, {X: x + 18, Y: y + 5}, {X: x, Y: y + 5}, {X: x, Y: y - 5}}
	s.c.FillPolygon(shade, box)
	s.line(1, ink, nil, box...)
}

func (s *seasonSheet) spreadMark(at vg.Point) {
	x, y := at.X, at.Y-2
	s.line(1, ink, nil, vg.Point{X: x, Y: y + 3}, vg.Point{X: x, Y: y}, vg.Point{X: x + 18, Y: y}, vg.Point{X: x + 18, Y: y + 3})
	s.c.DrawGlyph(draw.GlyphStyle{Color: ink, Radius: 3, Shape: draw.PyramidGlyph{}}, vg.Point{X: x + 9, Y: y})
}
