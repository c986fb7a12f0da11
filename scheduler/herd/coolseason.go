package herd

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/figure"
)

// stockpileFrom is the day, as month and day, from which standing on cool-season grass spends
// winter stockpile: early August (UK Master Grazer; Miller, Univ. of Missouri;
// starts run from early August in the north to late August in the south).
const stockpileFrom = 801

// coolGrowth is what cool-season grass grows a day, lb of dry matter an acre, with
// no nitrogen, from a day on, as month and day. The 90-100 days from mid-August add
// up to the about 2,000 lb an acre of an unfertilized stockpile (Univ. of Illinois
// Extension, 2016; read). With 100 kg/ha of nitrogen Kentucky measured 58, 75 and 29
// in the three months from mid-August (Dougherty; read).
var coolGrowth = []struct {
	from int
	name string
	lb   figure.Figure
}{
	{1201, "December", figure.Figure{}},
	{1108, "November 8", figure.Of(8, 0, 0, figure.Assumption, stockpiled)},
	{915, "September 15", figure.Of(30, 30, 45, figure.SecondHand, "Dankenbring, NRCS Indiana, citing Michigan State, 2025")},
	{715, "July 15", figure.Of(12, 0, 0, figure.Assumption, stockpiled)},
	{401, "April", figure.Of(20, 0, 0, figure.Assumption, "fall plans do not use it")},
}

const stockpiled = "so that the fall adds up to an unfertilized stockpile (Univ. of Illinois Extension, 2016)"

// CoolSeasonGrowth is what cool-season grass grows on a day, lb of dry matter per
// acre: nothing from December till April.
func CoolSeasonGrowth(on civil.Date) float64 {
	for _, g := range coolGrowth {
		if monthDay(on) >= g.from {
			return g.lb.Value
		}
	}
	return 0
}

func monthDay(d civil.Date) int { return int(d.Month)*100 + d.Day }
