package notify

import "sync"

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
