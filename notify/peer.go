package notify

import (
	"context"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"time"
	"unicode"
	"unicode/utf8"

	"stubbled/scheduler/spell"
)

// OneLine makes text fit for one line of a header or a log: every control
// character, whatever it was meant to smuggle in, is a space.
func OneLine(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == '\u2028' || r == '\u2029' || r == utf8.RuneError {
			return ' '
		}
		return r
	}, s)
	return strings.Join(strings.Fields(s), " ")
}

// Brief is the one line that we repeat of a peer's words.
func Brief(words string) string { return spell.Clip(OneLine(words), 200) }

// RetryAfter is how long a peer wants to be left alone: seconds or an HTTP date
// (RFC 9110 section 10.2.3), up to most. A number that no peer can mean is none.
func RetryAfter(text string, now time.Time, most time.Duration) (wait time.Duration) {
	text = strings.TrimSpace(text)
	if n, err := strconv.ParseUint(text, 10, 31); err == nil {
		wait = time.Duration(n) * time.Second
	} else if t, err := http.ParseTime(text); err == nil {
		wait = t.Sub(now)
	}
	return min(max(wait, 0), most)
}

// Backoff is how long a message waits after its n-th failed attempt, from 1: a
// minute, doubled each time up to an hour, a fifth more or less by jitter (0 to
// 1) so that not everybody comes back at once.
func Backoff(n int, jitter float64) time.Duration {
	return time.Duration(float64(doubled(n, time.Minute, time.Hour)) * (0.8 + 0.4*jitter))
}

// ReconnectAfter is how long a carrier or source waits after the n-th failure of
// its peer in a row, from 1: first, doubled each time up to most, and spread by
// jitter (0 to 1) between a half and the whole.
func ReconnectAfter(n int, first, most time.Duration, jitter float64) time.Duration {
	half := doubled(n, first, most) / 2
	return half + time.Duration(jitter*float64(half))
}

// doubled takes a count below 1 as 1.
func doubled(n int, first, most time.Duration) time.Duration {
	return min(first<<min(max(n-1, 0), 10), most)
}

// Wait waits, and returns the error of ctx where that has ended by then.
func Wait(ctx context.Context, d time.Duration) error {
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-t.C:
	case <-ctx.Done():
	}
	return ctx.Err()
}

// A Blame finds out whether a peer refuses one message for its own sake, or would
// refuse every other too, which must fail none of them: a message is to blame only
// where the peer took another one since it first refused this. It outlives no
// restart: a message refused before is tried once more.
type Blame struct {
	mu      sync.Mutex
	taken   int // messages that the peer has
	waiting map[string]refusals
}

// refusals of one message: how often, and how many the peer had taken before.
type refusals struct{ tries, taken int }

// mostRefused bounds what is kept of messages that were refused and never taken;
// one that is forgotten is tried once more.
const mostRefused = 1000

// triesAlone is after how many refusals of a single message, with no other to
// compare it with, the peer itself is suspected.
const triesAlone = 3

// Refused notes a refusal. own says that the message is to blame, everything that
// the peer seems to refuse all of them.
func (b *Blame) Refused(id string) (own, everything bool) {
	b.mu.Lock()
	defer b.mu.Unlock()
	was, again := b.waiting[id]
	switch {
	case again && b.taken > was.taken:
		delete(b.waiting, id)
		return true, false
	case b.waiting == nil || len(b.waiting) >= mostRefused:
		b.waiting = map[string]refusals{}
	}
	b.waiting[id] = refusals{was.tries + 1, b.taken}
	alike := 0
	for _, w := range b.waiting {
		if w.taken == b.taken {
			alike++
		}
	}
	return false, alike > 1 || was.tries+1 >= triesAlone
}

// Took notes a message that the peer has.
func (b *Blame) Took(id string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.taken++
	delete(b.waiting, id)
}
