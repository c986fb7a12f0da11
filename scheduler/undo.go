package scheduler

import (
	"fmt"
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

// undo takes back what the contact's latest text wrote down, or their newest of
// the kind that the text names.
func (h *hearing) undo(f diary.Fact) ([]ladder.Part, error) {
	facts := h.toUndo(f)
	for _, back := range slices.Concat(facts, h.askedBeside(facts)) {
		if err := h.takeBack(back); err != nil {
			return nil, err
		}
	}
	if err := h.reread(); err != nil {
		return nil, err
	}
	parts := []ladder.Part{{Kind: ladder.AnswerUndo, Facts: &ladder.UndoFacts{
		Head: ladder.Head{Day: h.day}, Undone: facts, Answered: ladder.Answered{Names: namesIn(h.farm, facts)},
	}}}
	return append(parts, h.stillShut(facts)...), nil
}

// askedBeside are the questions that the texts of some facts raised: they go with them.
func (h *hearing) askedBeside(facts []diary.Fact) (all []diary.Fact) {
	for _, q := range h.book.Asked() {
		if slices.ContainsFunc(facts, func(f diary.Fact) bool { return f.Inbox == q.Inbox }) {
			all = append(all, *q)
		}
	}
	return all
}

func (h *hearing) takeBack(f diary.Fact) error {
	how := diary.Fact{At: h.sent, Day: h.day, By: h.from.Name, Inbox: h.in.Row, Source: source(h.in.Carrier), Words: clip(h.in.Text)}
	if _, _, err := h.tx.TakeBack(f.ID, how); err != nil {
		return fmt.Errorf("take back fact %d: %w", f.ID, err)
	}
	return nil
}

// stillShut says which paddocks stay shut all the same, where what was taken back shuts
// ground: a hold is not argued away, nor is another cause.
func (h *hearing) stillShut(undone []diary.Fact) []ladder.Part {
	var f ladder.StatusFacts
	views := h.views()
	for i := range views {
		v := &views[i]
		if len(v.Shut) > 0 && slices.ContainsFunc(undone, func(f diary.Fact) bool {
			return f.Kind == diary.Frost || f.Kind.Row().Shuts && f.Concerns(v.Paddock.ID)
		}) {
			f.Shuts = append(f.Shuts, ladder.Line(v, v.Today))
		}
	}
	if len(f.Shuts) == 0 {
		return nil
	}
	return []ladder.Part{{Kind: ladder.AnswerStatus, Facts: &f}}
}

func (h *hearing) toUndo(f diary.Fact) []diary.Fact {
	since := h.now.Add(-undoWithin)
	switch kind := diary.Kind(f.Words); kind {
	case "":
		var until time.Time
		if h.earlier() {
			until = h.in.Received // what they have texted since is not known yet
		}
		return h.latest(since, until)
	case diary.Frost:
		return nightOf(h.book.Every(diary.Frost), f.Day, since)
	default:
		return h.newestOf(kind, f, since)
	}
}

// newestOf are the facts of a kind that the contact's newest text about it wrote
// down, of one paddock, one plant or one day where what is asked for names it.
func (h *hearing) newestOf(kind diary.Kind, of diary.Fact, since time.Time) (facts []diary.Fact) {
	for f := range h.texted(since, time.Time{}) {
		if f.Kind != kind || of.Paddock != "" && f.Paddock != of.Paddock || of.Plant != "" && f.Plant != of.Plant || !of.Day.IsZero() && f.Day != of.Day {
			continue
		}
		if len(facts) > 0 && facts[0].Inbox != f.Inbox {
			break
		}
		facts = append(facts, *f)
	}
	slices.Reverse(facts)
	return facts
}

// nightOf are all reports of the frost of a day, or where none is named of the
// newest, whoever or whatever made them, so that one undo is enough.
func nightOf(frosts []*diary.Fact, day civil.Date, since time.Time) []diary.Fact {
	var night []diary.Fact
	for _, f := range slices.Backward(frosts) {
		switch {
		case f.At.Before(since) || !day.IsZero() && f.Day != day:
		case len(night) == 0, f.Day == night[0].Day && f.Paddock == night[0].Paddock:
			night = append(night, *f)
		}
	}
	return night
}
