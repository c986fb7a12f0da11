package store

import (
	"time"

	"stubbled/scheduler/ladder"
)

// Retry is what a carrier does with an envelope that it may have had already.
type Retry string

// The kinds of retry.
const (
	Unsafe Retry = "unsafe" // it may be said twice: SMTP after the last byte, plain HTTP
	Safe   Retry = "safe"   // the same ID is handed over once: a spool by file name, an idempotency key
	Never  Retry = "never"  // at most once: the console
)

// ClaimFor says who claims, and the farm's rules that a claim keeps to.
type ClaimFor struct {
	Medium  ladder.Medium
	Carrier string
	Retry   Retry
	// Address gives a contact's address by this medium now; empty where there
	// is none.
	Address func(contact string) string
	// Quiet reports whether a contact is not to be disturbed at a moment.
	// Answers and what is urgent go all the same. nil: never.
	Quiet func(contact string, at time.Time) bool
	// Cap is how many messages outside the reserve a contact gets from
	// DayStart on; 0 is no cap.
	Cap      int
	DayStart time.Time
	// AnswersOnly holds everything else back while the clock is not sure.
	AnswersOnly bool
	// Most is how many messages are claimed together; 0 is one.
	Most int
	// Ended are settled first, in the same transaction.
	Ended []Ended
}

// Ended is an attempt that is over, and what became of it.
type Ended struct {
	Attempt int64
	Outcome
}

// An Envelope is one message. Once it is worded it never changes: a retry is
// identical to the byte.
type Envelope struct {
	ID        string // our own, unique for ever, safe in a file name and a header
	MessageID string // RFC 5322, without brackets; mail only
	Address   string
	ToName    string // the contact
	Kind      ladder.Kind
	Subject   string // mail only
	Text      string
	HTML      string    // mail only
	Files     []File    // mail only
	Date      time.Time // when it was worded
	Answer    bool      // it answers what they just sent
	InReplyTo string    // Message-ID of the mail that it answers; mail only
	Urgent    bool
	// MayRepeat says that an earlier message with the same may have arrived;
	// the words say so.
	MayRepeat bool
	// Notices is what the words are made of, the longest due first: of one kind, or a
	// day's work of several.
	Notices []ladder.Notice
	// Going is called by an unsafe carrier just before it lets go of what its peer
	// may act on: from then on nobody knows whether it arrived. Where it fails
	// nothing may go. nil: it need not be called.
	Going func() error `json:"-"`
}

// Goes calls Going where there is one.
func (e *Envelope) Goes() error {
	if e.Going == nil {
		return nil
	}
	return e.Going()
}

// A File goes with a mail.
type File struct {
	Name string `json:"name"`
	Type string `json:"type"`          // MIME type
	CID  string `json:"cid,omitempty"` // set: shown inside the HTML
	Data []byte `json:"data"`
}

// Result is what became of an attempt.
type Result int

// The results. NotKnown is neither sent nor failed: the carrier's own answer
// was lost.
const (
	WasSent    Result = iota
	TryAgain          // certain not to have arrived
	WasRefused        // certain never to arrive
	NotKnown
)

// String is the result in a word, for logs.
func (r Result) String() string {
	return [...]string{"sent", "temporary", "permanent", "unknown"}[min(uint(r), 3)]
}

// An Outcome is what a carrier says of one attempt.
type Outcome struct {
	State  Result
	Ref    string        // the carrier's own id, where it gives one
	Code   string        // the protocol's code: 550 5.1.1, 429
	Detail string        // plain words with the mend; no address, no secret
	After  time.Duration // TryAgain and NotKnown: not before
	// Down says that the carrier itself is in trouble (no signal, wrong
	// password), not this message.
	Down bool
	// OptedOut says that the network has blocked the address by its owner's wish.
	OptedOut bool
}

// In is one text that came in, or news of a message that went out.
type In struct {
	ID      string    // the carrier's own, unique for the carrier; required of a text
	From    string    // E.164 or mail address
	Contact string    // whose address that is; empty for a stranger
	Text    string    // as typed, the quote and signature of a mail already cut; kept up to maxText
	Sent    time.Time // the sender's stamp; zero where none
	// InReplyTo is the ID of the envelope it answers, where that is proved by
	// an authenticated token.
	InReplyTo string
	MailID    string // Message-ID of a mail, to answer in its thread
	// StopOnly says that it may not be trusted for anything but an opt-out, and for
	// that only as far as a mail goes.
	StopOnly bool
	// Report is set where this is no text but news of one that we sent.
	Report *Report
}

// A Report is what became of an envelope after it was sent.
type Report struct {
	EnvelopeID string // ours, or
	Ref        string // the carrier's
	Delivered  bool
	Permanent  bool // not delivered, and never will be
	Detail     string
}
