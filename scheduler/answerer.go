package scheduler

import (
	"fmt"
	"time"

	"stubbled/scheduler/ladder"
)

// How much a contact is answered. Beyond that a machine writes, which would go on
// for ever: an automatic answer on a phone, another daemon, a mailbox's responder.
// What it writes is heard all the same.
const (
	mostAlike  = 2 // of one question, in an hour
	mostAnHour = 20
	mostADay   = 60
	quietAfter = time.Hour // from the last answer left out, until that is over
)

// tooMuch reports whether an answer is one too many; then the manager is told,
// once.
func (h *hearing) tooMuch(n ladder.Notice) (bool, error) {
	if h.in.Carrier == Keyboard || h.earlier() { // who types it there reads it there
		return false, nil
	}
	now := h.tx.Now() // by which answers are kept, right or wrong
	hour, alike, err := h.tx.AnswersTo(n, now.Add(-time.Hour))
	if err != nil {
		return false, fmt.Errorf("count the answers: %w", err)
	}
	day, _, err := h.tx.AnswersTo(n, now.Add(-24*time.Hour))
	if err != nil {
		return false, fmt.Errorf("count the answers: %w", err)
	}
	if n.Kind != ladder.AnswerAsk && n.Kind != ladder.AnswerStop {
		alike = 0
	}
	if alike < mostAlike && hour < mostAnHour && day < mostADay {
		return false, nil
	}
	h.silenced = now
	h.Fails(ladder.AlarmAnswerer, "", n.To, now)
	h.log.Warn("no answer: a machine seems to write", "contact", n.To, "hour", hour, "day", day, "alike", alike)
	return true, nil
}

// answererGone ends the trouble an hour after the last answer left out.
func (s *Scheduler) answererGone(now time.Time) {
	if !s.silenced.IsZero() && now.Sub(s.silenced).Abs() > quietAfter {
		s.silenced = time.Time{}
		s.Fails(ladder.AlarmAnswerer, "", "", now)
	}
}
