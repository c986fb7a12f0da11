package ladder

import (
	"slices"
	"strings"
	"time"

	"github.com/golang-sql/civil"
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
	all := make([]Contact, len(p.people))
	working := make(map[string][]Medium, len(p.people))
	for i, q := range p.people {
		all[i], working[q.Name] = q.Contact, q.working(t.Medium)
	}
	for _, c := range Alarmed(all, func(c Contact) bool { return len(working[c.Name]) > 0 }) {
		p.tell(person{c, working[c.Name][:1]}, Alarm, AlarmKey(t),
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
	for _, role := range []string{"manager", "owner"} {
		of := slices.DeleteFunc(slices.Clone(can), func(c Contact) bool { return !strings.EqualFold(c.Role, role) })
		if len(of) > 0 {
			return of
		}
	}
	return can
}

// working are the media of a person but one that fails.
func (c person) working(fails Medium) []Medium {
	return slices.DeleteFunc(slices.Clone(c.media), func(m Medium) bool { return m == fails })
}

// alarmed is when a contact was last told of an earlier trouble of a kind: what
// comes and goes all day is told once a day.
func (p *plan) alarmed(to string, now Key) time.Time {
	var last time.Time
	for _, r := range p.Said.rows {
		if k := r.Key; r.To == to && k.Of == ofAlarm && k.What == now.What && k.Day != now.Day {
			last = latest(last, r.At)
		}
	}
	return last
}
