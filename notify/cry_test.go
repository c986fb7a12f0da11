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
	{Name: "Ana", Role: "manager", Phone: "+15555550142", Email: "ana@example.org", QuietFrom: 21 * 60, QuietTo: 6 * 60},
	{Name: "Ruth", Role: "owner", Phone: "+15555550144"},
}

// crying is what the carriers got of cries at some times.
func crying(t *testing.T, text, mail *mailbag, optedOut []string, at ...time.Time) []notify.Envelope {
	t.Helper()
	box := &letterbox{}
	box.answer = mail.answer
	c := notify.Cry{
		Carriers: []notify.Carrier{box, text}, Logger: slog.New(slog.DiscardHandler),
		Rules:    notify.Rules{Farm: "Quail Fork", Zone: time.UTC, Contacts: crowd},
		Trouble:  ladder.Trouble{What: ladder.AlarmDisk, Detail: "no space"},
		OptedOut: func(a string) bool { return slices.Contains(optedOut, a) },
	}
	heard := map[string]time.Time{}
	for _, now := range at {
		c.Raise(t.Context(), now, heard)
	}
	return append(slices.Clone(text.got), box.got...)
}

func answers(o notify.Outcome) func(notify.Envelope, int) notify.Outcome {
	return func(notify.Envelope, int) notify.Outcome { return o }
}

func TestAnAlarmPastTheOutboxGoesToTheManagerOnceADay(t *testing.T) {
	got := crying(t, &mailbag{}, &mailbag{}, nil, morning, morning.Add(time.Minute), morning.Add(23*time.Hour), morning.Add(24*time.Hour))
	if len(got) != 2 || got[0].ToName != "Ana" || !strings.Contains(got[0].Text, "Free some disk space") || got[0].Kind != ladder.Alarm {
		t.Fatalf("got %+v", got)
	}
	if got[0].ID == got[1].ID {
		t.Error("a carrier would take tomorrow's for today's")
	}
}

func TestAnAlarmPastTheOutboxGoesByMailWhereTextsDoNot(t *testing.T) {
	got := crying(t, &mailbag{answer: answers(notify.Outcome{State: notify.Temporary, Down: true})}, &mailbag{}, nil, morning, morning.Add(time.Minute))
	if len(got) != 2 || got[1].Address != "ana@example.org" || got[1].MessageID == "" || !strings.HasPrefix(got[1].Subject, "Quail Fork: Free some disk space") {
		t.Errorf("got %+v", got)
	}
}

func TestAnAlarmPastTheOutboxIsTriedAgainUntilSomebodyHasIt(t *testing.T) {
	bag := &mailbag{answer: func(_ notify.Envelope, n int) notify.Outcome {
		return notify.Outcome{State: map[bool]notify.State{true: notify.Temporary, false: notify.Sent}[n < 3]}
	}}
	got := crying(t, bag, &mailbag{answer: answers(notify.Outcome{State: notify.Temporary})}, nil,
		morning, morning.Add(time.Minute), morning.Add(2*time.Minute), morning.Add(3*time.Minute))
	texts := slices.DeleteFunc(got, func(e notify.Envelope) bool { return e.Subject != "" })
	if len(texts) != 3 || texts[0].ID != texts[2].ID {
		t.Errorf("got %+v", texts)
	}
}

// A mail of which the server's answer was lost may have arrived.
func TestAnAlarmThatMayHaveArrivedIsNotSaidAgainThatDay(t *testing.T) {
	down := notify.Outcome{State: notify.Temporary, Down: true}
	got := crying(t, &mailbag{answer: answers(down)}, &mailbag{answer: answers(notify.Outcome{State: notify.UnknownState})}, nil,
		morning, morning.Add(time.Hour))
	if len(got) != 2 {
		t.Errorf("got %+v", got)
	}
}

func TestAnAlarmPastTheOutboxWakesNobodyAndHonoursAnOptOut(t *testing.T) {
	night := time.Date(2026, 9, 1, 2, 0, 0, 0, time.UTC)
	if got := crying(t, &mailbag{}, &mailbag{}, nil, night); len(got) != 0 {
		t.Errorf("at night: %+v", got)
	}
	if got := crying(t, &mailbag{}, &mailbag{}, nil, night, morning); len(got) != 1 {
		t.Errorf("in the morning: %+v", got)
	}
	got := crying(t, &mailbag{}, &mailbag{}, []string{"+15555550142"}, morning)
	if len(got) != 1 || got[0].Address != "ana@example.org" {
		t.Errorf("who opted out of texts: %+v", got)
	}
	got = crying(t, &mailbag{}, &mailbag{}, []string{"+15555550142", "ana@example.org"}, morning)
	if len(got) != 1 || got[0].ToName != "Ruth" {
		t.Errorf("where the manager opted out: %+v", got)
	}
	got = crying(t, &mailbag{}, &mailbag{}, []string{"+15555550142", "ana@example.org", "+15555550144"}, morning)
	if len(got) != 1 || got[0].ToName != "Luis" || !strings.Contains(got[0].Text, "Libere espacio") {
		t.Errorf("where nobody else is left: %+v", got)
	}
}

// A clock that ran a year ahead and came back does not silence the alarm.
func TestAnAlarmPastTheOutboxOutlivesAClockThatJumped(t *testing.T) {
	if got := crying(t, &mailbag{}, &mailbag{}, nil, morning.AddDate(1, 0, 0), morning); len(got) != 2 {
		t.Errorf("got %+v", got)
	}
}
