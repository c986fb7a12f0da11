// Package signature is in charge of one question: did the one who knows the
// secret send this request, just now? It knows the published ways of signing
// webhooks.
//
// It is pure: the request's bytes and the time are passed in. It compares in
// constant time, and no error of it holds a signature, a body or a secret.
package signature

import (
	"crypto/hmac"
	"errors"
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"time"
)

// A Request is what was received, before anything in it is believed.
type Request struct {
	Method string
	URL    string // as the sender calls it: configured, never from the Host header
	Query  string // raw, as received
	Header http.Header
	Body   []byte // as received
}

// A Scheme checks requests.
type Scheme interface {
	// Verify returns what tells this request from any other of the same
	// sender, so that a repetition can be known; it may be empty.
	Verify(r Request, now time.Time) (nonce string, err error)
}

// What is wrong with a request.
var (
	ErrMissing = errors.New("the request is not signed")
	ErrStale   = errors.New("the request is too old, or this machine's clock is wrong")
	ErrWrong   = errors.New("the signature does not fit: it is forged, or the secret is wrong")
	ErrUnclear = errors.New("the request can be read in two ways")
)

// Tolerance is how far a sender's clock may be from ours.
const Tolerance = 5 * time.Minute

// fresh reads a stamp in unix seconds.
func fresh(stamp string, tolerance time.Duration, now time.Time) error {
	seconds, err := strconv.ParseInt(stamp, 10, 64)
	if err != nil || seconds < 0 || seconds > 1<<40 {
		return fmt.Errorf("%w: its time stamp is no number of seconds", ErrMissing)
	}
	if now.Sub(time.Unix(seconds, 0)).Abs() > tolerance {
		return ErrStale
	}
	return nil
}

// one gives the only value of a header.
func one(h http.Header, name string) (string, error) {
	values := h.Values(name)
	switch {
	case len(values) == 0 || values[0] == "":
		return "", fmt.Errorf("%w: the header %s is missing", ErrMissing, name)
	case len(values) > 1:
		return "", fmt.Errorf("%w: the header %s comes %d times", ErrUnclear, name, len(values))
	}
	return values[0], nil
}

// anyEqual compares in constant time with each of several.
func anyEqual(want []byte, got [][]byte) bool {
	found := false
	for _, g := range got {
		if hmac.Equal(want, g) {
			found = true
		}
	}
	return found
}

// maxListed bounds the signatures that one request may list.
const maxListed = 16

func listed(s, separator string) ([]string, error) {
	parts := strings.Split(s, separator)
	if len(parts) > maxListed {
		return nil, fmt.Errorf("%w: it lists more than %d signatures", ErrUnclear, maxListed)
	}
	return parts, nil
}
