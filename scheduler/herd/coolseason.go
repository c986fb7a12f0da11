package herd

import "github.com/golang-sql/civil"

// stockpileFrom is the day, as month and day, from which standing on cool-season grass spends
// winter stockpile: early August (UK Master Grazer; Miller, Univ. of Missouri;
// starts run from early August in the north to late August in the south).
const stockpileFrom = 801

// CoolSeasonGrowth is what cool-season grass grows on a day, lb of dry matter
// per acre, with no nitrogen: 12 from the summer slump to mid-September, 30 from
// then to early November, 8 to the end of November, nothing till April, 20 in
// spring.
//
// 30 is the low end of 30-45 for mid-September to early November (Dankenbring,
// NRCS Indiana, citing Michigan State, 2025; second-hand). The 12 and the 8 are
// assumptions, set so that the 90-100 days from mid-August add up to the about
// 2,000 lb/ac of an unfertilized stockpile (Univ. of Illinois Extension, 2016;
// read). With 100 kg/ha of nitrogen Kentucky measured 58, 75 and 29 in the three
// months from mid-August (Dougherty; read). The spring figure is an assumption
// that fall plans do not use.
func CoolSeasonGrowth(on civil.Date) float64 {
	switch md := monthDay(on); {
	case md >= 401 && md < 715:
		return 20
	case md >= 715 && md < 915:
		return 12
	case md >= 915 && md < 1108:
		return 30
	case md >= 1108 && md < 1201:
		return 8
	}
	return 0
}

// spendsStockpile reports whether feed eaten off cool-season grass on a day
// would else have stood for winter.
func spendsStockpile(on civil.Date) bool {
	return monthDay(on) >= stockpileFrom
}

func monthDay(d civil.Date) int { return int(d.Month)*100 + d.Day }
