package provider

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"sync"
	"sync/atomic"
	"time"

	"stubbled/notify"
	"stubbled/notify/sms"
	"stubbled/notify/terms"
)

// maxAnswer bounds what is read of an answer to a message.
const maxAnswer = 64 << 10

// Deliver hands one message to the service. What the service may have read and
// did not answer is unknown, unless it counts a repetition once.
func (p *Provider) Deliver(ctx context.Context, e notify.Envelope) notify.Outcome {
	if !sms.IsE164(e.Address) {
		return notify.Outcome{State: notify.Permanent, Detail: "the number is not written as + and digits; mend it in the farm file"}
	}
	r, err := p.message(ctx, e)
	if err != nil {
		return notify.Outcome{State: notify.Temporary, Down: true, Detail: err.Error()}
	}
	p.pace.Lock()
	p.pace.next = p.now().Add(p.o.Every)
	p.pace.Unlock()
	gone, err := letGo(r, e)
	if err != nil {
		return notify.Outcome{State: notify.Temporary, Down: true, Detail: err.Error()}
	}
	resp, err := p.client.Do(r)
	if err != nil {
		return p.lost(err, gone.Load())
	}
	defer resp.Body.Close()
	answer, readErr := io.ReadAll(io.LimitReader(resp.Body, maxAnswer))
	out := p.judge(e.ID, resp, answer, readErr)
	p.o.Log.Info("handed over", "envelope", e.ID, "to", sms.PhoneShort(e.Address), "status", resp.StatusCode, "outcome", int(out.State))
	return out
}

// letGo has the envelope told just before the service may act on it: with the
// first byte of the body, without which it knows nothing to do, or before a
// request that has none. gone tells whether that was.
func letGo(r *http.Request, e notify.Envelope) (gone *atomic.Bool, err error) {
	gone = &atomic.Bool{}
	going := sync.OnceValue(func() error {
		err := e.Goes()
		gone.Store(err == nil)
		return err
	})
	if r.ContentLength == 0 {
		return gone, going()
	}
	r.Body, r.GetBody = &parting{r.Body, going}, nil
	return gone, nil
}

// parting is a body that says when its first byte goes.
type parting struct {
	io.ReadCloser
	going func() error
}

func (p *parting) Read(b []byte) (int, error) {
	if err := p.going(); err != nil {
		return 0, fmt.Errorf("nothing goes that cannot be written down first: %w", err)
	}
	return p.ReadCloser.Read(b)
}

// message is the request for one envelope.
func (p *Provider) message(ctx context.Context, e notify.Envelope) (*http.Request, error) {
	to := terms.Message{To: e.Address, Digits: sms.Digits(e.Address), Text: e.Text, ID: e.ID}
	if p.o.Language != nil {
		to.Language = p.o.Language(e.Address)
	}
	fields, err := fill(p.fields, to)
	if err != nil {
		return nil, err
	}
	if p.o.Auth.Kind == "field" {
		secret, err := p.secret()
		if err != nil {
			return nil, err
		}
		fields = append(fields, terms.Field{Name: p.o.Auth.Name, Value: secret})
	}
	contentType, data, err := body(p.o.Encoding, fields)
	if err != nil {
		return nil, err
	}
	r, err := p.request(ctx, p.o.Method, p.o.URL, contentType, data)
	if err != nil {
		return nil, err
	}
	if p.o.Idempotency != "" {
		r.Header.Set(p.o.Idempotency, e.ID)
	}
	return r, nil
}

// lost is a request without an answer.
func (p *Provider) lost(err error, written bool) notify.Outcome {
	detail := inWords(err)
	switch {
	case !written:
		return notify.Outcome{State: notify.Temporary, Down: true, Detail: detail}
	case p.o.Idempotency != "":
		return notify.Outcome{State: notify.Temporary, Down: true, Detail: detail + "; it is safe to send it again"}
	}
	return notify.Outcome{State: notify.UnknownState, Down: true,
		Detail: fmt.Sprintf("%s, after the message was on its way: it may have been sent", detail)}
}

// pace keeps the least time between two messages.
type pace struct {
	sync.Mutex
	next time.Time
}

// left is how long the next message has to wait.
func (p *pace) left(now time.Time, every time.Duration) time.Duration {
	p.Lock()
	defer p.Unlock()
	return min(p.next.Sub(now), every) // more: the clock was set back
}

// Turn waits until the service may be given the next message.
func (p *Provider) Turn(ctx context.Context) error {
	return notify.Wait(ctx, p.pace.left(p.now(), p.o.Every))
}
