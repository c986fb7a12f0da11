package ladder

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/golang-sql/civil"
	"pgregory.net/rapid"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
	"stubbled/scheduler/season"
)

// A world is a random farm with the facts and forecasts of a while to come.
type world struct {
	*stage
	facts  []diary.Fact // in the order in which they are written down
	nights []diary.Observation
	from   time.Time
	to     time.Time
}

// day0 is the first day of a world's season at which anything is played.
var day0 = civil.Date{Year: 2026, Month: 6, Day: 20}

func drawWorld(r *rapid.T, t *testing.T, days int) *world {
	w := &world{stage: newStage(t)}
	w.farm.Paddocks, w.farm.Herds, w.people = nil, nil, nil
	w.drawFarm(r)
	w.drawPeople(r)
	if rapid.Bool().Draw(r, "own ladder") {
		w.drawRungs(r)
	}
	start := day0.AddDays(rapid.IntRange(0, 210).Draw(r, "first day"))
	w.from = Instant(start, 0, w.zone)
	w.to = Instant(start.AddDays(days), 0, w.zone)
	w.drawFacts(r, days)
	return w
}

func (w *world) drawFarm(r *rapid.T) {
	w.farm.Plan.Hand.Date = season.MonthDay{Month: rapid.IntRange(9, 11).Draw(r, "frost month"), Day: rapid.IntRange(1, 30).Draw(r, "frost day")}
	john, _ := grass.Hazards.Find("johnsongrass")
	for i := range rapid.IntRange(1, 4).Draw(r, "paddocks") {
		name := rapid.SampledFrom([]string{"eastern gamagrass", "mixed natives", "little bluestem", "tall fescue"}).Draw(r, "grass")
		species, ok := grass.Grasses.Find(name)
		if !ok {
			w.t.Fatalf("no species %q", name)
		}
		p := season.Paddock{ID: fmt.Sprintf("p%d", i), Name: fmt.Sprintf("Paddock %d", i), Acres: 20, Grass: species, Rule: w.farm.Rule}
		p.Rule.RestDays = rapid.IntRange(30, 60).Draw(r, "rest days")
		p.Rule.EndsAt = rapid.SampledFrom([]frost.Threshold{frost.Freeze32F, frost.KillingFreeze28F}).Draw(r, "ends at")
		if rapid.IntRange(0, 3).Draw(r, "rented") == 0 {
			p.OutBy = season.MonthDay{Month: rapid.IntRange(8, 12).Draw(r, "out by month"), Day: 15}
		}
		if rapid.Bool().Draw(r, "hazard") {
			p.Hazards = []grass.Hazard{john}
		}
		w.farm.Paddocks = append(w.farm.Paddocks, p)
		if p.Native() && rapid.IntRange(0, 4).Draw(r, "fall use") == 0 {
			w.farm.FallUse = append(w.farm.FallUse, season.FallUse{Year: 2026, Paddock: p.ID})
		}
	}
	pair, _ := herd.Kinds.Find("cow with calf")
	for i := range rapid.IntRange(0, 2).Draw(r, "herds") {
		h := herd.Herd{ID: fmt.Sprintf("h%d", i), Head: 30, Kind: pair, WeightLb: 1300, Calving: time.March}
		if rapid.Bool().Draw(r, "stands somewhere") {
			h.Paddock = w.farm.Paddocks[rapid.IntRange(0, len(w.farm.Paddocks)-1).Draw(r, "where")].ID
		}
		w.farm.Herds = append(w.farm.Herds, h)
	}
}

func (w *world) drawPeople(r *rapid.T) {
	for i := range rapid.IntRange(1, 5).Draw(r, "contacts") {
		c := Contact{Name: fmt.Sprintf("C%d", i), Role: rapid.SampledFrom([]string{"manager", "owner", "helper", "neighbour"}).Draw(r, "role")}
		switch rapid.IntRange(0, 2).Draw(r, "ways") {
		case 0:
			c.Phone = fmt.Sprintf("+1555555014%d", i)
		case 1:
			c.Email = fmt.Sprintf("c%d@example.org", i)
		default:
			c.Phone, c.Email = fmt.Sprintf("+1555555014%d", i), fmt.Sprintf("c%d@example.org", i)
		}
		if rapid.Bool().Draw(r, "has quiet hours") {
			c.QuietHours.From = TimeOfDay(30 * rapid.IntRange(0, 47).Draw(r, "quiet from"))
			c.QuietHours.To = TimeOfDay(30 * rapid.IntRange(0, 47).Draw(r, "quiet to"))
		}
		w.people = append(w.people, c)
		if rapid.IntRange(0, 5).Draw(r, "opted out") == 0 {
			w.shun[c.Phone], w.shun[c.Email] = true, true
		}
	}
}

func (w *world) drawRungs(r *rapid.T) {
	w.rungs = nil
	for _, before := range rapid.SliceOfNDistinct(rapid.IntRange(0, 65), 1, 6, rapid.ID).Draw(r, "rungs") {
		rung := Rung{Before: before, Tell: []string{w.people[rapid.IntRange(0, len(w.people)-1).Draw(r, "told")].Role}}
		if rapid.Bool().Draw(r, "by mail too") {
			rung.AlsoBy = []Medium{Mail}
		}
		rung.RepeatAfter = time.Duration(rapid.IntRange(0, 6).Draw(r, "repeat after")) * time.Hour
		w.rungs = append(w.rungs, rung)
	}
	slices.SortFunc(w.rungs, func(a, b Rung) int { return b.Before - a.Before })
}

func (w *world) drawFacts(r *rapid.T, days int) {
	steps := days * 24 * 6
	for i := range rapid.IntRange(0, 10).Draw(r, "facts") {
		f := diary.Fact{
			ID: int64(i + 1), At: w.from.Add(10 * time.Minute * time.Duration(rapid.IntRange(0, steps-1).Draw(r, "at"))),
			Kind: rapid.SampledFrom([]diary.Kind{
				diary.Off, diary.On, diary.On, diary.Reading, diary.Ack, diary.Later, diary.Frost, diary.Frost, diary.Brown,
				diary.Regrowth, diary.Clear, diary.Void,
			}).Draw(r, "kind"),
			Paddock: w.farm.Paddocks[rapid.IntRange(0, len(w.farm.Paddocks)-1).Draw(r, "paddock")].ID,
			By:      w.people[rapid.IntRange(0, len(w.people)-1).Draw(r, "by")].Name,
		}
		f.Day = civil.DateOf(f.At.In(w.zone)).AddDays(-rapid.IntRange(0, 2).Draw(r, "days ago"))
		w.dress(r, &f)
		w.facts = append(w.facts, f)
	}
	slices.SortStableFunc(w.facts, func(a, b diary.Fact) int { return a.At.Compare(b.At) })
	var standing []int64
	for i := range w.facts {
		f := &w.facts[i]
		f.ID = int64(i + 1)
		switch {
		case f.Kind != diary.Void:
			standing = append(standing, f.ID)
		case len(standing) == 0:
			f.Kind = diary.Ack
		default:
			k := rapid.IntRange(0, len(standing)-1).Draw(r, "takes back")
			f.Voids = standing[k]
			standing = slices.Delete(standing, k, k+1)
		}
	}
	for range rapid.IntRange(0, 3).Draw(r, "forecasts") {
		issued := w.from.Add(10 * time.Minute * time.Duration(rapid.IntRange(0, steps-1).Draw(r, "issued")))
		end := issued.Add(10 * time.Minute * time.Duration(rapid.IntRange(1, 400).Draw(r, "ends in")))
		w.nights = append(w.nights, diary.Observation{
			Source: diary.FromService, At: end, Day: civil.DateOf(end.In(w.zone)), Forecast: true, Issued: issued,
			MinC: float64(rapid.IntRange(-4, 6).Draw(r, "forecast")),
		})
	}
}

// dress gives a fact what its kind has.
func (w *world) dress(r *rapid.T, f *diary.Fact) {
	switch f.Kind {
	case diary.On, diary.Off:
		if n := len(w.farm.Herds); n > 0 && rapid.Bool().Draw(r, "names the herd") {
			f.Herd = w.farm.Herds[rapid.IntRange(0, n-1).Draw(r, "herd")].ID
		}
	case diary.Reading:
		f.Heights = []float64{float64(rapid.IntRange(3, 24).Draw(r, "height"))}
	case diary.Later:
		f.Wait = time.Duration(rapid.IntRange(0, 72).Draw(r, "hours")) * time.Hour
	case diary.Frost:
		f.Paddock = ""
		if rapid.Bool().Draw(r, "measured") {
			c := float64(rapid.IntRange(-6, 2).Draw(r, "degrees"))
			f.TempC, f.Source = &c, rapid.SampledFrom([]string{diary.FromRecord, diary.FromThermometer, diary.FromService}).Draw(r, "source")
			f.By = f.Source
		}
	case diary.Brown, diary.Regrowth, diary.Ack:
		if rapid.Bool().Draw(r, "of the whole farm") {
			f.Paddock = ""
		}
	}
}

// write puts the facts of up to a moment in the diary and gives how many.
func (w *world) write(now time.Time) (n int) {
	for len(w.facts) > 0 && !w.facts[0].At.After(now) {
		w.book.Add(w.facts[0])
		w.facts = w.facts[1:]
		n++
	}
	return n
}

// input is what is known at a moment.
func (w *world) input(now time.Time) Input {
	in := w.stage.input(now)
	for _, n := range w.nights {
		if !n.Issued.After(now) {
			in.Nights = append(in.Nights, n)
		}
	}
	return in
}

// after is the next moment to look at: what Plan gives, or what comes from
// outside before that.
func (w *world) after(now time.Time) time.Time {
	_, next := new(Memo).Plan(w.input(now), nil)
	if len(w.facts) > 0 && w.facts[0].At.Before(next) {
		next = w.facts[0].At
	}
	for _, n := range w.nights {
		if n.Issued.After(now) && n.Issued.Before(next) {
			next = n.Issued
		}
	}
	return next
}
