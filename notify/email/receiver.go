package email

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"math/rand/v2"
	"time"

	"github.com/emersion/go-imap/v2"

	"stubbled/notify"
)

// Incoming is what a Receiver needs to know.
type Incoming struct {
	Server Server
	Folder string
	// Replies opens the tokens of the mails that we sent.
	Replies *Tokens
	// Known reports whether an address, in lower case, is a contact's.
	Known func(address string) bool
	// Everyone lists the contacts' addresses, so that `stop` counts from an
	// address to which somebody forwards their mail. It may be nil.
	Everyone func() []string
	// AuthServID is the name by which the mailbox's own server signs its
	// Authentication-Results; empty: none are believed.
	AuthServID string
	// Poll is how often the mailbox is looked into where the server does not
	// tell by itself, Idle how long it is listened to in one go where it does: 0
	// is four minutes, less than what home routers forget a silent connection
	// after (common practice).
	Poll, Idle time.Duration
	// Patience is how long a command may take.
	Patience time.Duration
	Log      *slog.Logger
}

// A Receiver hears what people write back. It is a notify.Receiver and
// Checker.
type Receiver struct {
	in    Incoming
	now   func() time.Time
	read  func([]byte) (*letter, error)
	retry func(n int, err error) time.Duration
}

var _ notify.Checker = (*Receiver)(nil)

// NewReceiver returns a receiver, or what is wrong with its account.
func NewReceiver(in Incoming, now func() time.Time) (*Receiver, error) {
	server, err := in.Server.withPort(143, 993)
	if err != nil {
		return nil, err
	}
	in.Server = server
	in.Idle = cmp.Or(in.Idle, 4*time.Minute)
	return &Receiver{
		in:    in,
		now:   now,
		read:  readLetter,
		retry: func(n int, err error) time.Duration { return reconnectAfter(n, err, rand.Float64()) },
	}, nil
}

func (r *Receiver) Name() string { return "email" }

// Check opens the mailbox and closes it again.
func (r *Receiver) Check(ctx context.Context) error {
	m, err := openMailbox(ctx, r.in.Server, r.in.Folder, min(r.in.Patience, 30*time.Second))
	if err != nil {
		return fmt.Errorf("mail in: %w", err)
	}
	m.close()
	return nil
}

// Receive listens until ctx ends, and returns its error then.
func (r *Receiver) Receive(ctx context.Context, stored string, accept notify.Accept, report func(error)) error {
	s := &session{Receiver: r, at: parseCursor(stored), accept: accept, well: func() { report(nil) }}
	for ctx.Err() == nil {
		err := s.run(ctx)
		if ctx.Err() != nil {
			break
		}
		s.failures++
		report(fmt.Errorf("mail in: %w", faultOf(r.in.Server, err)))
		_ = notify.Wait(ctx, r.retry(s.failures, err))
	}
	return ctx.Err()
}

// reconnectAfter is how long to wait after the n-th failure in a row. A refused
// login waits longer: a mailbox may be locked by too many tries.
func reconnectAfter(n int, err error, jitter float64) time.Duration {
	if errors.Is(err, errLogin) {
		return notify.ReconnectAfter(n, 5*time.Minute, time.Hour, jitter)
	}
	return notify.ReconnectAfter(n, 5*time.Second, 5*time.Minute, jitter)
}

// A session is what a receiver keeps from one conversation to the next.
type session struct {
	*Receiver
	at       cursor
	accept   notify.Accept
	well     func()
	failures int // conversations in a row that broke off
}

// run holds one conversation: it catches up, then listens and catches up again.
func (s *session) run(ctx context.Context) error {
	m, err := openMailbox(ctx, s.in.Server, s.in.Folder, s.in.Patience)
	if err != nil {
		return err
	}
	defer m.close()
	healthy := false
	for {
		if err := s.catchUp(ctx, m); err != nil {
			return err
		}
		if !healthy {
			healthy, s.failures = true, 0
			s.well()
		}
		every := s.in.Poll
		if m.idles {
			every = s.in.Idle
		}
		if err := m.wait(ctx, every); err != nil {
			return err
		}
	}
}

// batch is how many mails are accepted at once at most.
const batch = 20

// catchUp hears everything behind the cursor.
func (s *session) catchUp(ctx context.Context, m *mailbox) error {
	uids, err := s.unread(ctx, m)
	if err != nil {
		return err
	}
	if len(uids) == 0 && s.at.validity != m.validity {
		return s.keep(ctx, nil, cursor{validity: m.validity, at: s.now()})
	}
	for len(uids) > 0 {
		n := min(batch, len(uids))
		var got []notify.Received
		for _, uid := range uids[:n] {
			heard, err := s.hearOne(ctx, m, uid)
			if err != nil {
				return err
			}
			got = append(got, heard...)
		}
		if err := s.keep(ctx, got, cursor{m.validity, uint32(uids[n-1]), s.now()}); err != nil {
			return err
		}
		uids = uids[n:]
	}
	return nil
}

// unread lists what to look at. Where the server has numbered its mailbox
// anew, that is all of the last days: IDs tell what was heard before.
func (s *session) unread(ctx context.Context, m *mailbox) ([]imap.UID, error) {
	if s.at.validity == m.validity && s.at.validity != 0 {
		return m.after(ctx, s.at.uid)
	}
	if s.at.validity != 0 {
		s.in.Log.Info("mailbox numbered anew; looking back")
	}
	return m.search(ctx, &imap.SearchCriteria{Since: s.at.since(s.now())})
}

// keep stores what was heard together with the place behind it.
func (s *session) keep(ctx context.Context, got []notify.Received, to cursor) error {
	if err := s.accept(ctx, got, to.String()); err != nil {
		return &fault{"what came in by mail cannot be stored", "see the store's own message", err}
	}
	s.at = to
	return nil
}

// hearOne looks at the head of a mail, and at the rest where that is
// promising. A mail that cannot be read is passed over: it must not stand in
// the way of the next.
func (s *session) hearOne(ctx context.Context, m *mailbox, uid imap.UID) ([]notify.Received, error) {
	raw, err := m.fetch(ctx, uid, imap.PartSpecifierHeader, maxHeader)
	if err != nil {
		return nil, err
	}
	l, err := safely(raw, readHead)
	if err != nil || !s.in.curious(l) {
		return nil, nil
	}
	if raw, err = m.fetch(ctx, uid, imap.PartSpecifierNone, maxMail); err != nil {
		return nil, err
	}
	if l, err = safely(raw, s.read); err != nil {
		s.in.Log.Warn("mail passed over: it cannot be read", "uid", uint32(uid))
		return nil, nil
	}
	got, why := s.in.hear(l)
	if why != "" {
		s.in.Log.Info("mail not heard", "from", Short(l.from), "why", why)
		return nil, nil
	}
	s.in.Log.Info("mail heard", "from", Short(got.From), "stop_only", got.StopOnly, "report", got.Report != nil)
	return []notify.Received{got}, nil
}

// safely reads a mail; a reader that panics over it has not read it. Without
// this one mail could end the daemon each time it starts.
func safely(raw []byte, read func([]byte) (*letter, error)) (l *letter, err error) {
	defer func() {
		if v := recover(); v != nil {
			l, err = nil, fmt.Errorf("the reader broke off: %v", v)
		}
	}()
	return read(raw)
}
