package season

import (
	"testing"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/grass"
)

// What was read ten days ago has grown since, where nothing stood on it.
func TestThePlanStartsFromTodaysHeight(t *testing.T) {
	p := newPlay(t)
	p.reads("2026-08-10", "creek", plants(20, 10)...)
	height := func(today string) float64 {
		l, creek := p.look(today), p.paddock("creek")
		h, guessed := l.lately(creek, l.datesOf(creek, 2026))
		return l.grownBy(creek, day(today), h, guessed)
	}
	near(t, "ten days on", height("2026-08-20"), 10+10*10.0/23, 0.01)
	p.tells("2026-08-20", diary.Dry, "")
	near(t, "in a drought", height("2026-08-20"), 10, 0)
	near(t, "a reading of last month is a guess", height("2026-09-10"), 14, 0)
}

func TestTheDriestThinnestAndColdestGoFirst(t *testing.T) {
	pad := func(soil grass.Soil, stand grass.Stand, offset int) *Paddock {
		return &Paddock{Soil: soil, Stand: stand, FrostOffset: offset}
	}
	order := []*Paddock{
		pad(grass.Dry, grass.Thin, -10), pad(grass.Dry, grass.Thin, 0), pad(grass.Dry, grass.Medium, -10), pad(grass.Dry, grass.Dense, -90),
		pad("", grass.Thin, 0), pad(grass.Average, "", -5), pad(grass.Average, grass.Medium, 0), pad(grass.Average, grass.Medium, 90),
		pad(grass.Moist, grass.Thin, -90), pad(grass.Moist, grass.Dense, 0),
	}
	for i := 1; i < len(order); i++ {
		if need(order[i-1]) >= need(order[i]) {
			t.Errorf("%+v does not come before %+v", order[i-1], order[i])
		}
	}
}
