package season

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
)

// weaned is the farm's herds with the calves that the diary weaned.
func weaned(herds []herd.Herd, book *diary.Book, today civil.Date) []herd.Herd {
	out := append([]herd.Herd(nil), herds...)
	for _, f := range book.Farm() {
		if f.Kind != diary.Wean || f.Day.After(today) {
			continue
		}
		for i := range out {
			if f.Herd == "" || f.Herd == out[i].ID {
				out[i].Weaned = f.Day
			}
		}
	}
	return out
}

// demand is what the animals of a paddock take a day: the herds that stand
// there, or the largest on file where none does. ok is false with no herd on
// file.
func (l *look) demand(v *View) (lb float64, ok bool) {
	var largest float64
	for _, h := range l.herds {
		d := h.Demand(l.today)
		largest = max(largest, d)
		for _, id := range v.Herds.Herds {
			if id == h.ID {
				lb += d
			}
		}
	}
	if lb == 0 {
		lb = largest
	}
	return lb, lb > 0
}

// eaten is lb eaten per acre-inch of a paddock: the default of its stand and
// the farm's rotation, corrected by its own finished grazings.
func (l *look) eaten(p *Paddock, grows grass.Growth) herd.Taught {
	standard := herd.EatenPerAcreInch(p.Stand.Standing(p.Native()).Value, herd.Utilization(len(l.farm.Paddocks)).Value)
	return herd.LearnEaten(p.Acres, standard, l.grazings(p, grows))
}

// daysAbove gives the days of grass above a floor.
func (l *look) daysAbove(v *View, grows grass.Growth) func(float64) (float64, bool) {
	lb, ok := l.demand(v)
	acres := v.Paddock.Acres
	if v.FallUse && v.Phase == Rest && v.UseAcres > 0 {
		acres = v.UseAcres
	}
	var offer *herd.Grass
	return func(floor float64) (float64, bool) {
		if !ok || acres <= 0 {
			return 0, false
		}
		if offer == nil {
			offer = &herd.Grass{
				Acres: acres, Eaten: l.eaten(v.Paddock, grows).Eaten,
				Height: v.Reading.Sample.Mean, Regrowth: l.regrowth(v, grows),
			}
		}
		offer.Floor = floor
		d := offer.Days(lb)
		if d.More() {
			return herd.MostDays, true
		}
		return d.Days, d.Known() || d.Outcome == herd.Bare
	}
}

// grazings are the finished stays on a paddock that were read at both ends.
func (l *look) grazings(p *Paddock, grows grass.Growth) []herd.Grazing {
	visits := l.visits(p.ID, civil.Date{})
	var out []herd.Grazing
	for _, s := range l.moves.Periods(p.ID) {
		if s.From.IsZero() || s.To.IsZero() || !s.Told {
			continue
		}
		on, off := nearVisit(visits, s.From), nearVisit(visits, s.To)
		days := s.To.DaysSince(s.From)
		if on == nil || off == nil || on == off || days < 1 {
			continue
		}
		a := l.almanac(YearOf(s.From, p.Rule.Spring))
		rate := 0.0
		if a.err == nil && grows.Known() {
			rate = grows.Rate() * a.mean(s.From, s.To, p.FrostOffset) / float64(days)
		}
		out = append(out, herd.Grazing{
			On: on.Sample.Mean, Off: off.Sample.Mean, PlantsOn: on.Sample.Plants(), PlantsOff: off.Sample.Plants(),
			Days: days, DemandLb: l.taken(p.ID, s), Regrown: herd.Credited(rate, float64(days)),
		})
	}
	return out
}

// nearVisit is the reading nearest to a day, at most two days from it.
func nearVisit(visits []Visit, day civil.Date) *Visit {
	var best *Visit
	for i := range visits {
		gap := abs(visits[i].Day.DaysSince(day))
		if gap <= 2 && (best == nil || gap < abs(best.Day.DaysSince(day))) {
			best = &visits[i]
		}
	}
	return best
}

func abs(n int) int { return max(n, -n) }

// taken is what all herds took in a paddock during one stay, in lb.
func (l *look) taken(paddock string, stay Period) float64 {
	var lb float64
	for _, s := range l.moves.Periods(paddock) {
		for d := stay.From; d.Before(stay.To); d = d.AddDays(1) {
			if d.Before(s.From) || !s.To.IsZero() && !d.Before(s.To) {
				continue
			}
			for _, h := range l.herds {
				if h.ID == s.Herd {
					lb += h.Demand(d)
				}
			}
		}
	}
	return lb
}
