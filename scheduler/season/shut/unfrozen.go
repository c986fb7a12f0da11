package shut

import (
	"slices"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/grass"
)

// How the sorghum kin may be grazed without any frost. Days.
const (
	afterDrought = 14 // waits published after the rain run 3 (Univ. of Nebraska 2021) to 10 (Univ. of Missouri AGW1017)
	readBefore   = 4  // the oldest reading to turn animals in on
	longestStay  = 10 // then new shoots have come (assumption)
	freshEmpty   = 10 // the oldest reading that shows empty ground short
	checkedFor   = 7  // a check of ground in a drought holds good
)

// A Stay is the animals that stand on a ground now.
type Stay struct {
	In    bool
	Since civil.Date // the first of them came; zero where nobody said when
	Last  civil.Date // the latest of them came
	Horse bool       // horses are among them, or would be turned in
}

// unfrozen are the waits of plants that kill without any frost.
func (g *Ground) unfrozen() (all []Cause) {
	for i := range g.Plants {
		p := &g.Plants[i]
		if !p.SorghumKin() || !p.Filed && len(p.Reported) == 0 {
			continue // it is no such plant, or nobody saw it here
		}
		c := Cause{Plant: p.Name, Danger: grass.PrussicAcid}
		if g.stressed(&c) {
			all = append(all, c)
		}
		all = append(all, g.horses(p)...)
		if since, why := g.short(p); why != "" {
			all = append(all, Cause{Why: why, Plant: p.Name, Danger: grass.PrussicAcid, Since: since})
		}
	}
	return all
}

// stressed fills in the wait of a drought, until two weeks after it ended, unless
// a manager checked the ground since it was called and within the week.
func (g *Ground) stressed(c *Cause) bool {
	if g.Dry.ID == 0 || g.checked(&g.Dry) {
		return false
	}
	c.Why, c.Since, c.First, c.Last = Drought, g.Dry.Day, g.Dry, g.Dry
	if !g.Rained.IsZero() {
		c.Until = g.Rained.AddDays(afterDrought)
	}
	return !c.over(g.Today)
}

// horses are the waits of horses on sorghum kin: of a herd on file as long as it is
// in, and of others that somebody told of until the ground is cleared.
func (g *Ground) horses(p *Plant) (all []Cause) {
	if g.Stay.Horse {
		all = append(all, Cause{Why: Horses, Plant: p.Name, Danger: grass.PrussicAcid, Since: g.horsesSince()})
	}
	for i := range g.Reports {
		if f := &g.Reports[i]; f.Kind == diary.Horses && !g.lifted(f) {
			all = append(all, Cause{Why: Horses, Plant: p.Name, Danger: grass.PrussicAcid, Since: f.Day, First: *f, Last: *f, Marks: []Mark{{Day: f.Day}}})
		}
	}
	return all
}

// horsesSince is the day that horses came, or the year's turn where nobody said
// when or none are in.
func (g *Ground) horsesSince() civil.Date {
	if y := g.yearOf(g.Today); y != nil && g.Stay.Last.IsZero() {
		return y.Turn
	}
	return g.Stay.Last
}

// checked reports whether a person checked the ground after a fact was known, and
// lately.
func (g *Ground) checked(f *diary.Fact) bool {
	return slices.ContainsFunc(g.Reports, func(c diary.Fact) bool {
		return c.Kind == diary.Clear && Later(&c, f) && g.Today.DaysSince(c.Day) < checkedFor
	})
}

// short is the wait of ground that is sown to the plant, and since when: empty
// ground under its safe height, animals that went in without a height that was
// safe, and those that are in so long that it shoots anew. Once it is dead for
// this season nothing shoots.
func (g *Ground) short(p *Plant) (since civil.Date, why Why) {
	y := g.yearOf(g.Today)
	if !p.Own || y == nil {
		return since, ""
	}
	if dead := g.dead(p, y); !dead.IsZero() && g.Today.After(dead) {
		return since, ""
	}
	read := g.standing(y)
	if !g.Stay.In {
		if n := len(read); n > 0 && g.Today.DaysSince(read[n-1].Day) <= freshEmpty && read[n-1].Least < p.Safe.Value {
			return read[n-1].Day, Low
		}
		return since, ""
	}
	return g.shortUnder(p, read)
}

// shortUnder is the same of ground with animals in. An old reading takes nobody off.
func (g *Ground) shortUnder(p *Plant, read []Reading) (civil.Date, Why) {
	since, last := g.cameIn(p, read)
	safe := slices.ContainsFunc(read, func(r Reading) bool {
		return r.Least >= p.Safe.Value && !r.Day.After(last) && last.DaysSince(r.Day) <= readBefore
	})
	switch n := len(read); {
	case last.IsZero() && (n == 0 || g.Today.DaysSince(read[n-1].Day) > readBefore):
		return since, ""
	case last.IsZero():
		return read[n-1].Day, Low
	case !safe:
		return last, Low
	case g.Today.DaysSince(since) > longestStay:
		return since.AddDays(longestStay), Long
	}
	return since, ""
}

// cameIn are the days on which the first and the last of the animals came. Where
// nobody said when they count from the first height of the season that was safe;
// zero before one was read.
func (g *Ground) cameIn(p *Plant, read []Reading) (since, last civil.Date) {
	since, last = g.Stay.Since, g.Stay.Last
	for _, r := range read {
		if last.IsZero() && r.Least >= p.Safe.Value {
			last = r.Day
		}
	}
	if since.IsZero() {
		since = last
	}
	return since, last
}

// readSince are the heights read from a day on.
func (g *Ground) readSince(day civil.Date) []Reading {
	i := len(g.Readings)
	for i > 0 && !g.Readings[i-1].Day.Before(day) {
		i--
	}
	return g.Readings[i:]
}

// standing are the heights of a season that still speak of the stand: none from
// before it was last cut or burned.
func (g *Ground) standing(y *Year) []Reading {
	read := g.readSince(y.Turn)
	return read[max(0, len(read)-(len(g.Readings)-g.Uncut)):]
}

// Unproved reports whether a ground is sown to a plant that kills when short and
// nobody read a height of the last days at which animals may go in. An older one
// does not say what was cut or eaten since.
func Unproved(g Ground) bool {
	y := g.yearOf(g.Today)
	return y != nil && slices.ContainsFunc(g.Plants, func(p Plant) bool {
		if !p.Own || !p.SorghumKin() {
			return false
		}
		if dead := g.dead(&p, y); !dead.IsZero() && g.Today.After(dead) {
			return false
		}
		read := g.standing(y)
		n := len(read)
		return n == 0 || g.Today.DaysSince(read[n-1].Day) > readBefore || read[n-1].Least < p.Safe.Value
	})
}

// Bloats reports whether all that a frosted plant does is bloat.
func Bloats(plant string) bool {
	h, _ := grass.Hazards.Find(plant)
	return h.Danger == grass.Bloat
}

// OutBy is the last day on which animals may stand on ground that is sown to
// sorghum kin, once they are in or go in today; zero on other ground, and once the
// plant is dead for this season.
func OutBy(g Ground) civil.Date {
	y := g.yearOf(g.Today)
	for i := range g.Plants {
		p := &g.Plants[i]
		if !p.Own || !p.SorghumKin() || y == nil || !g.dead(p, y).IsZero() {
			continue
		}
		if since, _ := g.cameIn(p, g.readSince(y.Turn)); g.Stay.In && !since.IsZero() {
			return since.AddDays(longestStay)
		}
		return g.Today.AddDays(longestStay)
	}
	return civil.Date{}
}

// emergencies are those that nobody has cleared: an animal dead, down, bloated or
// staggering, whatever the cause.
func (g *Ground) emergencies() (all []Cause) {
	for i := range g.Reports {
		if f := &g.Reports[i]; f.Kind == diary.Emergency && !g.lifted(f) {
			all = append(all, Cause{Why: Emergency, Since: f.Day, First: *f, Last: *f, Marks: []Mark{{Day: f.Day}}})
		}
	}
	return all
}
