package scheduler

import (
	"fmt"
	"time"

	"stubbled/scheduler/diary"
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
	if h.in.Carrier == Keyboard || h.in.Carrier == Board || h.earlier() { // who types it there reads it there
		return false, nil
	}
	now := h.tx.Now()
	hour, day, alike, err := h.answered(n, now)
	if err != nil {
		return false, fmt.Errorf("count the answers: %w", err)
	}
	if alike < mostAlike && hour < mostAnHour && day < mostADay {
		return false, nil
	}
	h.silenced = now
	h.Fails(ladder.AlarmAnswerer, "", n.To, now)
	h.log.Warn("no answer: a machine seems to write", "contact", n.To, "hour", hour, "day", day, "alike", alike)
	return true, nil
}

// answered counts the answers of the last hour and day, and the same questions of
// that hour. While the clock is doubted, when answers were made is told by no
// clock but the steady one of this run.
func (h *hearing) answered(n ladder.Notice, now time.Time) (hour, day, alike int, err error) {
	if !h.clock.sure() {
		boot := h.clock.source.SinceBoot()
		for _, at := range h.unsure[n.To] {
			if boot-at < time.Hour {
				hour++
			}
			if boot-at < 24*time.Hour {
				day++
			}
		}
		h.unsure[n.To] = append(h.unsure[n.To], boot)
		return hour, day, 0, nil
	}
	clear(h.unsure)
	hour, day, err = h.tx.AnswersTo(n.To, now.Add(-time.Hour), now.Add(-24*time.Hour), false)
	if err == nil && (hour >= mostAnHour || day >= mostADay) { // what others had passed on is no answer to them
		hour, day, err = h.tx.AnswersTo(n.To, now.Add(-time.Hour), now.Add(-24*time.Hour), true)
	}
	lift := n.Asked() != nil && n.Asked().Why == diary.Lift // whoever stands at the gate asks until it is lifted
	if err != nil || n.Kind != ladder.AnswerAsk && n.Kind != ladder.AnswerStop || lift {
		return hour, day, 0, err
	}
	alike, err = h.tx.AnswersLike(n, now.Add(-time.Hour))
	return hour, day, alike, err
}

// answererGone ends the trouble an hour after the last answer left out.
func (s *Scheduler) answererGone(now time.Time) {
	if !s.silenced.IsZero() && now.Sub(s.silenced).Abs() > quietAfter {
		s.silenced = time.Time{}
		s.Fails(ladder.AlarmAnswerer, "", "", now)
	}
}
