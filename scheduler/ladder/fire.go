package ladder

import (
	"strconv"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
)

// When a hold is said again while animals stand on it, or may: by day, on the
// farm's clock, whatever anybody's quiet hours. Ours.
const (
	fireEvery = 4 * time.Hour
	fireFrom  = TimeOfDay(6 * 60)
	fireTo    = TimeOfDay(21 * 60)
	fireDays  = 2 // and the day that it began, every four hours; then three times a day
)

var fireLater = []TimeOfDay{6*60 + 30, 12*60 + 30, 18*60 + 30}

// hold tells why a paddock is shut because of its plants, and that a hold is over.
func (p *plan) hold(v *season.View) {
	switch {
	case v.Hold != nil && v.Herds.Occupancy != season.Empty:
		p.onFire(v)
	case v.Hold != nil:
		step, day := v.Hold.Step(p.today)
		p.held(v, v.Hold, step, day)
	case len(v.Shut) > 0 && v.Herds.Occupancy == season.Grazed:
		p.waits(v)
	case v.WasHeld != nil:
		p.holdOver(v)
	}
}

// onFire says a hold at once whatever the hour, and again until the animals are
// off, it is cleared or over.
func (p *plan) onFire(v *season.View) {
	h, kind := v.Hold, HoldAnimals
	if v.Herds.Occupancy == season.Unknown {
		kind = HoldUnsure
	}
	began := h.Since()
	if in := v.Herds.Entered; in != nil && in.At.After(began) {
		began = in.At // turned in on it
	}
	now, n, next := p.ringing(began)
	p.seen(next)
	f := p.facts(v)
	f.Sends = p.MoveTo(v.Paddock.ID, true)
	k := holdKey(v, h, kind, "0")
	if !now.Equal(h.Since()) {
		k.Repeat = now.In(p.Zone).Format("0102T1504")
	}
	answered := p.whoAnswered(v.Paddock.ID, began)
	for _, c := range p.burning(now, n, answered) {
		if n > 1 && len(answered) == 0 && (n == 2 || p.firstOfDay(now, began)) {
			c = p.called(c)
		}
		p.tell(c, kind, k, &f, span{from: now, until: next, urgent: true})
	}
}

func holdKey(v *season.View, h *season.Hold, kind Kind, repeat string) Key {
	return Key{Of: v.Paddock.ID, Day: h.Began.String(), Cause: Cause{"hold", h.Cause()}, Rung: string(kind), Repeat: repeat}
}

// ringing is the latest moment at which what began at an instant is said, the
// how-manieth it is, and the next one. Where the farm has no herd on file it is
// said that evening and three mornings.
func (p *plan) ringing(began time.Time) (now time.Time, n int, next time.Time) {
	for at := began; ; n++ {
		if next = p.ringsAfter(at, began); next.After(p.Now) {
			return at, n, next
		}
		at = next
	}
}

func (p *plan) ringsAfter(at, began time.Time) time.Time {
	day, first := civil.DateOf(at.In(p.Zone)), civil.DateOf(began.In(p.Zone))
	days, times := day.DaysSince(first), fireLater
	switch {
	case !p.Moves.Herds() && days >= 3:
		return Instant(first.AddDays(366), 0, p.Zone)
	case !p.Moves.Herds() && days == 0:
		times = fireLater[2:]
	case !p.Moves.Herds():
		times = fireLater[:1]
	case days <= fireDays:
		if again := at.Add(fireEvery); !again.After(Instant(day, fireTo, p.Zone)) {
			return latest(again, Instant(day, fireFrom, p.Zone))
		}
		times = nil
	}
	for _, t := range times {
		if again := Instant(day, t, p.Zone); again.After(at) {
			return again
		}
	}
	if p.Moves.Herds() && days < fireDays {
		return Instant(day.AddDays(1), fireFrom, p.Zone)
	}
	return Instant(day.AddDays(1), fireLater[0], p.Zone)
}

// firstOfDay reports whether a moment of an alarm is the first of its day.
func (p *plan) firstOfDay(now, began time.Time) bool {
	day := civil.DateOf(now.In(p.Zone))
	return now.Equal(began) || !Instant(day, fireLater[0], p.Zone).Before(now)
}

// burning is who hears an alarm: first the managers and helpers, at the first
// repeat everybody; once somebody has answered anything the managers and whoever
// did, and the others each morning. Where no manager can be reached it is
// everybody, always.
func (p *plan) burning(now time.Time, n int, answered map[string]bool) []person {
	managers := reached(p.ofRole(manager...))
	var to []person
	for _, c := range p.reached() {
		switch {
		case len(managers) == 0 || n == 1 || has(managers, c.Name):
		case n == 0 && !has(p.hearers(HoldAnimals), c.Name):
			continue
		case n > 1 && len(answered) > 0 && !answered[c.Name] && !p.firstOfDay(now, time.Time{}):
			continue
		}
		to = append(to, c)
	}
	return to
}

// whoAnswered are the contacts who said anything of a paddock, or of the farm,
// after an instant. The report that begins a hold is no answer to it.
func (p *plan) whoAnswered(paddock string, since time.Time) map[string]bool {
	who := map[string]bool{}
	for f := range p.Book.Since(paddock, since) {
		if f.At.After(since) && p.contact(f.By).Name != "" {
			who[f.By] = true
		}
	}
	return who
}

// held tells once that ground where nobody stands is held; where something since
// made it longer, again the day before the one that was told.
func (p *plan) held(v *season.View, h *season.Hold, step int, day civil.Date) {
	f := p.facts(v)
	k := holdKey(v, h, HoldBegins, strconv.Itoa(step))
	k.Day = day.String()
	for _, c := range p.hearers(HoldBegins) {
		// Who heard of it while animals stood on it was told until when, and that they are
		// off is news to nobody who was told to take them.
		if step == 0 && told(p.Said.byPaddock[v.Paddock.ID], c.Name, HoldAnimals, func(r *SaidRow) bool {
			return r.Key.Cause.Fact == h.Cause() && r.Key.Day == h.Began.String()
		}) {
			continue
		}
		when := span{from: p.decent(c.Contact, h.Since())}
		if !h.Until.IsZero() {
			when.until = p.morning(c.Contact, h.Until.AddDays(1))
		}
		if step > 0 {
			when.from = latest(p.morning(c.Contact, day), p.decent(c.Contact, h.Latest()))
		}
		p.tell(c, HoldBegins, k, &f, when)
	}
}

// holdOver tells that the calendar has ended a hold, or what shuts the ground still:
// the last day that was told is past.
func (p *plan) holdOver(v *season.View) {
	h, f := v.WasHeld, p.facts(v)
	f.Hold = describeHold(&season.View{Paddock: v.Paddock, Hold: h, Herds: v.Herds})
	day := h.Until.AddDays(1)
	kind := HoldOver
	if f.Wait != nil {
		kind = StillShut
	}
	k := holdKey(v, h, kind, "0")
	k.Day = day.String()
	for _, c := range p.hearers(kind) {
		p.tell(c, kind, k, &f, p.mornings(c, day, day.AddDays(coldFor)))
	}
}

// waiting is when a wait is said while animals stand there.
var waiting = rhythm{3, []time.Weekday{time.Monday}}

// waits says what shuts ground without a hold while animals stand on it: at once
// by day, three mornings, then Mondays.
func (p *plan) waits(v *season.View) {
	c := v.Shut[0]
	day := c.Since
	if c.Why.Asked() { // who was asked has the day to answer
		day = day.AddDays(1)
	}
	if day.After(p.today) {
		return
	}
	day = diary.LaterDay(day, v.Herds.Since)
	since := c.First.At
	if in := v.Herds.Entered; in != nil && in.At.After(since) {
		since = in.At
	}
	said, _ := waiting.last(day, p.today)
	f := p.facts(v)
	f.Sends = p.MoveTo(v.Paddock.ID, true)
	k := Key{Of: v.Paddock.ID, Day: day.String(), Cause: Cause{"wait", c.First.ID}, Rung: string(WaitAnimals), Repeat: said.String()}
	for _, q := range p.hearers(WaitAnimals) {
		when := p.mornings(q, said, said.AddDays(7))
		if said == day && civil.DateOf(since.In(p.Zone)) == day {
			when.from = p.decent(q.Contact, since)
		}
		p.tell(q, WaitAnimals, k, &f, when)
	}
}
