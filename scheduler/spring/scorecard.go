package spring

import (
	"math"

	"github.com/golang-sql/civil"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"stubbled/scheduler/season"
)

// A Year is one spring of a paddock, beside the fall before. Days are from the year's
// turn to the height to begin at; heights are inches.
type Year struct {
	Year    int        `json:"year"`
	Reached civil.Date `json:"reached"`
	Days    float64    `json:"days"`
	Against float64    `json:"against"`          // days later than the farm's other paddocks of that spring
	Rest    int        `json:"rest,omitempty"`   // real rest of the fall before, days; 0 where unknown
	Height  float64    `json:"height,omitempty"` // at the end of that rest; 0 where unread
	Broken  bool       `json:"broken,omitempty"` // that fall's rest was
	Fall    bool       `json:"fall,omitempty"`   // the fall before is known, and others are beside it
}

// A Score is what a paddock's springs say of its rests.
type Score struct {
	Paddock string   `json:"paddock"`
	Begin   float64  `json:"begin"`
	Years   []Year   `json:"years"`
	Springs int      `json:"springs"`         // after a broken rest
	Later   int      `json:"later,omitempty"` // of those, later than the paddock is otherwise
	Days    *float64 `json:"days_later"`      // mean of those; nil where there is none
	Called  bool     `json:"called"`          // more than such springs differ by themselves
}

// What is believed before the springs of a farm say more (assumptions), in days: how
// paddocks differ all years alike, and how one differs from spring to spring; each with
// the springs that it weighs.
const (
	paddocksDiffer, ofPaddocks = 4.0, 2.0
	ownDiffer, ofOwn           = 3.0, 4.0
	falseCalls                 = 0.04 // of a farm's cards that would call a paddock by chance alone
	leastCalled                = 3.0  // days; nobody plans by less
	lateOff                    = 7    // days after the cutoff on which animals left that break a rest
)

// Card scores the native paddocks of a farm, in their order: days to the height to begin
// at of springs after a broken rest against those of the other paddocks in the same
// spring, so that weather drops out, and against the paddock's own other springs.
func Card(views []season.View, springs func(*season.Paddock) []season.Spring) (card []Score) {
	for i := range views {
		p := views[i].Paddock
		if !p.Native() {
			continue
		}
		all, s := springs(p), Score{Paddock: p.ID, Begin: p.BeginsAt(false)}
		grows := rate(all, s.Begin)
		for _, one := range all {
			if day, ok := Reached(one, s.Begin, grows); ok && !one.Burned && !day.After(views[i].Today.AddDays(freshFor)) {
				s.Years = append(s.Years, yearOf(one, day))
			}
		}
		card = append(card, s)
	}
	usual := map[string]float64{}
	for i := range views {
		usual[views[i].Paddock.ID] = views[i].Paddock.Grass.Starts.Value // species differ, and so do their dates
	}
	for i := range card {
		for n := range card[i].Years {
			y := &card[i].Years[n]
			if others := othersMean(card, i, y.Year, usual); math.IsNaN(others) {
				y.Fall = false // it has nothing beside it
			} else {
				y.Against = y.Days - usual[card[i].Paddock] - others
			}
		}
	}
	call(card)
	return card
}

func yearOf(s season.Spring, day civil.Date) Year {
	y := Year{Year: s.Year, Reached: day, Days: float64(day.DaysSince(s.Turn))}
	if f := s.Before; f != nil {
		left := f.RestEnd.AddDays(-f.RealRest)
		y.Fall, y.Rest, y.Height = true, f.RealRest, f.End
		y.Broken = f.Failed != "" || f.Grazed || f.RealRest > 0 && left.DaysSince(f.Cutoff) >= lateOff
	}
	return y
}

// othersMean is that of a farm's other paddocks in a spring, of those that rested where
// there are any; NaN where there is none.
func othersMean(card []Score, but, year int, usual map[string]float64) float64 {
	var rested, all []float64
	for i, s := range card {
		for _, y := range s.Years {
			if i != but && y.Year == year {
				all = append(all, y.Days-usual[s.Paddock])
				if y.Fall && !y.Broken {
					rested = append(rested, y.Days-usual[s.Paddock])
				}
			}
		}
	}
	if len(rested) > 0 {
		return stat.Mean(rested, nil)
	}
	return stat.Mean(all, nil)
}

// call says of each paddock how much later its springs were after a broken rest, and
// calls those that chance does not explain.
func call(card []Score) {
	own, free := ofOwn*ownDiffer*ownDiffer, ofOwn
	candidates := 0.0
	for i := range card {
		s := &card[i]
		kept, broken := s.split()
		if len(broken) > 0 {
			candidates++
		}
		for _, x := range [][]float64{kept, broken} {
			for _, d := range x {
				own += (d - stat.Mean(x, nil)) * (d - stat.Mean(x, nil))
			}
			free += math.Max(0, float64(len(x)-1))
		}
	}
	own /= free
	for i := range card {
		s := &card[i]
		kept, broken := s.split()
		if s.Springs = len(broken); s.Springs == 0 {
			continue
		}
		between := paddocksVary(card, i)
		weight := float64(len(kept))/own + 1/between
		usual := floats.Sum(kept) / own / weight
		days := stat.Mean(broken, nil) - usual
		for _, d := range broken {
			if d > usual {
				s.Later++
			}
		}
		error2 := own/float64(len(broken)) + 1/weight
		level := distuv.StudentsT{Sigma: 1, Nu: free}.Quantile(1 - falseCalls/candidates)
		s.Days, s.Called = &days, days >= leastCalled && days/math.Sqrt(error2) > level
	}
}

// split gives the springs after rests that were kept, and after broken ones, against the
// other paddocks'.
func (s *Score) split() (kept, broken []float64) {
	for _, y := range s.Years {
		switch {
		case !y.Fall:
		case y.Broken:
			broken = append(broken, y.Against)
		default:
			kept = append(kept, y.Against)
		}
	}
	return kept, broken
}

// paddocksVary is how the other paddocks of a farm differ from each other in all years alike,
// as a variance in days squared.
func paddocksVary(card []Score, but int) float64 {
	total, n := ofPaddocks*paddocksDiffer*paddocksDiffer, ofPaddocks
	for i := range card {
		if kept, _ := card[i].split(); i != but && len(kept) > 0 {
			total, n = total+stat.Mean(kept, nil)*stat.Mean(kept, nil), n+1
		}
	}
	return total / n
}

// Worth reports whether a card has anything to say of a spring: two paddocks at least, of
// one of which the fall before is known.
func Worth(card []Score, year int) bool {
	paddocks, fall := 0, false
	for i := range card {
		if y := card[i].In(year); y != nil {
			paddocks++
			fall = fall || y.Rest > 0 || y.Height > 0 || y.Broken
		}
	}
	return paddocks > 1 && fall
}

// In is a paddock's spring of a year; nil where nobody read it.
func (s *Score) In(year int) *Year {
	for i := range s.Years {
		if s.Years[i].Year == year {
			return &s.Years[i]
		}
	}
	return nil
}
