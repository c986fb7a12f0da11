package scheduler

import (
	"slices"
	"time"

	"stubbled/notify/reply"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// What a notice asks of the one who gets it.
var (
	asksHeight = []ladder.Kind{
		ladder.HeadsUp, ladder.LastLook, ladder.KeepShut, ladder.AskHeight, ladder.FrostFirst, ladder.RestOver,
		ladder.FallUseStarts, ladder.FallUseAsk, ladder.FallUseOut,
	}
	asksOff = []ladder.Kind{ladder.MovePlan, ladder.ShutToday, ladder.Overdue, ladder.FrostWarning}
	answers = []ladder.Kind{
		ladder.AnswerVerdict, ladder.AnswerRecorded, ladder.AnswerAsk, ladder.AnswerStatus,
		ladder.AnswerHelp, ladder.AnswerUndo,
	}
)

// asked is what the daemon has asked this contact lately.
func (h *hearing) asked() (reply.Asked, error) {
	a := reply.Asked{Stale: h.stale}
	rows, err := h.tx.AskedOf(h.from.Name, h.sent.Add(-openFor), append(slices.Clone(asksHeight), asksOff...)...)
	if err != nil {
		return a, err
	}
	a.Paddocks = h.openPaddocks(rows)
	if len(a.Paddocks) == 1 && len(rows) > 0 && h.sent.Sub(rows[0].Changed) <= confirmFor {
		a.OpenQuestion = a.Paddocks[0]
	}
	back, err := h.tx.AskedOf(h.from.Name, h.sent.Add(-confirmFor), answers...)
	if err != nil {
		return a, err
	}
	a.Choices = choices(back)
	var read time.Time
	if a.Recent, read = h.recent(); len(rows) > 0 && rows[0].Changed.After(read) {
		a.Recent = "" // a newer question went out: bare numbers answer that
	}
	return a, nil
}

// openPaddocks are those of the newest message that asked, less those that
// have been answered.
func (h *hearing) openPaddocks(rows []store.SaidRow) []string {
	var open []string
	for _, r := range rows {
		if r.Message != rows[0].Message {
			break
		}
		id := r.Notice.Facts.Paddock
		if id == "" || slices.Contains(open, id) || h.closed(id, r) {
			continue
		}
		open = append(open, id)
	}
	return open
}

// closed reports whether a question was answered: a height by a reading, a move
// by `off`.
func (h *hearing) closed(paddock string, r store.SaidRow) bool {
	want := diary.Reading
	if slices.Contains(asksOff, r.Notice.Kind) {
		want = diary.Off
	}
	for _, f := range h.book.Of(paddock) {
		if (f.Kind == want || f.Kind == diary.Off) && f.At.After(r.Changed) {
			return true
		}
	}
	return false
}

// choices are those of a question back that is the last thing they were told.
func choices(rows []store.SaidRow) []diary.Choice {
	if len(rows) == 0 {
		return nil
	}
	f := rows[0].Notice.Facts
	if f.Question != nil {
		return f.Question.Choices
	}
	for _, also := range f.And {
		if also.Facts.Question != nil {
			return also.Facts.Question.Choices
		}
	}
	return nil
}

// recent is the paddock that this contact read within the last two hours, and
// when; empty where there is none.
func (h *hearing) recent() (paddock string, at time.Time) {
	for i := range h.farm.Paddocks {
		id := h.farm.Paddocks[i].ID
		for _, f := range h.book.Of(id) {
			if f.Kind == diary.Reading && f.By == h.from.Name && h.sent.Sub(f.At) <= recentPlant && !f.At.After(h.sent) && !f.At.Before(at) {
				at, paddock = f.At, id
			}
		}
	}
	return paddock, at
}
