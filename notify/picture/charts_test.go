package picture

import (
	"bytes"
	"fmt"
	"image/png"
	"os"
	"testing"
	"time"

	"github.com/golang-sql/civil"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"

	"stubbled/notify/language"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
	"stubbled/scheduler/spring"
)

func on(month time.Month, day int) civil.Date { return civil.Date{Year: 2026, Month: month, Day: day} }

// english is a person who reads English and measures in inches.
type english struct{}

func (english) Say(phrase string, fields ...any) string {
	return language.All()[0].Write(phrase, fields...)
}
func (english) Short(d civil.Date) string    { return fmt.Sprintf("%s %d", d.Month.String()[:3], d.Day) }
func (english) Month(m time.Month) string    { return m.String()[:3] }
func (english) Length(inches float64) string { return fmt.Sprintf("%g in", inches) }

func seasonExample() SeasonChart {
	return SeasonChart{
		Today: on(9, 12),
		Words: english{}, Farm: "Quail Fork",
		Rows: []ladder.Shut{
			{Place: ladder.Place{Name: "Creek Bottom"}, Standing: ladder.Standing{Cutoff: on(8, 31), Frost: on(10, 15), Leave: 8, Target: 18}, Early: on(10, 3), Latest: on(10, 24), End: on(10, 26),
				Readings: []ladder.Point{{Day: on(8, 21), In: 9.4}, {Day: on(9, 1), In: 8.2}, {Day: on(9, 22), In: 14}}},
			{Place: ladder.Place{Name: "Twenty letters long!"}, Standing: ladder.Standing{Cutoff: on(8, 11), Frost: on(10, 10), Leave: 6, Target: 12, FallUse: true}, End: on(10, 24), Ended: true},
		},
	}
}

func lessonExample() LessonChart {
	return LessonChart{
		Words: english{}, Paddock: "Creek Bottom", Target: 18, Leave: 8,
		Falls: []season.Finished{{Year: 2023, Start: 8.2, End: 15.5, Teaches: true}, {Year: 2024, Start: 8}, {Year: 2025, Start: 9, End: 19, Teaches: true}},
	}
}

func restExample() RestChart {
	return RestChart{
		Words: english{},
		Springs: []RestedSpring{{spring.Year{Rest: 15, Against: 9.4, Broken: true}, "Creek Bottom"}, {spring.Year{Rest: 50, Against: -2}, ""},
			{spring.Year{Rest: 48, Against: -3}, "Twenty letters long!"}, {spring.Year{Rest: 12, Against: 8, Broken: true}, ""}},
	}
}

func feedExample() FeedChart {
	c := FeedChart{Words: english{}, Farm: "Quail Fork"}
	for d := on(8, 31); d.Before(on(10, 25)); d = d.AddDays(1) {
		day := FeedDay{Day: d, Demand: 1800, Eaten: 1800, Low: 1500, High: 1800, Ground: []string{"Lane"}}
		if d.After(on(9, 20)) {
			day.Eaten, day.Low, day.High, day.Ground = 400, 100, 1700, []string{"Old Mill"}
		}
		c.Days = append(c.Days, day)
	}
	return c
}

// TestChartsAreTheSameToTheByteAndOfASizeForAPhone draws each chart twice. With
// STUBBLED_CHARTS=DIR they are left there to be looked at.
func TestChartsAreTheSameToTheByteAndOfASizeForAPhone(t *testing.T) {
	for name, chart := range map[string]Chart{"season": seasonExample(), "lesson": lessonExample(), "rests": restExample(), "feed": feedExample()} {
		t.Run(name, func(t *testing.T) {
			once := drawnIn(t, chart, PNG)
			if !bytes.Equal(once, drawnIn(t, chart, PNG)) {
				t.Error("the same values made other bytes")
			}
			if len(once) > 150<<10 {
				t.Errorf("%d bytes are too many for a phone with a bad signal", len(once))
			}
			if dir := os.Getenv("STUBBLED_CHARTS"); dir != "" {
				if err := os.WriteFile(dir+"/"+name+".png", once, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			img, err := png.Decode(bytes.NewReader(once))
			if err != nil {
				t.Fatal(err)
			}
			if w := img.Bounds().Dx(); w < 720 || w > 1400 {
				t.Errorf("%d dots wide", w)
			}
			if !bytes.Contains(drawnIn(t, chart, SVG), []byte("<svg")) {
				t.Error("the SVG is none")
			}
		})
	}
}

func TestAChartOfNothingSaysSo(t *testing.T) {
	for _, c := range []Chart{SeasonChart{}, LessonChart{}, FeedChart{}, RestChart{}} {
		if _, err := c.In(PNG); err == nil {
			t.Errorf("%T: nothing was drawn without a word", c)
		}
	}
	if _, err := seasonExample().In("gif"); err == nil {
		t.Error("a GIF was drawn")
	}
}

// However many paddocks there are, and whatever day it is: no word is printed over
// another, and the line of today runs through none.
func TestNoLabelIsPrintedOverAnother(t *testing.T) {
	for _, n := range []int{1, 6, 20, 60} {
		for today := on(4, 1); today.Before(on(12, 31)); today = today.AddDays(11) {
			c := seasonExample()
			c.Today = today
			for i := len(c.Rows); i < n; i++ {
				r := ladder.Shut{Place: ladder.Place{Name: "Twenty letters long!"}, Standing: ladder.Standing{Cutoff: on(8, 1+i%31), Frost: on(10, 1+i%31), Leave: 8, Target: 18}, Early: on(9, 20), Latest: on(11, 2), End: on(11, 9)}
				for d := 1; d < 28; d += 1 + i%9 {
					r.Readings = append(r.Readings, ladder.Point{Day: on(8, d), In: float64(8 + d)})
				}
				if i%5 == 0 { // it does not rest
					r.Frost, r.Cutoff, r.Target = civil.Date{}, civil.Date{}, 0
				}
				c.Rows = append(c.Rows, r)
			}
			c.Rows = c.Rows[:n]
			tall := vg.Length(headTall + footTall + rowTall*n)
			s := c.sheet(draw.New(vgsvg.New(seasonWide, tall)))
			s.draw()
			for i, a := range s.written {
				for _, b := range s.written[:i] {
					if overprint(a, b) {
						t.Fatalf("%d paddocks on %s: %v is printed over %v", n, today, a, b)
					}
				}
			}
		}
	}
}

// Wherever herds go and however long a plan is: no name is printed over another, nor a
// date over a date.
func TestNoNameOfTheFeedPictureIsPrintedOverAnother(t *testing.T) {
	for _, days := range []int{1, 14, 70, 128, 250} {
		for every := 1; every < 20; every += 3 {
			for first := on(6, 20); first.Before(on(7, 21)); first = first.AddDays(1) {
				c := feedExample()
				c.Days = nil
				for i := range days {
					names := []string{"Twenty letters long!", "North 40", "Lane", "Creek Bottom", "Hill"}
					c.Days = append(c.Days, FeedDay{Day: first.AddDays(i), Demand: 1800, Eaten: float64(200 * (i % 11)), Ground: names[i/every%4 : i/every%4+1+i/every%2]})
				}
				p, err := c.plot()
				if err != nil {
					t.Fatal(err)
				}
				dc := draw.New(vgsvg.New(feedWidth-feedSides, feedHeight))
				written := feedNames{c, 1800}.write(dc, p)
				foot, x := words(10), func(at float64) vg.Length { return vg.Length(at) * (feedWidth - feedSides) / vg.Length(days) }
				for _, tick := range c.ticks() {
					half := foot.Width(tick.Label) / 2
					written = append(written, vg.Rectangle{Min: vg.Point{X: x(tick.Value) - half, Y: -20}, Max: vg.Point{X: x(tick.Value) + half, Y: -10}})
				}
				for i, a := range written {
					for _, b := range written[:i] {
						if overprint(a, b) {
							t.Fatalf("%d days from %s, other ground every %d: %v is printed over %v", days, first, every, a, b)
						}
					}
				}
			}
		}
	}
}
