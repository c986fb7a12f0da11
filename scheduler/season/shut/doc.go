// Package shut is in charge of why ground is shut whatever its grass is worth:
// what may poison on it, and what nobody knows of it. It is one function of plain
// values, [Causes]; the verdict, the notices, the plans and the lifting of a hold
// all read its list.
//
// It never judges a height against the paddock's own rule, and says nothing to
// anybody.
package shut

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
)

// Why is what shuts ground.
type Why string

// The causes. The first four are a hold.
const (
	Frost    Why = "frost"    // a frost on plants that it turns
	Browned  Why = "brown"    // brown tops of a freeze that nobody saw
	Regrowth Why = "regrowth" // green shoots of them were seen
	Wilted   Why = "wilted"   // wild cherry is down or wilted
	NotKnown Why = "frost not known"

	Emergency Why = "emergency" // an animal dead, down, bloated or staggering
	Drought   Why = "drought"   // sorghum kin in a drought, or two weeks after it
	Low       Why = "short"     // sorghum kin under its safe height
	Long      Why = "long"      // animals in so long that sorghum kin shoots anew
	Horses    Why = "horses"    // horses and sorghum kin
)

// Holds reports whether the cause is a hold, and not only a wait: something on
// the ground may poison now.
func (w Why) Holds() bool { return w == Frost || w == Browned || w == Regrowth || w == Wilted }

// A Cause is one reason why ground is shut.
type Cause struct {
	Why    Why
	Plant  string // as the farm file spells it; empty where none is named
	Danger grass.Danger
	Since  civil.Date // the night, or the day of the report
	Until  civil.Date // the last day shut; zero where only a person ends it
	Short  bool       // a frost holds it only because the stand is short or was not read

	First, Last diary.Fact // what began it, and what restarted it last
	// Marks are its nights and reports, each with the last day shut because of it.
	Marks []Mark
}

// Lifts reports whether a manager who has checked the ground ends the cause: neither
// a height nor horses of a herd on file.
func (c *Cause) Lifts() bool {
	return c.Why != Low && c.Why != Long && (c.Why != Horses || c.First.ID != 0)
}

// A Mark is one night or report, and the last day shut because of it; zero where
// only a person ends it.
type Mark struct{ Day, Until civil.Date }

// over reports whether the calendar has ended a cause by a day.
func (c *Cause) over(today civil.Date) bool { return !c.Until.IsZero() && today.After(c.Until) }

// A Plant is a hazard plant of a ground that can hold it: one that holds only where
// it is the ground's own grass is not among them elsewhere.
type Plant struct {
	grass.Hazard
	Own   bool // it is the ground's own grass
	Filed bool // the farm file names it, or the ground's own grass brings it
	// Reported are the days on which somebody said that it is there.
	Reported []civil.Date
}

// A Night is one frost, with whatever was recorded or told of it, taken back or not.
type Night struct {
	Day   civil.Date // the morning on which it ended
	Since civil.Date // the same, or the day before where it was told as it began
	Told  bool       // by a person
	Min   frost.Temp // the lowest that was measured
	Stood frost.Temp // the same, less what was taken back
	First *diary.Fact
	// Again is what people told of it after the first word. Somebody who speaks of
	// a frost once the ground was checked may mean another.
	Again []*diary.Fact
	Only  string // the one paddock that it is of; empty is the whole farm
}

// A Year is one season's bounds on a ground, moved by its frost pocket.
type Year struct {
	Turn, Next civil.Date // the year's turn that begins it, and the one that ends it
	Cold       civil.Date // by which 10 of 100 falls had 36 F; zero where nothing says
	Freeze     civil.Date // the same of the killing freeze
	// Stirred is the first reading or `on` of the season; zero before it.
	Stirred civil.Date
}

// A Reading is a height of the ground, in inches. Short plants kill among tall ones:
// for new shoots, and where the kin of sorghum is grazed, the least of them counts.
type Reading struct {
	diary.Fact
	grass.Sample
	Least float64
}

// A Ground is all that decides why a paddock is shut. Lists are oldest first and
// hold nothing of later than Today.
type Ground struct {
	Paddock string
	Today   civil.Date
	Plants  []Plant
	Years   []Year // the last, and this one
	Nights  []Night
	Kills   frost.Threshold // the freeze that kills
	// Reports are what was told of it: brown tops, regrowth, danger, clear,
	// frosts and that there was none.
	Reports  []diary.Fact
	Readings []Reading
	Uncut    int        // the first of them that no hay or fire came after
	LastMin  civil.Date // the latest day whose minimum is on record; zero where none
	// Height is how tall the stand was on a day, in inches, and the age of that reading
	// then, in days; negative where nobody had read it. It is asked for few of the nights.
	Height func(day civil.Date) (inches float64, age int)
	Stay   Stay
	Dry    diary.Fact // the newest call of a drought this season; its ID is 0 where there is none
	Rained civil.Date // the day it ended; zero while it lasts
	// Asked are the facts that somebody was asked about and has not answered.
	Asked []diary.Fact
}

// Causes lists why a ground is shut today, and those holds of this season that
// the calendar has ended.
func Causes(g Ground) (now, ended []Cause) {
	var all []Cause
	for i := range g.Plants {
		all = append(all, g.frozen(&g.Plants[i])...)
		all = append(all, g.unseen(&g.Plants[i])...)
	}
	all = append(all, g.greened()...)
	all = append(all, g.wilted()...)
	all = append(all, g.emergencies()...)
	all = append(all, g.unfrozen()...)
	all = append(all, g.notKnown()...)
	for _, c := range all {
		switch year := g.yearOf(c.Until); {
		case !c.over(g.Today):
			now = append(now, c)
		case year != nil && year.Next.After(g.Today):
			ended = append(ended, c)
		}
	}
	return append(now, g.doubted(now)...), ended
}

// AtRisk names the plants of a ground that a frost to come would turn, and those
// whose wait after their last frost is not over.
func AtRisk(g Ground) (names []string) {
	y := g.yearOf(g.Today)
	if y == nil {
		return nil
	}
	for i := range g.Plants {
		p := &g.Plants[i]
		dead := g.dead(p, y)
		alive := dead.IsZero() || !g.Today.After(dead.AddDays(p.Days())) || g.shootsOf(p)
		if alive && g.up(p, y, g.Today) && g.heldOn(p, g.Today) {
			names = append(names, p.Name)
		}
	}
	return names
}

// yearOf is the season of a day; nil before those that are known.
func (g *Ground) yearOf(day civil.Date) *Year {
	for i := len(g.Years) - 1; i >= 0; i-- {
		if y := &g.Years[i]; !day.Before(y.Turn) && day.Before(y.Next) {
			return y
		}
	}
	return nil
}

// lifted reports whether a person checked the ground after a fact was known.
func (g *Ground) lifted(f *diary.Fact) bool {
	for i := range g.Reports {
		if c := &g.Reports[i]; c.Kind == diary.Clear && Later(c, f) {
			return true
		}
	}
	return false
}

// stands is the first word of a night since the ground was last checked; nil where
// it was checked after the last one.
func (g *Ground) stands(n *Night) *diary.Fact {
	if !g.lifted(n.First) {
		return n.First
	}
	for _, f := range n.Again {
		if !g.lifted(f) {
			return f
		}
	}
	return nil
}

// Later reports whether one fact was known after another.
func Later(a, b *diary.Fact) bool {
	if a.At.Equal(b.At) {
		return a.ID > b.ID
	}
	return a.At.After(b.At)
}
