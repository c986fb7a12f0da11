package report

import (
	"stubbled/config"
	paper "stubbled/notify/page"
	"stubbled/scheduler/season"
)

// CardYear is the fall that a wall card is of: this season's, or the next where
// every rest of it is over.
func CardYear(views []season.View) int {
	year, over := 0, true
	for i := range views {
		year = max(year, views[i].Year)
		over = over && (!views[i].Paddock.Native() || !views[i].Dates.Ended.IsZero())
	}
	if over {
		return year + 1
	}
	return year
}

// CardHTML is the wall card of a fall as a page to print, in a language. One that is not
// this season's is planned as of the turn of its year.
func CardHTML(farm *config.Farm, sight season.Sight, year int, lang string) ([]byte, error) {
	c := paper.Card{Farm: farm.Name, Printed: sight.Today, People: farm.Contacts}
	if season.YearOf(sight.Today, farm.Rule.Spring) != year {
		sight.Today = farm.Rule.Spring.In(year)
	}
	c.Views = season.Look(sight)
	return c.HTML(Voice(farm, lang))
}
