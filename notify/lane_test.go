package notify_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"stubbled/notify"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// An usher is a carrier that may be given something only when it is let on, and
// hands over only when it is let go.
type usher struct {
	mailbag
	atDoor, letOn chan struct{}
	inHand, letGo chan struct{}
	noted         int
}

func newUsher() *usher {
	return &usher{atDoor: make(chan struct{}, 9), letOn: make(chan struct{}, 9), inHand: make(chan struct{}, 9), letGo: make(chan struct{}, 9)}
}

func (u *usher) Turn(ctx context.Context) error {
	u.atDoor <- struct{}{}
	select {
	case <-u.letOn:
	case <-ctx.Done():
	}
	return ctx.Err()
}

func (u *usher) Deliver(ctx context.Context, e notify.Envelope) notify.Outcome {
	u.inHand <- struct{}{}
	<-u.letGo
	if e.Going != nil && e.Goes() == nil {
		u.noted++
	}
	return u.mailbag.Deliver(ctx, e)
}

// ushered is a post whose texts go by an usher, which is not waited for.
func ushered(t *testing.T) (*post, *usher) {
	p, u := newPost(t), newUsher()
	p.courier = notify.NewCourier(notify.CourierOptions{
		Outbox: p.store, Carriers: []notify.Carrier{u}, Patience: time.Millisecond, Jitter: func() float64 { return 0.5 },
		Rules: notify.Rules{Zone: time.UTC, Contacts: []ladder.Contact{{Name: "Ana", Phone: "+15555550142"}, {Name: "Luis", Phone: "+15555550143"}}},
	})
	return p, u
}

func (p *post) inState(want store.State) (n int) {
	p.t.Helper()
	all, err := p.store.Fates(p.t.Context())
	if err != nil {
		p.t.Fatal(err)
	}
	for _, f := range all {
		if f.State == want {
			n++
		}
	}
	return n
}

func TestWhatComesInWhileACarrierIsBusyWaitsForNoOtherBeat(t *testing.T) {
	p, u := ushered(t)
	for range 9 {
		u.letOn <- struct{}{}
	}
	p.answer("Ana", "creek 1")
	p.drain(morning)
	<-u.inHand
	for i := range 5 {
		p.answer("Ana", fmt.Sprint("creek ", i+2))
		p.drain(morning.Add(time.Duration(i) * time.Second))
	}
	for range 6 {
		u.letGo <- struct{}{}
	}
	p.courier.Wait()
	if len(u.got) != 6 {
		t.Errorf("%d of six answers went without another beat: %q", len(u.got), u.texts())
	}
}

func TestWhileACarrierWaitsForItsTurnNothingIsUnderWay(t *testing.T) {
	p, u := ushered(t)
	p.wants(shut("creek", "Creek", "Ana"))
	p.drain(morning)
	<-u.atDoor
	if n := p.inState(store.Sending); n != 0 {
		t.Errorf("%d messages are under way while the carrier waits", n)
	}
	p.answer("Luis", "estado") // more urgent, and come since
	u.letOn <- struct{}{}
	<-u.inHand
	if n := p.inState(store.Sending); n != 1 {
		t.Errorf("%d messages are under way in its hands", n)
	}
	for range 3 {
		u.letOn <- struct{}{}
		u.letGo <- struct{}{}
	}
	p.courier.Wait()
	if len(u.got) != 2 || u.got[0].ToName != "Luis" || u.noted != 2 {
		t.Errorf("said %q, %d noted as going", u.texts(), u.noted)
	}
}

// Told to stop while a carrier waits, the answer goes with the last turn.
func TestAnAnswerIsNotPutBackByAStopDuringTheWait(t *testing.T) {
	p, u := ushered(t)
	p.answer("Ana", "creek 9")
	ctx, stop := context.WithCancel(t.Context())
	if err := p.courier.Drain(ctx, morning); err != nil {
		t.Fatal(err)
	}
	<-u.atDoor
	u.letGo <- struct{}{}
	go func() { // the last turn of a daemon
		p.courier.Drain(context.WithoutCancel(ctx), morning.Add(time.Second))
		stop()
		<-u.atDoor
		u.letOn <- struct{}{}
		u.letOn <- struct{}{}
	}()
	<-u.inHand
	p.courier.Wait()
	if len(u.got) != 1 || u.got[0].ToName != "Ana" {
		t.Errorf("said %q", u.texts())
	}
}
