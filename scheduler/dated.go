package scheduler

import (
	"time"

	"github.com/golang-sql/civil"

	"stubbled/notify/reply"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

// date finds out when the text was sent, and what time it is now. Where the clock
// is doubted both are the sender's stamp; one that has none that can be right
// waits unheard, and its sender is told so once. An opt-out waits for no clock.
func (h *hearing) date() (known bool, err error) {
	h.now = h.tx.Now()
	if h.in.Carrier == Earlier || h.clock.sure() {
		h.sent, err = h.stamp()
		return true, err
	}
	seen, err := h.tx.LastSeen()
	if err != nil {
		return false, err
	}
	if since := h.in.Sent.Sub(seen); !seen.IsZero() && -stampPast < since && since <= stampPast {
		h.now, h.sent = h.in.Sent, h.in.Sent
		return true, nil
	}
	if h.sent = h.now; h.optsOut() {
		return true, nil
	}
	return false, h.waits()
}

// stamp is when a text was sent: the sender's own stamp where it can be, else
// when it came in, as far as the clock was right then.
func (h *hearing) stamp() (time.Time, error) {
	in := h.in
	waits := ladder.WaitsKey(in.Row)
	waited, err := h.tx.Planned(waits)
	if waited && err == nil {
		err = h.tx.Withdraw(waits) // its answer says more
	}
	if !in.Sent.IsZero() && !in.Sent.Before(h.now.Add(-stampPast)) && !in.Sent.After(h.now.Add(stampAhead)) {
		return in.Sent, err
	}
	if waited || in.Received.After(h.now.Add(stampAhead)) || in.Received.Before(written) {
		return h.now, err
	}
	return in.Received, err
}

// optsOut reports whether a text is an opt-out and nothing else.
func (h *hearing) optsOut() bool {
	facts := h.reader.Read(h.in.Text, h.who(), reply.Asked{}, civil.DateOf(h.now)).Facts
	return len(facts) == 1 && facts[0].Kind == diary.Stop
}

// waits tells the sender that the text waits for the right time.
func (h *hearing) waits() error {
	n := h.notice([]ladder.Part{{Kind: ladder.AnswerWaits, Facts: &ladder.AnswerFacts{}}})
	n.Key, n.Inbox = ladder.WaitsKey(h.in.Row), 0
	if told, err := h.tx.Planned(n.Key); told || err != nil {
		return err
	}
	_, err := h.tx.Answer(n)
	return err
}
