package shut

import (
	"reflect"
	"slices"
	"strings"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
)

// ofAsked begins the cause of a question that waits; the kind that it asks about
// follows.
const ofAsked = "asked "

// FrostAsked is ground on which nobody has answered whether it froze.
const FrostAsked = Why(ofAsked + diary.Frost)

// Asked reports whether nothing but a question that waits shuts the ground.
func (w Why) Asked() bool { return strings.HasPrefix(string(w), ofAsked) }

// doubted are the waits of questions that nobody has answered: whether something came
// that would shut the ground, or shut it longer. now is what shuts it without them.
func (g Ground) doubted(now []Cause) (all []Cause) {
	asked := g.Asked
	g.Asked = nil
	for _, f := range asked {
		if g.lifted(&f) || f.Paddock == "" && len(g.Plants) == 0 && f.Kind != diary.Emergency {
			continue
		}
		if would, _ := Causes(g.supposing(f)); reflect.DeepEqual(would, now) {
			continue
		}
		all = append(all, Cause{Why: Why(ofAsked + f.Kind), Since: f.Day, First: f, Last: f, Marks: []Mark{{Day: f.Day}}})
	}
	return all
}

// supposing is the ground with a fact that was only asked about.
func (g Ground) supposing(f diary.Fact) Ground {
	switch f.Kind {
	case diary.Frost:
		before := len(g.nights(civil.Date{}, f.Day.AddDays(1)))
		g.Nights = slices.Insert(slices.Clip(g.Nights), before, Night{
			Day: f.Day, Since: f.Day, Told: true, First: &f, Min: frost.NoTemp, Stood: frost.NoTemp,
		})
	case diary.Plant:
		if h, known := grass.Hazards.Find(f.Plant); known {
			g.Plants = append(slices.Clip(g.Plants), Plant{Hazard: h, Reported: []civil.Date{f.Day}})
		}
	case diary.Dry:
		g.Dry, g.Rained = f, civil.Date{}
	default:
		g.Reports = append(slices.Clip(g.Reports), f)
	}
	return g
}
