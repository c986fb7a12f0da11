// Package notify is in charge of carrying words out and in. Drain claims what
// is due from the store, has it worded, hands it to a carrier and settles the
// outcome; what carriers hear is in the store before their peers are told so.
//
// It never decides what is due, to whom, or what a text means.
package notify

import (
	"context"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/store"
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

// What carriers are given and give back is what the store keeps of it.
type (
	Retry    = store.Retry
	Envelope = store.Envelope
	File     = store.File
	Outcome  = store.Outcome
	State    = store.Result
	Received = store.In
	Report   = store.Report
)

// The kinds of retry.
const (
	Unsafe = store.Unsafe
	Safe   = store.Safe
	Never  = store.Never
)

// The states of an outcome.
const (
	Sent         = store.WasSent
	Temporary    = store.TryAgain
	Permanent    = store.WasRefused
	UnknownState = store.NotKnown
)

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
