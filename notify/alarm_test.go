package notify_test

import (
	"log/slog"
	"slices"
	"strings"
	"testing"
	"time"

	"stubbled/notify"
	"stubbled/scheduler/ladder"
)

// A letterbox is a mailbag for mails.
type letterbox struct{ mailbag }

func (*letterbox) Name() string          { return "email" }
func (*letterbox) Medium() ladder.Medium { return ladder.Mail }
func (*letterbox) MessageID(id, _ string) string {
	return id + "@example.org"
}

var crowd = []ladder.Contact{
	{Name: "Luis", Role: "helper", Phone: "+15555550143", Language: "es"},
	{Name: "Ana", Role: "manager", Phone: "+15555550142", Email: "ana@example.org", QuietHours: ladder.QuietHours{From: 21 * 60, To: 6 * 60}},
	{Name: "Ruth", Role: "owner", Phone: "+15555550144", Email: "ruth@example.org"},
}

// alarmed is what the carriers got of alarms at some times.
func alarmed(t *testing.T, text, mail *mailbag, optedOut []string, at ...time.Time) []notify.Envelope {
	t.Helper()
	return alarmedOf(t, crowd, text, mail, optedOut, at...)
}

func alarmedOf(t *testing.T, crowd []ladder.Contact, text, mail *mailbag, optedOut []string, at ...time.Time) []notify.Envelope {
	t.Helper()
	box := &letterbox{}
	box.answer = mail.answer
	c := notify.Alarm{
		Carriers: []notify.Carrier{box, text}, Logger: slog.New(slog.DiscardHandler),
		Rules:    notify.Rules{Farm: "Quail Fork", Zone: time.UTC, Contacts: crowd},
		Trouble:  ladder.Trouble{What: ladder.AlarmDisk, Detail: "no space"},
		OptedOut: func(a string) bool { return slices.Contains(optedOut, a) },
		Reached:  map[string]notify.Reached{}, Keep: func() {},
	}
	for _, now := range at {
		c.Raise(t.Context(), now)
	}
	return append(slices.Clone(text.got), box.got...)
}

func answers(o notify.Outcome) func(notify.Envelope, int) notify.Outcome {
	return func(notify.Envelope, int) notify.Outcome { return o }
}

func TestAnAlarmPastTheOutboxGoesToTheManagerOnceADay(t *testing.T) {
	got := alarmed(t, &mailbag{}, &mailbag{}, nil, morning, morning.Add(time.Minute), morning.Add(23*time.Hour), morning.Add(24*time.Hour))
	if len(got) != 2 || got[0].ToName != "Ana" || !strings.Contains(got[0].Text, "Free some disk space") || got[0].Kind != ladder.Alarm {
		t.Fatalf("got %+v", got)
	}
	if got[0].ID == got[1].ID {
		t.Error("a carrier would take tomorrow's for today's")
	}
}

func TestAnAlarmPastTheOutboxGoesByMailWhereTextsDoNot(t *testing.T) {
	got := alarmed(t, &mailbag{answer: answers(notify.Outcome{State: notify.Temporary, Down: true})}, &mailbag{}, nil, morning, morning.Add(time.Minute))
	if len(got) != 2 || got[1].Address != "ana@example.org" || got[1].MessageID == "" || !strings.HasPrefix(got[1].Subject, "Quail Fork: Free some disk space") {
		t.Errorf("got %+v", got)
	}
}

// minutes are the minutes from one on.
func minutes(n int, from time.Time) (all []time.Time) {
	for i := range n {
		all = append(all, from.Add(time.Duration(i)*time.Minute))
	}
	return all
}

// to lists what one contact got.
func to(name string, got []notify.Envelope) (all []notify.Envelope) {
	for _, e := range got {
		if e.ToName == name {
			all = append(all, e)
		}
	}
	return all
}

func TestAnAlarmPastTheOutboxIsTriedAgainLessAndLessUntilSomebodyHasIt(t *testing.T) {
	upAt := morning.Add(3 * time.Hour)
	network := func(e notify.Envelope, _ int) notify.Outcome {
		if e.Date.Before(upAt) {
			return notify.Outcome{State: notify.Temporary, Down: true}
		}
		return notify.Outcome{State: notify.Sent}
	}
	got := to("Ana", alarmed(t, &mailbag{answer: network}, &mailbag{answer: network}, nil, minutes(6*60, morning)...))
	texts := slices.DeleteFunc(got, func(e notify.Envelope) bool { return e.Subject != "" })
	last := texts[len(texts)-1]
	if len(texts) < 6 || len(texts) > 15 || last.Date.Before(upAt) || last.Date.After(upAt.Add(90*time.Minute)) || texts[0].ID != last.ID {
		t.Errorf("%d texts were tried, the last %s", len(texts), last.Date)
	}
}

// The spool of the modem may lie on the same full disk, and the manager has no
// mail.
func TestAnAlarmThatReachesNoManagerGoesToTheOwner(t *testing.T) {
	got := alarmed(t, &mailbag{answer: answers(notify.Outcome{State: notify.Temporary, Down: true})}, &mailbag{}, []string{"ana@example.org"},
		minutes(120, morning)...)
	ruth := slices.DeleteFunc(to("Ruth", got), func(e notify.Envelope) bool { return e.Subject == "" })
	if len(ruth) != 1 || len(to("Luis", got)) != 0 {
		t.Errorf("Ruth got %d mails, Luis %d texts were tried", len(ruth), len(to("Luis", got)))
	}
}

func TestAnAlarmThatIsRefusedForGoodIsNotSentAllDay(t *testing.T) {
	no := answers(notify.Outcome{State: notify.Permanent})
	if got := to("Ana", alarmed(t, &mailbag{answer: no}, &mailbag{answer: no}, nil, minutes(20*60, morning.Add(-5*time.Hour))...)); len(got) != 2 {
		t.Errorf("%d were tried in a day", len(got))
	}
}

// A mail of which the server's answer was lost may have arrived.
func TestAnAlarmThatMayHaveArrivedIsNotSaidAgainThatDay(t *testing.T) {
	down := notify.Outcome{State: notify.Temporary, Down: true}
	got := alarmed(t, &mailbag{answer: answers(down)}, &mailbag{answer: answers(notify.Outcome{State: notify.UnknownState})}, nil,
		morning, morning.Add(time.Hour))
	if len(got) != 2 {
		t.Errorf("got %+v", got)
	}
}

func TestAnAlarmPastTheOutboxWakesNobodyAndHonoursAnOptOut(t *testing.T) {
	night := time.Date(2026, 9, 1, 2, 0, 0, 0, time.UTC)
	if got := alarmed(t, &mailbag{}, &mailbag{}, nil, night); len(got) != 0 {
		t.Errorf("at night: %+v", got)
	}
	if got := alarmed(t, &mailbag{}, &mailbag{}, nil, night, morning); len(got) != 1 {
		t.Errorf("in the morning: %+v", got)
	}
	got := alarmed(t, &mailbag{}, &mailbag{}, []string{"+15555550142"}, morning)
	if len(got) != 1 || got[0].Address != "ana@example.org" {
		t.Errorf("who opted out of texts: %+v", got)
	}
	got = alarmed(t, &mailbag{}, &mailbag{}, []string{"+15555550142", "ana@example.org"}, morning)
	if len(got) != 1 || got[0].ToName != "Ruth" {
		t.Errorf("where the manager opted out: %+v", got)
	}
	got = alarmed(t, &mailbag{}, &mailbag{}, []string{"+15555550142", "ana@example.org", "+15555550144", "ruth@example.org"}, morning)
	if len(got) != 1 || got[0].ToName != "Luis" || !strings.Contains(got[0].Text, "Libere espacio") {
		t.Errorf("where nobody else is left: %+v", got)
	}
}

// A clock that ran a year ahead and came back does not silence the alarm.
func TestAnAlarmPastTheOutboxOutlivesAClockThatJumped(t *testing.T) {
	if got := alarmed(t, &mailbag{}, &mailbag{}, nil, morning.AddDate(1, 0, 0), morning); len(got) != 2 {
		t.Errorf("got %+v", got)
	}
}

// The second is not tried while the modem is down for the first, and hears it as
// soon as it is up.
func TestAnAlarmPastTheOutboxReachesEveryManager(t *testing.T) {
	upAt := morning.Add(10 * time.Minute)
	network := func(e notify.Envelope, _ int) notify.Outcome {
		if e.Date.Before(upAt) {
			return notify.Outcome{State: notify.Temporary, Down: true}
		}
		return notify.Outcome{State: notify.Sent}
	}
	managers := []ladder.Contact{{Name: "Ana", Role: "manager", Phone: "+15555550142"}, {Name: "Ben", Role: "manager", Phone: "+15555550146"}}
	got := alarmedOf(t, managers, &mailbag{answer: network}, &mailbag{}, nil, minutes(60, morning)...)
	for _, name := range []string{"Ana", "Ben"} {
		all := to(name, got)
		if len(all) == 0 || all[len(all)-1].Date.Before(upAt) {
			t.Errorf("%s was not told: %d tries", name, len(all))
		}
	}
}

func TestAnAlarmOverWhichACarrierFallsGoesToSomebodyElse(t *testing.T) {
	fall := func(notify.Envelope, int) notify.Outcome { panic("index out of range") }
	got := alarmed(t, &mailbag{answer: fall}, &mailbag{}, []string{"ana@example.org"}, morning)
	if ruth := to("Ruth", got); len(ruth) != 1 || ruth[0].Subject == "" {
		t.Errorf("Ruth got %+v", ruth)
	}
}
