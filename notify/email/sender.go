package email

import (
	"context"
	"errors"
	"fmt"
	"net/mail"
	"net/textproto"
	"sync"
	"time"

	"stubbled/notify"
	"stubbled/scheduler/ladder"
)

// Outgoing is what a Sender needs to know.
type Outgoing struct {
	Server Server
	// From is who writes; its domain is also the one we greet with.
	From mail.Address
	// Replies makes the address that answers go to; nil where no mail is read.
	Replies *Tokens
	// Patience is how long the server may take over the whole of one mail
	// before its end, and over the answer to the end.
	Patience time.Duration
}

// keepOpen is how long a conversation is kept for the next mail.
const keepOpen = 10 * time.Second

// A Sender takes mail to a server. It is a notify.Carrier and Checker, and may
// be used from several goroutines; mails go one after the other.
type Sender struct {
	o       Outgoing
	refused notify.Blame

	mu   sync.Mutex
	open *link
}

var _ notify.Checker = (*Sender)(nil)

// NewSender returns a sender, or what is wrong with its account.
func NewSender(o Outgoing) (*Sender, error) {
	server, err := o.Server.withPort(587, 465)
	if err != nil {
		return nil, err
	}
	o.Server = server
	return &Sender{o: o}, nil
}

func (s *Sender) Name() string          { return "email" }
func (s *Sender) Medium() ladder.Medium { return ladder.Mail }

// Retry is Unsafe: after the last byte a server may have the mail twice.
func (s *Sender) Retry() notify.Retry { return notify.Unsafe }

// MessageID is the Message-ID, without brackets, that a mail with this ID to
// this address ought to be frozen with: it holds the token that binds a reply.
func (s *Sender) MessageID(id, address string) string {
	return s.messageID(notify.Envelope{ID: id, Address: address})
}

// Deliver hands one mail over.
func (s *Sender) Deliver(ctx context.Context, e notify.Envelope) notify.Outcome {
	if to := bare(e.Address); to == "" {
		return notify.Outcome{State: notify.Permanent,
			Detail: "the contact's mail address cannot be one; correct it in the farm file"}
	}
	msg, err := s.compose(e)
	if err != nil {
		return notify.Outcome{State: notify.Permanent, Detail: told(err.Error())}
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.blame(e.ID, s.hand(ctx, e, msg))
}

// hand hands a mail over on the kept link, or on a new one.
func (s *Sender) hand(ctx context.Context, e notify.Envelope, msg []byte) notify.Outcome {
	if l := s.take(); l != nil {
		if o, gone := s.carry(ctx, l, e, msg); !gone {
			return o
		}
	}
	l, at, err := s.dial(ctx)
	if err != nil {
		return classify(at, err, s.o.Server)
	}
	o, _ := s.carry(ctx, l, e, msg)
	return o
}

// blame fails a mail whose refusal does not speak of its address or size only
// where the server does not refuse every other too: an account that was shut, a
// relay that lets nobody through.
func (s *Sender) blame(id string, o notify.Outcome) notify.Outcome {
	switch {
	case o.State == notify.Sent:
		s.refused.Took(id)
	case o.State == notify.Permanent && !ownFault(o.Code):
		own, everything := s.refused.Refused(id)
		if own {
			return o
		}
		o.State, o.Down = notify.Temporary, everything
	}
	return o
}

// carry hands a mail over on a link and keeps or closes the link after it.
// gone says that the server had closed a kept link before anything was said.
func (s *Sender) carry(ctx context.Context, l *link, e notify.Envelope, msg []byte) (o notify.Outcome, gone bool) {
	stop := closeWith(ctx, l.conn)
	kept := l.carried
	at, ref, err := l.post(s.o.From.Address, e, msg, s.o.Patience)
	open := stop()
	if err == nil {
		if open {
			s.keep(l) // else ctx ended just after the server took it
		} else {
			_ = l.conn.Close()
		}
		return notify.Outcome{State: notify.Sent, Ref: ref}, false
	}
	if ctx.Err() != nil {
		err = context.Cause(ctx)
	}
	var reply *textproto.Error
	answered := errors.As(err, &reply)
	gone = kept && at == atSender && ctx.Err() == nil && (!answered || reply.Code == 421)
	if answered && reply.Code != 421 && at != atContent && l.client.Reset() == nil {
		s.keep(l)
	} else {
		_ = l.conn.Close() // not quit: that would end an unfinished mail
	}
	return classify(at, err, s.o.Server), gone
}

// take returns the kept link, if there is one.
func (s *Sender) take() *link {
	l := s.open
	s.open = nil
	if l != nil && !l.idle.Stop() {
		return nil // its timer is about to close it
	}
	return l
}

// keep puts a link by for the next mail.
func (s *Sender) keep(l *link) {
	s.open = l
	l.idle = time.AfterFunc(keepOpen, func() {
		s.mu.Lock()
		if s.open == l {
			s.open = nil
		}
		s.mu.Unlock()
		l.quit()
	})
}

// Check connects and logs in, and sends nothing.
func (s *Sender) Check(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, 30*time.Second)
	defer cancel()
	l, at, err := s.dial(ctx)
	if err == nil {
		stop := closeWith(ctx, l.conn)
		defer stop()
		err = l.client.Noop()
		l.quit()
	}
	if err != nil {
		return fmt.Errorf("mail out: %s", classify(at, err, s.o.Server).Detail)
	}
	return nil
}
