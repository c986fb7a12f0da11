package suppose

import (
	"slices"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/herd"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// longer is a paddock that is grazed on until a day and rested from then on.
func (f Farm) longer(what diary.Fact, out civil.Date) *ladder.Supposed {
	v := f.view(what.Paddock)
	g := f.ground(v)
	if g.Closed = g.Closed || v.Verdict.Action == season.ReadIt || v.Reading == nil; g.Closed { // it asks for a height
		return &ladder.Supposed{Grounds: []ladder.SupposedGround{g}}
	}
	then, hungry := f.grazed(v, &g, what.Herd, f.Today, out)
	return &ladder.Supposed{Grounds: []ladder.SupposedGround{g}, HayDays: f.hay(then, hungry)}
}

// grazed supposes that a herd grazes a paddock from one day to another, where none is
// named as long as its grass lasts: whoever stands there goes on, and where nobody does
// the herd named goes in, else whichever would. hungry is for how many of these days it
// has nothing.
func (f Farm) grazed(v *season.View, g *ladder.SupposedGround, id string, in, out civil.Date) (then season.Sight, hungry int) {
	var facts []diary.Fact
	if v.Herds.Occupancy != season.Grazed || id != "" && !slices.Contains(v.Herds.Herds, id) {
		facts = f.goes(id, v.Paddock.ID, in)
	}
	land, there := seen(f.with(in, facts...), v.Paddock)
	if g.Closed = closed(&there); g.Closed {
		g.Shut = ladder.Line(&there, in)
		return f.Sight, 0
	}
	lasts, whole := supposedly(land, &there), out.IsZero()
	if whole {
		g.Verdict = &there.Verdict
		if out = there.Verdict.OutBy; out.IsZero() && lasts.Days != nil {
			out = in.AddDays(int(*lasts.Days))
		}
	}
	out = diary.LaterDay(out, in)
	g.In, g.Out = in, out
	if grass, lb, known := land.Offers(&there); known && out.After(in) {
		g.Leaves, hungry = grass.After(lb, out.DaysSince(in))
		facts = append(facts, diary.Fact{Day: out, Kind: diary.Reading, Paddock: v.Paddock.ID, Heights: []float64{g.Leaves}})
	}
	then = f.with(out, facts...)
	land, after := seen(then, v.Paddock)
	g.Then = supposedly(land, &after)
	if whole {
		g.Then.Days, g.Then.More = lasts.Days, lasts.More
	}
	g.Closed = after.Perilous() || there.Perilous()
	return then, hungry
}

// goes are the facts of a herd that leaves where it is and goes in elsewhere; the
// largest where none is named.
func (f Farm) goes(id, to string, on civil.Date) (facts []diary.Fact) {
	if id == "" && len(f.Farm.Herds) > 0 {
		herds := f.Farm.HerdsOn(f.Book, on)
		id = slices.MaxFunc(herds, func(a, b herd.Herd) int { return int(a.Demand(on) - b.Demand(on)) }).ID
	}
	for i := range f.Views {
		if v := &f.Views[i]; v.Paddock.ID != to && slices.Contains(v.Herds.Herds, id) {
			facts = append(facts, diary.Fact{Day: on, Kind: diary.Off, Paddock: v.Paddock.ID, Herd: id})
		}
	}
	return append(facts, diary.Fact{Day: on, Kind: diary.On, Paddock: to, Herd: id})
}

// move is a herd in another paddock from a day on: how it would find that ground, and
// what becomes of the one that it leaves.
func (f Farm) move(what diary.Fact) (*ladder.Supposed, *diary.Question) {
	from, q := f.standing(&what)
	if q != nil {
		return nil, q
	}
	to := f.view(what.Paddock)
	_, before := seen(f.with(what.Day), to.Paddock)
	in := f.ground(&before)
	in.In, in.Now = what.Day, prospect(to)
	if in.Closed = closed(&before) || before.Perilous() || before.Verdict.Say != season.Go; !in.Closed {
		f.grazed(to, &in, what.Herd, what.Day, civil.Date{})
	}
	all := &ladder.Supposed{Grounds: []ladder.SupposedGround{in}}
	facts, hungry := f.goes(what.Herd, what.Paddock, what.Day), 0
	for _, v := range from {
		if v.Paddock.ID == what.Paddock || len(v.Herds.Herds) > 1 {
			continue // who stays grazes on
		}
		g := f.ground(v)
		if !g.Closed {
			_, hungry = f.grazed(v, &g, "", f.Today, what.Day)
		}
		if g.Leaves > 0 {
			facts = append(facts, diary.Fact{Day: what.Day, Kind: diary.Reading, Paddock: v.Paddock.ID, Heights: []float64{g.Leaves}})
		}
		all.Grounds = append(all.Grounds, g)
	}
	if !in.Closed {
		all.HayDays = f.hay(f.with(what.Day, facts...), hungry)
	}
	return all, nil
}

// standing is where a herd stands; which it is, where none is named, is the one herd
// that there is, or that of the one paddock that is grazed.
func (f Farm) standing(what *diary.Fact) (from []*season.View, q *diary.Question) {
	for i := range f.Views {
		v := &f.Views[i]
		if what.Herd == "" && v.Herds.Occupancy == season.Grazed || what.Herd != "" && slices.Contains(v.Herds.Herds, what.Herd) {
			from = append(from, v)
		}
	}
	switch {
	case what.Herd != "":
		return from, nil
	case len(f.Farm.Herds) == 1:
		what.Herd = f.Farm.Herds[0].ID
		return from, nil
	case len(from) == 1 && len(from[0].Herds.Herds) == 1:
		what.Herd = from[0].Herds.Herds[0]
		return from, nil
	}
	q = &diary.Question{Why: diary.WhichHerd, Paddock: what.Paddock}
	for _, h := range f.Farm.Herds[:min(len(f.Farm.Herds), mostChoices)] {
		one := *what
		one.Herd = h.ID
		q.Choices = append(q.Choices, diary.Choice{Name: h.ID, Facts: []diary.Fact{one}})
	}
	return nil, q
}

// leave is a native that is left at another height on the day of its cutoff, beside
// the height of its rule.
func (f Farm) leave(what diary.Fact) *ladder.Supposed {
	v, height := f.view(what.Paddock), what.Heights[0]
	g := f.ground(v)
	g.Leaves, g.Out = height, v.Dates.Cutoff
	all := &ladder.Supposed{Grounds: []ladder.SupposedGround{g}}
	in := &all.Grounds[0]
	if in.Closed = in.Closed || v.Phase != season.Open || g.Out.IsZero() || f.tooTall(v, height); in.Closed {
		return all
	}
	land, there := seen(f.Sight, v.Paddock)
	lasts(land, &there, height, &in.Then)
	for _, one := range []struct {
		height float64
		of     *ladder.Prospect
	}{{v.Paddock.Floor(), &in.Now}, {height, &in.Then}} {
		_, after := seen(f.with(g.Out, diary.Fact{Day: g.Out, Kind: diary.Off, Paddock: v.Paddock.ID},
			diary.Fact{Day: g.Out, Kind: diary.Reading, Paddock: v.Paddock.ID, Heights: []float64{one.height}}), v.Paddock)
		p := prospect(&after)
		one.of.Expect, one.of.Chance = p.Expect, p.Chance
	}
	return all
}

// tooTall reports whether a paddock will not be as tall by its cutoff.
func (f Farm) tooTall(v *season.View, height float64) bool {
	if v.Reading == nil {
		return false
	}
	tallest := v.Reading.Sample.Mean
	if v.Ahead != nil {
		tallest = max(tallest, v.Ahead.ByCutoff)
	}
	return tallest < height
}

// head is a herd with more head, or fewer.
func (f Farm) head(what diary.Fact) *ladder.Supposed {
	all := &ladder.Supposed{Grounds: []ladder.SupposedGround{}}
	kind, n := diary.Bought, what.Amount
	if n < 0 {
		kind, n = diary.Sold, -n
	}
	then := f.with(f.Today, diary.Fact{Day: f.Today, Kind: kind, Herd: what.Herd, Amount: n})
	count := func(s season.Sight) (head int) {
		for _, h := range s.Farm.HerdsOn(s.Book, s.Today) {
			if h.ID == what.Herd {
				head += h.Head
			}
		}
		return head
	}
	all.Had, all.Head = count(f.Sight), count(then)
	land := then.Land()
	for i := range f.Views {
		v := &f.Views[i]
		if !slices.Contains(v.Herds.Herds, what.Herd) {
			continue
		}
		g := f.ground(v)
		if !g.Closed {
			after := land.View(i)
			g.Then = supposedly(land, &after)
		}
		all.Grounds = append(all.Grounds, g)
	}
	all.HayDays = f.hay(then, 0)
	return all
}
