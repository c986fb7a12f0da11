// Package suppose is in charge of what would be: a copy of the diary with facts in it
// that have not happened, looked at on the day on which they would have by the same
// functions that look at what has.
//
// It never changes the farm that it is asked of: what it works out on the way is kept
// beside what is known, and let go of.
package suppose

import (
	"slices"
	"strconv"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// MostDays is how many days ahead anything is supposed: what stands between two
// readings is a guess before that (assumption).
const MostDays = 60

// A Farm is a farm as it stands, with the plan of where its herds eat.
type Farm struct {
	season.Sight
	Views []season.View
	Plan  func() (season.FeedPlan, bool)
}

// Of is a farm as it is looked at; where nobody has solved its plan yet it is solved
// when it is asked for.
func Of(s season.Sight) Farm {
	return Farm{s, season.Look(s), func() (season.FeedPlan, bool) { return season.FeedAsTaken(s) }}
}

// If is what would come of what a text supposes, or the question that it leaves open.
func (f Farm) If(what diary.Fact) (*ladder.Supposed, *diary.Question) {
	switch days := int(what.Wait / (24 * time.Hour)); {
	case days > MostDays || what.Day.DaysSince(f.Today) > MostDays:
		return nil, &diary.Question{Why: diary.TooFar, Word: strconv.Itoa(MostDays)}
	case what.Amount != 0:
		return f.head(what), nil
	case !what.Day.IsZero():
		return f.move(what)
	case what.Paddock == "":
		return f.which(what)
	case len(what.Heights) > 0:
		return f.leave(what), nil
	default:
		return f.longer(what, f.Today.AddDays(days)), nil
	}
}

// which is the paddock in which animals stand, where that is but one.
func (f Farm) which(what diary.Fact) (*ladder.Supposed, *diary.Question) {
	q := &diary.Question{Why: diary.WhichPaddock}
	for i := range f.Views {
		if v := &f.Views[i]; v.Herds.Occupancy == season.Grazed && (len(what.Heights) == 0 || v.Paddock.Native()) {
			what.Paddock = v.Paddock.ID
			q.Choices = append(q.Choices, diary.Choice{Name: v.Paddock.Name, Facts: []diary.Fact{what}})
		}
	}
	if len(q.Choices) == 1 {
		return f.If(what)
	}
	q.Choices = q.Choices[:min(len(q.Choices), mostChoices)]
	return nil, q
}

// mostChoices is how many letters a question has.
const mostChoices = 4

func (f Farm) view(paddock string) *season.View {
	i := slices.IndexFunc(f.Views, func(v season.View) bool { return v.Paddock.ID == paddock })
	if i < 0 {
		return nil
	}
	return &f.Views[i]
}

// with is the farm on a day on which some facts would have happened, each at the end
// of its day.
func (f Farm) with(on civil.Date, facts ...diary.Fact) season.Sight {
	s := f.Sight
	for i := range facts {
		facts[i].At = facts[i].Day.AddDays(1).In(time.UTC)
	}
	s.Book, s.Today = f.Book.With(facts...), on
	if f.Cache != nil {
		s.Cache = f.Cache.Beside()
	}
	return s
}

func seen(s season.Sight, paddock *season.Paddock) (season.Land, season.View) {
	land := s.Land()
	i := slices.IndexFunc(s.Farm.Paddocks, func(p season.Paddock) bool { return p.ID == paddock.ID })
	return land, land.View(i)
}

// ground is a paddock as it stands, before anything is supposed of it.
func (f Farm) ground(v *season.View) ladder.SupposedGround {
	return ladder.SupposedGround{
		Shut: ladder.Line(v, f.Today), Lowest: v.Paddock.Rule.Min, Empty: v.Herds.Occupancy != season.Grazed, Now: prospect(v), Closed: closed(v),
	}
}

// closed reports whether ground is shut whatever its grass, or was given back.
func closed(v *season.View) bool {
	return len(v.Shut) > 0 || v.Verdict.Reason == season.GivenBack || v.Verdict.Reason == season.RestFailed
}

func prospect(v *season.View) ladder.Prospect {
	p := ladder.Prospect{Expect: ladder.Line(v, v.Today).Expect, Days: v.Verdict.Days, More: v.Verdict.More}
	if v.Ahead != nil {
		p.Chance = v.Ahead.Chance
	}
	return p
}

// supposedly is what would come of a paddock: its days of grass also where nobody could
// be told them by so old a height.
func supposedly(land season.Land, v *season.View) ladder.Prospect {
	p := prospect(v)
	if grass, lb, known := land.Offers(v); p.Days == nil && known && v.Phase == season.Open {
		grass.Floor = v.Paddock.Floor()
		n := grass.Days(lb).Days
		if c := v.Dates.Cutoff; !c.IsZero() {
			n = min(n, float64(c.DaysSince(v.Today)))
		}
		p.Days = &n
	}
	return p
}

// lasts says for how many days the grass lasts down to a height.
func lasts(land season.Land, v *season.View, floor float64, p *ladder.Prospect) {
	if grass, lb, known := land.Offers(v); known {
		grass.Floor = floor
		days := grass.Days(lb)
		p.Days, p.More = &days.Days, days.More
	}
}

// hay is how many more days than as it stands no grass is left for, until green-up.
func (f Farm) hay(then season.Sight, hungry int) int {
	now, planned := f.Plan()
	if !planned {
		return 0
	}
	later, planned := season.FeedAsTaken(then)
	if !planned {
		return 0
	}
	return hungry + lacks(later) - lacks(now)
}

// lacks is for how many days up to green-up a plan has no grass left.
func lacks(p season.FeedPlan) int {
	_, days, _ := p.ShortDays()
	if !p.Winter.RunsOut.IsZero() {
		days += max(0, p.Winter.GreenUp.DaysSince(p.Winter.RunsOut))
	}
	return days
}
