package shut

import (
	"slices"
	"sort"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
)

// How a frost counts. Days.
const (
	upAfter  = 30 // after the year's turn the plants are up (assumption)
	lookBack = 14 // a plant that is seen was up for the frosts of so long before
	again    = 7  // after a doubted killing freeze a second one is believed
)

// frozen are the holds of a plant that frosts began, oldest first. Each frost that
// counts restarts the wait; what a person checked since is no cause any more. A
// frost that was taken back still holds, since what may have turned poisonous is
// looked at and not argued away; but it kills nothing.
func (g *Ground) frozen(p *Plant) []Cause {
	var all []Cause
	for _, n := range g.couldTurn(p) {
		if !g.heldOn(p, n.Day) {
			continue
		}
		word, last := g.stands(n), len(all)-1
		if last < 0 || all[last].over(n.Day.AddDays(-1)) {
			all = append(all, Cause{Why: Frost, Plant: p.Name, Danger: p.Danger, Since: n.Since, First: *word, Short: true})
			last++
		}
		all[last].extend(n.Since, word, g.heldUntil(p, n))
		all[last].Short = all[last].Short && p.Tall.Known()
	}
	return all
}

// couldTurn are the nights that stand and turned a plant, unless it was tall. Of one
// that is safe when tall those are left out of which every wait ended before this
// season: how tall it stood then decides nothing any more.
func (g *Ground) couldTurn(p *Plant) (nights []*Night) {
	var year *Year
	var dead civil.Date
	for i := range g.Nights {
		n := &g.Nights[i]
		y := g.yearOf(n.Day)
		if y != nil && y != year {
			year, dead = y, g.dead(p, y)
		}
		if g.turns(p, n, y, dead) && g.stands(n) != nil {
			nights = append(nights, n)
		}
	}
	turn, first := g.Years[len(g.Years)-1].Turn, 0
	for i, n := range nights {
		over := n.Day.AddDays(p.Days())
		if p.Tall.Known() && !p.KilledAt.Known() && over.Before(turn) && (i+1 == len(nights) || nights[i+1].Day.After(over.AddDays(1))) {
			first = i + 1
		}
	}
	return nights[first:]
}

// extend restarts a cause by one more night. A shorter wait never shortens it.
func (c *Cause) extend(day civil.Date, word *diary.Fact, until civil.Date) {
	c.Last = *word
	c.Marks = append(c.Marks, Mark{day, until})
	if len(c.Marks) == 1 || until.IsZero() || !c.Until.IsZero() && until.After(c.Until) {
		c.Until = until
	}
}

// heldUntil is the last day that a night holds: of a plant that dries to be safe
// none; of one that its own freeze kills the day before brown tops were seen, but
// not less than the days for that.
func (g *Ground) heldUntil(p *Plant, n *Night) civil.Date {
	if p.ByEye {
		return civil.Date{}
	}
	until := n.Day.AddDays(p.Days())
	if !p.KilledAt.Known() || !g.killedBy(p, n) {
		return until
	}
	least := n.Day.AddDays(int(p.Killed.Value))
	for _, b := range g.Reports {
		if b.Kind == diary.Brown && b.Day.After(n.Day) && b.Day.Before(until) {
			until = b.Day.AddDays(-1)
		}
	}
	if until.Before(least) {
		return least
	}
	return until
}

// turns reports whether a night of a season makes a plant dangerous that died on a day
// of it, zero where it lives, unless it was tall.
func (g *Ground) turns(p *Plant, n *Night, y *Year, dead civil.Date) bool {
	if y == nil || !dead.IsZero() && n.Day.After(dead) || !g.up(p, y, n.Day) {
		return false
	}
	return !p.KilledAt.Known() || n.Told || frost.Freeze32F.Reached(n.Min)
}

// heldOn reports whether a frost of a day holds ground with a plant, as tall as it stood.
func (g *Ground) heldOn(p *Plant, day civil.Date) bool {
	return !p.Tall.Known() || p.HeldWhen(g.Height(day))
}

// up reports whether a plant stands there, and is up, on a day.
func (g *Ground) up(p *Plant, y *Year, day civil.Date) bool {
	there, now := p.Filed, !day.Before(y.Turn.AddDays(upAfter))
	for _, r := range p.Reported {
		seen := !day.Before(r.AddDays(-lookBack))
		there = there || seen
		now = now || seen && !r.Before(y.Turn)
	}
	if p.Own && !y.Stirred.IsZero() && !day.Before(y.Stirred.AddDays(-lookBack)) && !day.Before(y.Turn) {
		now = true
	}
	return there && now
}

// dead is the day on which a plant died for this season: of the first killing
// freeze that is not doubted, or of brown tops; zero while it lives. Of tops that
// browned before any frost that is known nobody knows what browned them: the first
// frost that came later still turns the plant.
func (g *Ground) dead(p *Plant, y *Year) civil.Date {
	day := g.killed(p, y)
	b := g.browned(y)
	if b == nil || !day.IsZero() && !b.Day.Before(day) {
		return day
	}
	if fall := g.nights(august(y), y.Next); len(fall) > 0 {
		return diary.LaterDay(fall[0].Day, b.Day)
	}
	return b.Day
}

// unseen are the holds of a plant whose brown tops are the first that anybody knows
// of a freeze: they stand for the killing freeze that nobody measured. So do tops that
// brown too early for frost: then they stand for drought, which poisons the same
// plants. Where a frost of the days before was known that holds the ground, and cherry
// is waited for until it is brown.
func (g *Ground) unseen(p *Plant) (all []Cause) {
	for i := range g.Reports {
		b := &g.Reports[i]
		y := g.yearOf(b.Day)
		if b.Kind != diary.Brown || y == nil {
			continue
		}
		if frosts := g.Believes(y, b.Day); frosts && g.browned(y).ID != b.ID || !frosts && !p.SorghumKin() {
			continue
		}
		if p.ByEye || p.KilledAt.Known() || g.lifted(b) || !g.up(p, y, b.Day) || !p.HeldWhen(g.readBy(b.Day)) {
			continue
		}
		if dead := g.killed(p, y); !dead.IsZero() && !dead.After(b.Day) || g.turnedWithin(p, b.Day) {
			continue
		}
		c := Cause{Why: Browned, Plant: p.Name, Danger: p.Danger, Since: b.Day, First: *b, Short: p.Tall.Known()}
		c.extend(b.Day, b, b.Day.AddDays(p.Days()))
		all = append(all, c)
	}
	return all
}

// turnedWithin reports whether a frost that turned a plant came in the days of its wait
// up to a day, and nobody has checked the ground since.
func (g *Ground) turnedWithin(p *Plant, day civil.Date) bool {
	return slices.ContainsFunc(g.Nights, func(n Night) bool {
		y := g.yearOf(n.Day)
		return y != nil && !n.Day.After(day) && day.DaysSince(n.Day) <= p.Days() && g.stands(&n) != nil && g.turns(p, &n, y, g.dead(p, y)) && g.heldOn(p, n.Day)
	})
}

// readBy is the latest height by a day and its age in days then; negative where
// nobody read it.
func (g *Ground) readBy(day civil.Date) (height float64, age int) {
	for i := len(g.Readings) - 1; i >= 0; i-- {
		if r := &g.Readings[i]; !r.Day.After(day) {
			return r.Mean, day.DaysSince(r.Day)
		}
	}
	return 0, -1
}

// killed is the first killing freeze of a fall that is not doubted: one from the
// early side on, or the second of two that lie a week or more apart.
func (g *Ground) killed(p *Plant, y *Year) civil.Date {
	var doubted civil.Date
	fall := g.nights(august(y), y.Next)
	for i := range fall {
		switch n := &fall[i]; {
		case n.Only != "" || !g.killedBy(p, n):
		case !n.Day.Before(y.Freeze), !doubted.IsZero() && n.Day.DaysSince(doubted) >= again:
			return n.Day
		case doubted.IsZero():
			doubted = n.Day
		}
	}
	return civil.Date{}
}

// killedBy reports whether a plant dies of a night: of the ground's killing freeze,
// or of its own where only that kills it.
func (g *Ground) killedBy(p *Plant, n *Night) bool {
	if p != nil && p.KilledAt.Known() {
		return n.Stood.Known() && n.Stood.F() <= p.KilledAt.Value
	}
	return g.Kills.Reached(n.Stood)
}

// browned is the first report of a season of brown tops that counts: from the early
// side of the killing freeze on, or after a frost of 32 F or one that was seen; nil
// where there is none.
func (g *Ground) browned(y *Year) *diary.Fact {
	for i := range g.Reports {
		b := &g.Reports[i]
		if b.Kind == diary.Brown && !b.Day.Before(y.Turn) && b.Day.Before(y.Next) && g.Believes(y, b.Day) {
			return b
		}
	}
	return nil
}

// Believes reports whether brown tops of a day are those of frost: before the
// early side, drought browns grass as well.
func (g *Ground) Believes(y *Year, day civil.Date) bool {
	return !y.Freeze.IsZero() && !day.Before(y.Freeze) || slices.ContainsFunc(g.nights(august(y), day.AddDays(1)), func(n Night) bool {
		return n.Only == "" && (n.Told || frost.Freeze32F.Reached(n.Stood))
	})
}

// nights are those from a day up to, and without, another.
func (g *Ground) nights(from, before civil.Date) []Night {
	on := func(day civil.Date) int {
		return sort.Search(len(g.Nights), func(i int) bool { return !g.Nights[i].Day.Before(day) })
	}
	first := on(from)
	return g.Nights[first:max(first, on(before))]
}

// august is the first day of a season's fall.
func august(y *Year) civil.Date {
	return civil.Date{Year: y.Turn.Year, Month: time.August, Day: 1}
}
