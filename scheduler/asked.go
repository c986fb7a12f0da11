package scheduler

import (
	"iter"
	"slices"
	"time"

	"stubbled/notify/reply"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
	"stubbled/store"
)

// answers are the kinds of answers that a question back may have been among.
var answers = []ladder.Kind{
	ladder.AnswerVerdict, ladder.AnswerRecorded, ladder.AnswerAsk, ladder.AnswerStatus,
	ladder.AnswerHelp, ladder.AnswerUndo,
}

// asked is what the daemon had asked this contact by the time they wrote.
func (h *hearing) asked() (reply.Asked, error) {
	a := reply.Asked{Stale: h.stale}
	rows, frosts, droughts, err := h.rungs()
	if err != nil {
		return a, err
	}
	a.Paddocks = h.openOf(rows)
	a.Moves = h.openOf(slices.DeleteFunc(slices.Clone(rows), func(r rung) bool { return r.asks != diary.Off }))
	a.Last = h.latest(h.sent.Add(-recentPlant), h.sent)
	a.Emergency, a.Frost = h.somewhere(), len(frosts) > 0 && !h.toldOfFrost(frosts[0].Changed)
	h.newest = h.openOf(newestMessage(rows, h.sent.Add(-confirmFor)))
	if len(h.newest) == 1 {
		a.OpenQuestion = h.newest[0]
	}
	if h.choices, err = h.stillChoosing(droughts); err != nil {
		return a, err
	}
	a.Choices = h.choices
	h.newer = len(rows) > 0 && rows[0].Changed.After(h.askedAt)
	var read time.Time
	if a.Recent, read = h.recent(); len(rows) > 0 && rows[0].Changed.After(read) {
		a.Recent = "" // a newer question went out: bare numbers answer that
	}
	return a, nil
}

// toldOfFrost reports whether anybody has said since a moment if it has frozen.
func (h *hearing) toldOfFrost(since time.Time) bool {
	for f := range h.book.Since("", since) {
		if (f.Kind == diary.Frost || f.Kind == diary.NoFrost) && !f.Measured() && f.At.After(since) && f.At.Before(h.sent) {
			return true
		}
	}
	return false
}

// somewhere reports whether they told of an emergency and nobody has said since where
// it is.
func (h *hearing) somewhere() bool {
	told := false
	for _, f := range h.book.Every(diary.Emergency) {
		young := !f.At.After(h.sent) && h.sent.Sub(f.At) <= confirmFor
		told = young && f.Paddock == "" && (told || f.By == h.from.Name)
	}
	return told
}

// A rung is what was told and asks for a fact of a kind.
type rung struct {
	store.ToldRow
	asks diary.Kind
}

// rungs are what asked them for a height or a move within a while before they wrote,
// newest first, what asked them if it has frozen, and what told them of a drought.
func (h *hearing) rungs() (rungs []rung, frosts, droughts []store.ToldRow, err error) {
	err = h.tx.AskedOf(h.from.Name, false, h.sent.Add(-openFor), h.sent, func(r store.ToldRow) (bool, error) {
		switch r.Kind {
		case ladder.FrostAsk:
			frosts = append(frosts, r)
			return true, nil
		case ladder.Drought:
			droughts = append(droughts, r)
			return true, nil
		}
		asks, err := r.Asks()
		if asks == diary.Reading || asks == diary.Off {
			rungs = append(rungs, rung{r, asks})
		}
		return true, err
	})
	return rungs, frosts, droughts, err
}

// newestMessage are the rows of the newest message, where it is young enough.
func newestMessage(rows []rung, since time.Time) []rung {
	n := 0
	for n < len(rows) && rows[n].Message == rows[0].Message && !rows[n].Changed.Before(since) {
		n++
	}
	return rows[:n]
}

// openOf are the paddocks that were asked about, in file order, less those that
// have been answered.
func (h *hearing) openOf(rows []rung) []string {
	var open []string
	for _, r := range rows {
		if r.Paddock != "" && !slices.Contains(open, r.Paddock) && !h.closed(r) {
			open = append(open, r.Paddock)
		}
	}
	place := func(id string) int {
		return slices.IndexFunc(h.farm.Paddocks, func(p season.Paddock) bool { return p.ID == id })
	}
	slices.SortFunc(open, func(a, b string) int { return place(a) - place(b) })
	return open
}

// closed reports whether a question was answered: a height by a reading, a move
// by `off`.
func (h *hearing) closed(r rung) bool {
	for f := range h.book.Since(r.Paddock, r.Changed) {
		if (f.Kind == r.asks || f.Kind == diary.Off) && f.Paddock == r.Paddock && f.At.After(r.Changed) {
			return true
		}
	}
	return false
}

// stillChoosing are the choices of the question back that still waits, an answer's or
// a drought's: the newest, unless something was written down or taken back since. That
// they asked for the status or for help meanwhile does not matter, and one about a
// danger waits for its answer.
func (h *hearing) stillChoosing(droughts []store.ToldRow) (choices []diary.Choice, err error) {
	waiting := h.waiting()
	look := func(r store.ToldRow) (more bool, err error) {
		q, err := r.Question()
		if q != nil && !(len(q.Choices) == 0 && waiting) {
			choices, h.waitsFor, h.askedAt = q.Choices, q.Why, r.Changed
			return false, err
		}
		return r.Kind == ladder.AnswerStatus || r.Kind == ladder.AnswerHelp || waiting, err
	}
	since, more := h.sent.Add(-confirmFor), true
	after := func(second, id int64) { // the droughts told since
		for ; more && err == nil && len(droughts) > 0; droughts = droughts[1:] {
			if d := &droughts[0]; d.Changed.Unix() < second || d.Changed.Unix() == second && d.ID < id {
				return
			}
			more, err = look(droughts[0])
		}
	}
	told := h.tx.AskedOf(h.from.Name, true, since, h.sent, func(r store.ToldRow) (bool, error) {
		after(r.Changed.Unix(), r.ID)
		if more && err == nil && slices.Contains(answers, r.Kind) {
			more, err = look(r)
		}
		return more, err
	})
	if told != nil {
		return nil, told
	}
	after(since.Unix(), 0)
	return choices, err
}

// texted yields what stands of what they texted from an instant to another, where one is
// given, the last said first; what was only asked about is none of it.
func (h *hearing) texted(since, until time.Time) iter.Seq[*diary.Fact] {
	return func(yield func(*diary.Fact) bool) {
		for f := range h.book.Texted(h.from.Name, since) {
			_, asked := f.Kind.About()
			if !asked && (until.IsZero() || !f.At.After(until)) && !yield(f) {
				return
			}
		}
	}
}

// latest are the facts of their latest text that told any, in the order written. Asked
// again after they were taken back it gives those of the text before.
func (h *hearing) latest(since, until time.Time) (facts []diary.Fact) {
	for f := range h.texted(since, until) {
		if len(facts) > 0 && facts[0].Inbox != f.Inbox {
			break
		}
		facts = append(facts, *f)
	}
	slices.Reverse(facts)
	return facts
}

// recent is the paddock that this contact read within the last two hours, and
// when; none where their latest text read several.
func (h *hearing) recent() (paddock string, at time.Time) {
	for f := range h.texted(h.sent.Add(-recentPlant), h.sent) {
		if _, ours := h.farm.Farm.Paddock(f.Paddock); !ours || f.Kind != diary.Reading || f.At.Before(at) {
			continue
		}
		if f.At.Equal(at) && f.Paddock != paddock {
			paddock = ""
		} else {
			paddock = f.Paddock
		}
		at = f.At
	}
	return paddock, at
}

// meant gives an ok and a later that name no paddock the ones that they are
// about: those of the newest open question. An ok with none is a nod that
// nobody writes down.
func (h *hearing) meant(facts []diary.Fact) []diary.Fact {
	var out []diary.Fact
	for _, f := range facts {
		ack, later := f.Kind == diary.Ack, f.Kind == diary.Later
		switch {
		case !ack && !later, later && (f.Paddock != "" || len(h.newest) == 0):
			out = append(out, f)
		case f.Paddock != "":
			if slices.Contains(h.newest, f.Paddock) || h.offered(f.Paddock) {
				out = append(out, f)
			}
		case later || !h.stale:
			for _, id := range h.newest {
				f.Paddock = id
				out = append(out, f)
			}
		}
	}
	return out
}

// offered reports whether an ok was one of the answers that they could choose.
func (h *hearing) offered(paddock string) bool {
	return slices.ContainsFunc(h.choices, func(c diary.Choice) bool {
		return slices.ContainsFunc(c.Facts, func(f diary.Fact) bool { return f.Kind == diary.Ack && f.Paddock == paddock })
	})
}

// lateNod asks back an ok that came too late for the several paddocks that it
// was about.
func (h *hearing) lateNod(heard reply.Heard) *diary.Question {
	nod := slices.ContainsFunc(heard.Facts, func(f diary.Fact) bool { return f.Kind == diary.Ack && f.Paddock == "" })
	if !nod || !h.stale || len(h.newest) == 0 || heard.Ask != nil {
		return heard.Ask
	}
	return &diary.Question{Why: diary.StaleText}
}
