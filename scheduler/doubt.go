package scheduler

import (
	"fmt"
	"slices"

	"stubbled/scheduler/diary"
)

// doubt writes down what a question asks about, where a fact of it would shut ground:
// until it is answered nothing says GO there.
func (h *hearing) doubt(q *diary.Question) error {
	if q == nil {
		return nil
	}
	may := q.Doubts
	for _, c := range q.Choices {
		may = append(slices.Clip(may), c.Facts...)
	}
	for _, f := range may {
		if !f.Kind.Row().Shuts {
			continue
		}
		if f.Kind == diary.Frost {
			f.Paddock = "" // wherever it was seen it counts for all ground
		}
		f.Kind, f.At, f.Words = f.Kind.Asked(), h.sent, clip(h.in.Text)
		f.By, f.Inbox, f.Source = h.from.Name, h.in.Row, source(h.in.Carrier)
		if h.asksAlready(f) {
			continue
		}
		if _, _, err := h.tx.Record(f); err != nil {
			return fmt.Errorf("write down %s: %w", f.Kind, err)
		}
	}
	return nil
}

// asksAlready reports whether they were asked the same and have not answered.
func (h *hearing) asksAlready(f diary.Fact) bool {
	return slices.ContainsFunc(h.book.Asked(), func(o *diary.Fact) bool {
		return o.Kind == f.Kind && o.By == f.By && o.Day == f.Day && o.Paddock == f.Paddock && o.Plant == f.Plant
	})
}

// without is what settles a question the other way.
var without = map[diary.Kind]diary.Kind{diary.Frost: diary.NoFrost, diary.Dry: diary.DryOver}

// answers reports whether a text settles a question that waits: it is its letter, tells
// of what was asked about, or that it is not so. That another saw nothing settles
// nothing, unless it is for them to decide.
func (h *hearing) answers(q *diary.Fact, chosen bool, written []diary.Fact) bool {
	kind, _ := q.Kind.About()
	mine := q.By == h.from.Name
	return mine && chosen && h.offeredKind(kind) || slices.ContainsFunc(written, func(f diary.Fact) bool {
		same := q.Paddock == "" || f.Concerns(q.Paddock)
		return same && (f.Kind == kind || f.Kind == without[kind] && (mine || h.decides))
	})
}

// settle takes back the questions that a text answers.
func (h *hearing) settle(chosen bool, written []diary.Fact) error {
	for _, q := range h.book.Asked() {
		if !h.answers(q, chosen, written) {
			continue
		}
		if err := h.takeBack(*q); err != nil {
			return err
		}
	}
	return nil
}

// offeredKind reports whether a letter of the question that waits tells of a kind.
func (h *hearing) offeredKind(kind diary.Kind) bool {
	return slices.ContainsFunc(h.choices, func(c diary.Choice) bool {
		return slices.ContainsFunc(c.Facts, func(f diary.Fact) bool { return f.Kind == kind })
	})
}

// waiting reports whether they were asked about a danger and have not answered.
func (h *hearing) waiting() bool {
	return slices.ContainsFunc(h.book.Asked(), func(q *diary.Fact) bool { return q.By == h.from.Name })
}
