package scheduler

import (
	"fmt"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

// undo takes back what the contact's latest text wrote down, or the newest
// frost, whoever or whatever reported it.
func (h *hearing) undo(f diary.Fact) ([]ladder.Also, error) {
	facts, err := h.toUndo(f)
	if err != nil {
		return nil, err
	}
	how := diary.Fact{At: h.sent, Day: h.day, By: h.from.Name, Inbox: h.in.Row, Source: source(h.in.Carrier), Words: clip(h.in.Text)}
	for _, back := range facts {
		if _, _, err := h.tx.TakeBack(back.ID, how); err != nil {
			return nil, fmt.Errorf("take back fact %d: %w", back.ID, err)
		}
	}
	if h.book, err = h.diary(h.tx); err != nil {
		return nil, err
	}
	return []ladder.Also{{Kind: ladder.AnswerUndo, Facts: ladder.Facts{Undone: facts, Names: h.names(), Day: h.day}}}, nil
}

func (h *hearing) toUndo(f diary.Fact) ([]diary.Fact, error) {
	since := h.tx.Now().Add(-undoWithin)
	if f.Words != string(diary.Frost) {
		_, facts, err := h.tx.LatestTextFacts(h.from.Name, since)
		return facts, err
	}
	frosts := h.book.Frosts()
	for i := len(frosts) - 1; i >= 0; i-- {
		said := f.Day.IsZero() || f.Day == frosts[i].Day
		if said && !frosts[i].At.Before(since) {
			return frosts[i : i+1], nil
		}
	}
	return nil, nil
}
