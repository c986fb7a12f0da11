package notify

import (
	"context"
	"time"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

// A Carrier takes one message to one address. It never decides anything and
// may be called again with the same envelope only as its Retry says.
type Carrier interface {
	Name() string // as in the farm file and the logs: sms, email, console
	Medium() ladder.Medium
	// Retry says what handing over the same envelope twice does.
	Retry() Retry
	Deliver(ctx context.Context, e Envelope) Outcome
}

// Retry is what a carrier does with an envelope that it may have had already.
type Retry int

// The kinds of retry.
const (
	Unsafe Retry = iota // it may be said twice: SMTP after the last byte, plain HTTP
	Safe                // the same ID is handed over once: a spool by file name, an idempotency key
	Never               // at most once: the console
)

// An Envelope is one message, frozen: a retry is identical to the byte.
type Envelope struct {
	ID        string // our own, unique for ever, safe in a file name and a header
	MessageID string // RFC 5322, without brackets; mail only
	Address   string
	ToName    string
	Kind      ladder.Kind
	Subject   string // mail only
	Text      string
	HTML      string // mail only
	Files     []File // mail only
	Date      time.Time
	Answer    bool   // it answers what they just sent
	InReplyTo string // Message-ID of the mail that it answers
	Urgent    bool
	MayRepeat bool // an earlier one with the same may have arrived
	// Notices is what the words were made of, for carriers that keep a
	// protocol of them.
	Notices []ladder.Notice
}

// A File goes with a mail.
type File struct {
	Name string
	Type string // MIME type
	CID  string // set: shown inside the HTML
	Data []byte
}

// State is what became of an envelope.
type State int

// The outcomes. Unknown is neither sent nor failed: the carrier's own answer
// was lost.
const (
	Sent State = iota
	Temporary
	Permanent
	UnknownState
)

// An Outcome is what a carrier says of one attempt.
type Outcome struct {
	State  State
	Ref    string        // the carrier's own id, where it gives one
	Code   string        // the protocol's code: 550 5.1.1, 429
	Detail string        // plain words with the mend; no address, no secret
	After  time.Duration // Temporary: not before; 0 is up to the courier
	// Down says that the carrier itself is in trouble (no signal, wrong
	// password), not this message.
	Down bool
	// OptedOut says that the network has blocked the address by its owner's wish.
	OptedOut bool
}

// Received is one message that came in.
type Received struct {
	ID   string    // the carrier's own, unique for the carrier
	From string    // E.164 or mail address
	Text string    // as typed, the quote and signature of a mail already cut
	Sent time.Time // the sender's stamp; zero where none
	// InReplyTo is the ID of the envelope it answers, where that is proved by
	// an authenticated token.
	InReplyTo string
	MailID    string // Message-ID of a mail, to answer in its thread
	// StopOnly says that it may not be trusted for anything but an opt-out.
	StopOnly bool
	// Report is set where this is no text but news of one that we sent.
	Report *Report
}

// A Report is what became of an envelope after it was sent.
type Report struct {
	EnvelopeID string
	Ref        string
	Delivered  bool
	Permanent  bool
	Detail     string
}

// Accept stores what was received together with the cursor behind it; only
// after it returns nil may the carrier tell its peer that they are received.
type Accept func(ctx context.Context, got []Received, cursor string) error

// A Receiver hears. Receive runs until ctx ends, calls accept for what comes
// in, and comes back by itself after any failure of its peer; faults are told
// through report (nil: well again).
type Receiver interface {
	Name() string
	Receive(ctx context.Context, cursor string, accept Accept, report func(error)) error
}

// Observe stores what instruments and weather services said.
type Observe func(ctx context.Context, got []diary.Observation) error

// A Source observes. Run works like Receive.
type Source interface {
	Name() string
	Run(ctx context.Context, observe Observe, report func(error)) error
}

// A Checker proves a carrier or source without saying anything to anybody: the
// connection, the password, the signal. The error says what is wrong and the
// mend.
type Checker interface {
	Check(ctx context.Context) error
}
