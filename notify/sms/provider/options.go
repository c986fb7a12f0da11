package provider

import (
	"crypto/x509"
	"log/slog"

	"stubbled/notify/sms/signature"
	"stubbled/notify/terms"
	"stubbled/scheduler/ladder"
)

// Options describe a service. Whatever can be left out says so.
type Options struct {
	// Medium is what it carries: texts where empty, or calls, whose text a voice
	// reads out.
	Medium ladder.Medium
	terms.Request
	Auth Auth
	terms.Answer
	Poll    *terms.Poll // nil: none
	Webhook *Webhook    // nil: none

	// Language is the tag of the language of whoever has a number; nil: not known.
	Language func(number string) string

	Roots *x509.CertPool // nil: the system's
	Log   *slog.Logger   // nil: none
}

// Auth is how the service knows us. Secret is called for each request and its
// answer is not kept.
type Auth struct {
	terms.Auth
	Secret func() ([]byte, error)
}

// What a service's word may mean. optedOut is a network that blocks the number
// because its owner wished so; accepted and any other word say nothing yet.
const (
	delivered       = "delivered"
	failedTemporary = "failed-temporary"
	failedPermanent = "failed-permanent"
	optedOut        = "opted-out"
)

// Webhook hears from the service, where it can reach us. Nothing is taken
// without a valid signature.
type Webhook struct {
	terms.Webhook
	terms.Paths
	Scheme signature.Scheme
	// Sure reports whether this machine's clock may be believed: while it may not,
	// the age of a call cannot be judged. nil: always.
	Sure func() bool
}
