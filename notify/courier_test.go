package notify_test

import (
	"cmp"
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"time"

	"stubbled/notify"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// A mailbag is a carrier that keeps what it was given and answers as it is told.
type mailbag struct {
	mu     sync.Mutex
	got    []notify.Envelope
	answer func(e notify.Envelope, n int) notify.Outcome
	retry  notify.Retry
}

func (m *mailbag) Name() string          { return "sms" }
func (m *mailbag) Medium() ladder.Medium { return ladder.Text }
func (m *mailbag) Retry() notify.Retry   { return cmp.Or(m.retry, notify.Unsafe) }
func (m *mailbag) Deliver(_ context.Context, e notify.Envelope) notify.Outcome {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.got = append(m.got, e)
	if m.answer == nil {
		return notify.Outcome{State: notify.Sent}
	}
	return m.answer(e, len(m.got))
}

func (m *mailbag) texts() []string {
	m.mu.Lock()
	defer m.mu.Unlock()
	var all []string
	for _, e := range m.got {
		all = append(all, e.Text)
	}
	return all
}

var morning = time.Date(2026, 9, 1, 11, 30, 0, 0, time.UTC)

type post struct {
	t       *testing.T
	store   *store.Store
	bag     *mailbag
	courier *notify.Courier
	fails   []string
	sure    bool
}

func newPost(t *testing.T) *post {
	s, err := store.Open(t.Context(), filepath.Join(t.TempDir(), "post.db"), store.Options{RunID: "test", Now: morning})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	p := &post{t: t, store: s, bag: &mailbag{}, sure: true}
	p.courier = notify.NewCourier(notify.CourierOptions{
		Outbox: s, Carriers: []notify.Carrier{p.bag}, Jitter: func() float64 { return 0.5 }, Sure: func() bool { return p.sure },
		Rules: notify.Rules{Farm: "Quail Fork", Zone: time.UTC, Cap: 3, Contacts: []ladder.Contact{
			{Name: "Ana", Role: "manager", Phone: "+15555550142", QuietHours: ladder.QuietHours{From: 21 * 60, To: 6 * 60}}, {Name: "Luis", Phone: "+15555550143", Language: "es"},
		}},
		Fails: func(c notify.Carrier, err error) {
			if err != nil {
				p.fails = append(p.fails, err.Error())
			}
		},
	})
	return p
}

// wants queues notices as a pass would.
func (p *post) wants(notices ...ladder.Notice) {
	p.t.Helper()
	err := p.store.Update(p.t.Context(), morning, func(tx *store.Tx) error {
		_, err := tx.Reconcile(notices)
		return err
	})
	if err != nil {
		p.t.Fatal(err)
	}
}

func (p *post) drain(at time.Time) {
	p.t.Helper()
	if err := p.courier.Drain(p.t.Context(), at); err != nil {
		p.t.Fatal(err)
	}
}

func shut(id, name, to string) ladder.Notice {
	return ladder.Notice{
		Key: ladder.ParseKey(id + "/2026-09-01/-/0/0/" + to + "/text"), To: to, Medium: ladder.Text, Kind: ladder.ShutToday,
		Facts: &ladder.RungFacts{PaddockFacts: ladder.PaddockFacts{
			Head:     ladder.Head{Place: ladder.Place{Paddock: id, Name: name, Say: id}},
			Standing: ladder.Standing{Grazed: true, Leave: 8, Cutoff: date("2026-09-01"), Frost: date("2026-10-16")},
		}},
		NotBefore: morning.Add(-time.Minute), GoodUntil: morning.Add(24 * time.Hour),
	}
}

func TestSixPaddocksAreOneText(t *testing.T) {
	p := newPost(t)
	p.wants(shut("creek", "Creek", "Ana"), shut("hill", "Hill", "Ana"), shut("mill", "Mill", "Ana"), shut("creek", "Creek", "Luis"))
	p.drain(morning)
	if len(p.bag.got) != 2 {
		t.Fatalf("%d texts: %q", len(p.bag.got), p.bag.texts())
	}
}

func TestARetryIsIdenticalToTheByte(t *testing.T) {
	p := newPost(t)
	p.bag.answer = func(_ notify.Envelope, n int) notify.Outcome {
		if n < 4 {
			return notify.Outcome{State: notify.Temporary, Code: "451"}
		}
		return notify.Outcome{State: notify.Sent}
	}
	p.wants(shut("creek", "Creek", "Ana"))
	for at := morning; at.Before(morning.Add(30 * time.Minute)); at = at.Add(time.Minute) {
		p.drain(at)
	}
	if len(p.bag.got) != 4 {
		t.Fatalf("%d tries, want 4", len(p.bag.got))
	}
	for _, e := range p.bag.got[1:] {
		if e.ID != p.bag.got[0].ID || e.Text != p.bag.got[0].Text || !e.Date.Equal(p.bag.got[0].Date) {
			t.Errorf("the retry %q differs from %q", e.Text, p.bag.got[0].Text)
		}
	}
}

func TestACarrierThatIsDownIsNotHammered(t *testing.T) {
	p := newPost(t)
	p.bag.answer = func(notify.Envelope, int) notify.Outcome {
		return notify.Outcome{State: notify.Temporary, Down: true, Detail: "no signal: move the antenna"}
	}
	p.wants(shut("creek", "Creek", "Ana"), shut("creek", "Creek", "Luis"))
	p.drain(morning)
	if len(p.bag.got) != 1 || !slices.Equal(p.fails, []string{"no signal: move the antenna"}) {
		t.Errorf("%d tries, told %q", len(p.bag.got), p.fails)
	}
}

func TestACarrierThatIsDownIsTriedByOneMessageLessAndLessOften(t *testing.T) {
	p := newPost(t)
	up := false
	p.bag.answer = func(notify.Envelope, int) notify.Outcome {
		if up {
			return notify.Outcome{State: notify.Sent}
		}
		return notify.Outcome{State: notify.Temporary, Down: true, Detail: "no signal: move the antenna"}
	}
	p.wants(shut("creek", "Creek", "Ana"), shut("creek", "Creek", "Luis"))
	at := morning
	for ; at.Before(morning.Add(2 * time.Hour)); at = at.Add(time.Minute) {
		p.drain(at)
	}
	if n := len(p.bag.got); n < 5 || n > 10 {
		t.Errorf("%d tries in two hours, want one a minute at first and fewer and fewer", n)
	}
	up = true
	for ; at.Before(morning.Add(4 * time.Hour)); at = at.Add(time.Minute) {
		p.drain(at)
	}
	told := map[string]bool{}
	for _, e := range p.bag.got[len(p.bag.got)-2:] {
		told[e.ToName] = true
	}
	if len(told) != 2 {
		t.Errorf("once it is well again %v are told", told)
	}
}

func TestAnUnsafeCarrierWhoseAnswerWasLostRepeatsOnceAndSaysSo(t *testing.T) {
	p := newPost(t)
	p.bag.answer = func(notify.Envelope, int) notify.Outcome { return notify.Outcome{State: notify.UnknownState} }
	p.wants(shut("creek", "Creek", "Ana"))
	for at := morning; at.Before(morning.Add(5 * time.Hour)); at = at.Add(10 * time.Minute) {
		p.drain(at)
	}
	if len(p.bag.got) != 2 || !p.bag.got[1].MayRepeat || p.bag.got[0].MayRepeat {
		t.Fatalf("said %q", p.bag.texts())
	}
	if p.bag.got[1].ID == p.bag.got[0].ID {
		t.Error("the repeat has the first one's id")
	}
}

func TestTheConsoleNeverRepeats(t *testing.T) {
	p := newPost(t)
	p.bag.retry = notify.Never
	p.bag.answer = func(notify.Envelope, int) notify.Outcome { return notify.Outcome{State: notify.UnknownState} }
	p.wants(shut("creek", "Creek", "Ana"))
	for at := morning; at.Before(morning.Add(5 * time.Hour)); at = at.Add(10 * time.Minute) {
		p.drain(at)
	}
	if len(p.bag.got) != 1 {
		t.Errorf("said %q", p.bag.texts())
	}
}

func TestADeadlineGoesAheadOfAThousandTexts(t *testing.T) {
	p := newPost(t)
	var all []ladder.Notice
	for i := range 1000 {
		n := shut(fmt.Sprintf("p%d", i), "Hill", "Luis")
		n.Kind = []ladder.Kind{ladder.HeadsUp, ladder.LastLook}[i%2]
		n.Key = ladder.ParseKey(fmt.Sprintf("p%d/x/-/10/0/Luis/text", i))
		n.NotBefore = morning.Add(-time.Duration(i) * time.Minute)
		all = append(all, n)
	}
	fire := shut("lane", "Lane", "Ana")
	fire.Kind, fire.Urgent = ladder.HoldBegins, true
	held := fire.Facts.(*ladder.RungFacts).PaddockFacts
	held.Hold = &ladder.Hold{Plants: []string{"johnsongrass"}}
	fire.Facts = &held
	p.wants(append(all, fire)...)
	p.drain(morning)
	if len(p.bag.got) == 0 || p.bag.got[0].Kind != ladder.HoldBegins {
		t.Errorf("first of %d was %q", len(p.bag.got), p.bag.texts()[0])
	}
}

func TestWhileTheClockIsDoubtedOnlyAnswersGo(t *testing.T) {
	p := newPost(t)
	p.sure = false
	p.wants(shut("creek", "Creek", "Ana"))
	p.answer("Ana", "help")
	p.drain(morning)
	if len(p.bag.got) != 1 || !p.bag.got[0].Answer {
		t.Errorf("said %q", p.bag.texts())
	}
}

func TestAnAnswerBreaksQuietHoursAndAReminderDoesNot(t *testing.T) {
	p := newPost(t)
	night := time.Date(2026, 9, 1, 23, 0, 0, 0, time.UTC)
	late := shut("creek", "Creek", "Ana")
	late.NotBefore, late.GoodUntil = night.Add(-time.Minute), night.Add(24*time.Hour)
	p.wants(late)
	p.answer("Ana", "help")
	p.drain(night)
	if len(p.bag.got) != 1 || !p.bag.got[0].Answer {
		t.Fatalf("at night said %q", p.bag.texts())
	}
	p.drain(night.Add(7 * time.Hour))
	if len(p.bag.got) != 2 {
		t.Errorf("in the morning said %q", p.bag.texts())
	}
}

// answer queues the answer to a text that just came.
func (p *post) answer(to, text string) {
	p.t.Helper()
	if err := p.store.Accept(p.t.Context(), "sms", []store.In{{ID: text, From: "+15555550142", Contact: to, Text: text}}, "", morning); err != nil {
		p.t.Fatal(err)
	}
	in, err := p.store.Pending(p.t.Context())
	if err != nil || len(in) == 0 {
		p.t.Fatal(in, err)
	}
	err = p.store.Update(p.t.Context(), morning, func(tx *store.Tx) error {
		if _, err := tx.Heard(in[0].Row); err != nil {
			return err
		}
		_, err := tx.Answer(ladder.Notice{
			Key: ladder.AnswerKey(in[0].Row), To: to, Medium: ladder.Text, Kind: ladder.AnswerHelp, Inbox: in[0].Row,
			Facts: &ladder.AnswerFacts{
				Head: ladder.Head{Place: ladder.Place{Paddock: "creek", Say: "cb"}}, Answered: ladder.Answered{Recorded: []diary.Fact{{Kind: diary.Help}}},
			},
			NotBefore: morning, GoodUntil: morning.Add(48 * time.Hour),
		})
		return err
	})
	if err != nil {
		p.t.Fatal(err)
	}
}

func TestBackoffDoublesUpToAnHour(t *testing.T) {
	for n, want := range map[int]time.Duration{0: time.Minute, 1: time.Minute, 2: 2 * time.Minute, 5: 16 * time.Minute, 7: time.Hour, 500: time.Hour} {
		if got := notify.Backoff(n, 0.5); got != want {
			t.Errorf("after try %d it waits %s, want %s", n, got, want)
		}
	}
	if low, high := notify.Backoff(1, 0), notify.Backoff(1, 1); low != 48*time.Second || high != 72*time.Second {
		t.Errorf("the jitter runs from %s to %s", low, high)
	}
}
