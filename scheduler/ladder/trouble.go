package ladder

import (
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
)

// The words of the alarm list: what of the machine fails. AlarmFacts.Alarm is one
// of them, and every one has its own words, with the mend.
const (
	AlarmSMSDown     = "sms-down"           // texts do not go out
	AlarmCallsDown   = "calls-down"         // calls do not go out
	AlarmMailDown    = "mail-down"          // mail does not go out
	AlarmRepliesDown = "replies-down"       // what people send does not come in
	AlarmWeatherDown = "weather-down"       // no forecast or station data
	AlarmThermometer = "thermometer-silent" // the farm's own log says nothing
	AlarmDisk        = "disk"               // full or read-only
	AlarmDatabase    = "database"           // damaged
	AlarmDiary       = "diary-entry"        // a fact is damaged and left out
	AlarmStuck       = "stuck"              // the daemon cannot do its work, for another reason
	AlarmLost        = "writes-lost"        // what was written last before the power went may be gone
	AlarmBackup      = "backup"             // the last one failed or is old
	AlarmAnswerer    = "answerer"           // a machine writes and is not answered any more; its detail is the contact
	AlarmClock       = "clock"              // it cannot be believed, and reminders wait
	AlarmFarmFile    = "farm-file"          // it cannot be read at all
	AlarmNobodyLeft  = "nobody-left"        // everybody opted out or cannot be reached
)

// troubles tell the manager what of the machine fails, by another medium than
// the one that does.
func (p *plan) troubles() {
	for _, t := range p.Alarms {
		p.alarm(t)
	}
	if p.BadFile == nil {
		return
	}
	f := &AlarmFacts{Alarm: AlarmFarmFile, Detail: p.BadFile.Detail}
	for _, c := range p.hearers(FarmFileBad) {
		p.tell(c, FarmFileBad, Key{Of: ofFarmFile, What: p.BadFile.Digest}, f, span{from: p.morning(c.Contact, p.today)})
	}
}

// alarm tells those whom an alarm is for by a medium that works.
func (p *plan) alarm(t Trouble) {
	working := func(c Contact) []Medium {
		return slices.DeleteFunc(p.reach(c), func(m Medium) bool { return m == t.Medium })
	}
	for _, c := range Alarmed(p.Contacts, func(c Contact) bool { return len(working(c)) > 0 }) {
		p.tell(person{c, working(c)[:1]}, Alarm, AlarmKey(t),
			&AlarmFacts{Head: Head{Day: civil.DateOf(t.Since.In(p.Zone))}, Alarm: t.What, Detail: t.Detail},
			span{latest(t.Since, p.alarmed(c.Name, AlarmKey(t)).Add(alarmAgain)), t.Since.Add(alarmFor), t.Medium != ""})
	}
}

// AlarmKey begins the keys of all that is said of one trouble.
func AlarmKey(t Trouble) Key {
	return Key{Of: ofAlarm, What: t.What, Day: t.Since.UTC().Format("2006-01-02T15:04")}
}

// Alarmed lists those whom an alarm of the machine is for: of those who can be
// reached the managers, else the owners, else everybody.
func Alarmed(all []Contact, reached func(Contact) bool) []Contact {
	can := slices.DeleteFunc(slices.Clone(all), func(c Contact) bool { return !reached(c) })
	for _, role := range office {
		of := slices.DeleteFunc(slices.Clone(can), func(c Contact) bool { return !c.is(role) })
		if len(of) > 0 {
			return of
		}
	}
	return can
}

// alarmed is when a contact was last told of an earlier trouble of a kind: what
// comes and goes all day is told once a day.
func (p *plan) alarmed(to string, now Key) time.Time {
	var last time.Time
	for _, r := range p.Said.byContact[to] {
		if k := r.Key; k.Of == ofAlarm && k.What == now.What && k.Day != now.Day {
			last = latest(last, r.At)
		}
	}
	return last
}

// newsFor is how long it is worth telling that somebody opted out or took
// something back.
const newsFor = 7 * 24 * time.Hour

// optOuts tells those who run the farm, or whoever is left, who opted out.
func (p *plan) optOuts() {
	for _, o := range p.OptOuts {
		f := &PersonFacts{Head: Head{Day: civil.DateOf(o.At.In(p.Zone))}, Who: o.Contact}
		for _, c := range p.hearers(StopTold) {
			if c.Name != o.Contact {
				p.tell(c, StopTold, Key{Of: ofOptOut, What: o.Contact, Day: num(o.At.Unix())}, f, p.news(c, o.At))
			}
		}
	}
}

// takenBack tells exactly those who were told something that rested on a fact
// since taken back.
func (p *plan) takenBack() {
	facts, voids := p.Book.TakenBack(p.Now.Add(-newsFor))
	if len(facts) == 0 {
		return
	}
	for i, f := range facts {
		still := p.lines(func(v *season.View) bool { // a hold already begun is not argued away, nor is another cause
			return len(v.Shut) > 0 && (f.Kind == diary.Frost || f.Paddock == "" || f.Paddock == v.Paddock.ID)
		})
		said := &TakenBackFacts{
			Head:   Head{Place: Place{Paddock: f.Paddock}, Day: p.today},
			Undone: []diary.Fact{f}, Who: voids[i].By, Names: p.name(f.Paddock), Listed: Listed{still},
		}
		for _, c := range p.hearers(TakenBack) {
			if c.Name != voids[i].By && p.heardOf(c.Name, f, voids[i].At) {
				p.tell(c, TakenBack, Key{Of: ofTakenBack, Cause: Cause{Fact: f.ID}}, said, p.news(c, voids[i].At))
			}
		}
	}
}

// news is when a person hears what happened at an instant.
func (p *plan) news(c person, at time.Time) span {
	return span{from: p.decent(c.Contact, at), until: at.Add(newsFor)}
}

// heardOf reports whether a contact was told something because of a fact.
func (p *plan) heardOf(to string, f diary.Fact, before time.Time) bool {
	return slices.ContainsFunc(p.Said.byContact[to], func(r *SaidRow) bool {
		if r.At.After(before) {
			return false
		}
		return r.Key.restsOn(f.ID) || f.Kind == diary.Off && r.Kind == KeepShut && r.Paddock == f.Paddock && !r.At.Before(f.At)
	})
}

// restsOn reports whether a key names a fact as its cause.
func (k Key) restsOn(fact int64) bool {
	if k.Cause.Fact != fact {
		return false
	}
	switch k.Cause.Kind {
	case "on", "hold", "emergency", "disputed", string(season.ByBrown), string(season.ByFreeze):
		return true
	}
	return k.Of == ofFarm && k.Cause.Kind == ""
}

// name is a paddock as people say it.
func (p *plan) name(paddock string) map[string]string {
	for i := range p.Views {
		if of := p.Views[i].Paddock; of.ID == paddock {
			return map[string]string{paddock: of.Name}
		}
	}
	return nil
}
