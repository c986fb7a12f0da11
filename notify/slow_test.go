package notify_test

import (
	"context"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"stubbled/notify"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// A hanging carrier of mail hands over only when it is let go.
type hanging struct {
	mailbag
	started, letGo chan struct{}
}

func (h *hanging) Name() string          { return "email" }
func (h *hanging) Medium() ladder.Medium { return ladder.Mail }
func (h *hanging) Deliver(ctx context.Context, e notify.Envelope) notify.Outcome {
	h.started <- struct{}{}
	<-h.letGo
	return h.mailbag.Deliver(ctx, e)
}

func TestAMailServerThatHangsHoldsUpNoText(t *testing.T) {
	s, err := store.Open(t.Context(), filepath.Join(t.TempDir(), "post.db"), store.Options{RunID: "test", Now: morning})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	slow := &hanging{started: make(chan struct{}, 9), letGo: make(chan struct{})}
	p := &post{t: t, store: s, bag: &mailbag{}, sure: true}
	p.courier = notify.NewCourier(notify.CourierOptions{
		Outbox: s, Carriers: []notify.Carrier{slow, p.bag}, Patience: time.Millisecond,
		Rules: notify.Rules{Zone: time.UTC, WordsOnly: true, Contacts: []ladder.Contact{{Name: "Ana", Phone: "+15555550142", Email: "ana@example.org"}}},
	})
	mail := shut("creek", "Creek", "Ana")
	mail.Medium, mail.Key.Medium = ladder.Mail, ladder.Mail
	p.wants(mail)
	p.drain(morning)
	<-slow.started
	text := shut("hill", "Hill", "Ana")
	p.wants(mail, text)
	for len(p.bag.texts()) == 0 { // the text's own lane is free
		p.drain(morning.Add(time.Minute))
	}
	select {
	case <-slow.started:
		t.Error("the server that hangs is asked again")
	default:
	}
	close(slow.letGo)
	p.courier.Wait()
	if len(slow.got) != 1 {
		t.Errorf("%d mails", len(slow.got))
	}
	all, err := s.Fates(t.Context())
	if err != nil || slices.ContainsFunc(all, func(f store.Fate) bool { return f.State == store.Sending }) {
		t.Errorf("what became of the mail was not written down: %+v, %v", all, err)
	}
}

func TestANumberThatTheNetworkBlocksIsAnOptOut(t *testing.T) {
	p := newPost(t)
	p.bag.answer = func(notify.Envelope, int) notify.Outcome {
		return notify.Outcome{State: notify.Permanent, OptedOut: true, Detail: "the owner opted out"}
	}
	p.wants(shut("creek", "Creek", "Ana"))
	p.drain(morning)
	out, err := p.store.OptOuts(t.Context())
	if err != nil || len(out) != 1 || out[0].Address != "+15555550142" || out[0].Contact != "Ana" {
		t.Errorf("kept %+v, %v", out, err)
	}
	p.wants(shut("hill", "Hill", "Ana"))
	p.drain(morning.Add(time.Minute))
	if len(p.bag.got) != 1 {
		t.Errorf("texted again: %q", p.bag.texts())
	}
}

func TestAMailThatMayBeARepeatSaysSoInItsSubject(t *testing.T) {
	p := newPost(t)
	post := &letters{mailbag{answer: func(notify.Envelope, int) notify.Outcome { return notify.Outcome{State: notify.UnknownState} }}}
	p.courier = notify.NewCourier(notify.CourierOptions{
		Outbox: p.store, Carriers: []notify.Carrier{post}, Jitter: func() float64 { return 0.5 },
		Rules: notify.Rules{Zone: time.UTC, WordsOnly: true, Contacts: []ladder.Contact{{Name: "Ana", Email: "ana@example.org"}}},
	})
	mail := shut("creek", "Creek", "Ana")
	mail.Medium = ladder.Mail
	p.wants(mail)
	p.drain(morning)
	p.drain(morning.Add(time.Hour))
	if len(post.got) != 2 || strings.Contains(post.got[0].Subject, "repeat") || !strings.Contains(post.got[1].Subject, "repeat") {
		var subjects []string
		for e := range slices.Values(post.got) {
			subjects = append(subjects, e.Subject)
		}
		t.Errorf("the subjects are %q", subjects)
	}
}

// letters is a mailbag of mail.
type letters struct{ mailbag }

func (*letters) Name() string          { return "email" }
func (*letters) Medium() ladder.Medium { return ladder.Mail }
