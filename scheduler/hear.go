package scheduler

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/notify/reply"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// How far a sender's stamp is believed, and when a text is too old for a bare
// word to be sure of what it answers.
const (
	stampPast   = 7 * 24 * time.Hour
	stampAhead  = time.Hour
	staleAfter  = 12 * time.Hour
	undoWithin  = 7 * 24 * time.Hour
	openFor     = 72 * time.Hour // a rung's question
	confirmFor  = 12 * time.Hour // what an ok or an a/b may answer
	recentPlant = 2 * time.Hour
)

// hear makes facts and an answer of one text.
func (s *Scheduler) hear(tx *store.Tx, in store.InRow) error {
	if in.Carrier != Earlier {
		if err := s.clock.recover(tx); err != nil {
			return err
		}
	}
	c, ok := s.farm.Contact(in.Contact)
	if !ok || in.Contact == "" {
		return s.stranger(tx, in)
	}
	h := hearing{Scheduler: s, tx: tx, in: in, from: *c, by: medium(in.Carrier, *c, in.From)}
	if known, err := h.date(); err != nil || !known {
		return err
	}
	fresh, err := tx.Heard(in.Row)
	if err != nil || !fresh {
		return err
	}
	h.day = civil.DateOf(h.sent.In(s.farm.Zone))
	h.stale = h.now.Sub(h.sent) > staleAfter
	if err := h.reread(); err != nil {
		return err
	}
	return h.answer()
}

// A hearing is one text being heard.
type hearing struct {
	*Scheduler
	tx    *store.Tx
	in    store.InRow
	from  ladder.Contact
	now   time.Time     // by a clock that is believed
	by    ladder.Medium // how it is answered
	sent  time.Time
	day   civil.Date
	stale bool
	book  *diary.Book
	// What they had been asked: the paddocks of the newest open question, which
	// an ok confirms, and the choices of a question back.
	newest   []string
	choices  []diary.Choice
	waitsFor diary.Why // of that question
	askedAt  time.Time // when it was put
	newer    bool      // a rung has asked something since
	decides  bool      // they may say what is the manager's alone
}

// answer reads the text, writes its facts down and queues the answer.
func (h *hearing) answer() error {
	asked, err := h.asked()
	if err != nil {
		return err
	}
	who := h.who()
	if who.Manager, err = h.manages(); err != nil {
		return err
	}
	h.decides = who.Manager
	if who.Out, err = h.optedOut(); err != nil {
		return err
	}
	head := map[string]int{}
	for _, told := range h.farm.HerdsOn(h.book, h.day) {
		head[told.ID] = told.Head
	}
	heard := h.reader.Counting(head).Read(h.in.Text, who, asked, h.day)
	if h.in.StopOnly {
		heard = onlyStop(heard)
	}
	if h.in.Carrier == Board && slices.ContainsFunc(heard.Facts, NotOnBoard) {
		return nil
	}
	parts, err := h.act(heard)
	if err != nil {
		return err
	}
	return h.queue(parts)
}

func (h *hearing) who() reply.Who {
	return reply.Who{Name: h.from.Name, Language: h.from.Language, Manager: h.from.Manager()}
}

// onlyStop leaves of a text that may not be trusted nothing but an opt-out.
func onlyStop(heard reply.Heard) reply.Heard {
	for _, f := range heard.Facts {
		if f.Kind == diary.Stop {
			return reply.Heard{Facts: []diary.Fact{f}}
		}
	}
	return reply.Heard{Nod: true}
}

// act does what each fact asks for and gives the parts of the answer.
func (h *hearing) act(heard reply.Heard) ([]ladder.Part, error) {
	var parts []ladder.Part
	var written []diary.Fact
	ask := h.lateNod(heard)
	for _, f := range h.meant(heard.Facts) {
		part, done, err := h.request(f)
		if err != nil {
			return nil, err
		}
		if done {
			for i := range part {
				part[i].Facts.(ladder.Answer).Reply().Recorded = []diary.Fact{f}
			}
			parts = append(parts, part...)
			continue
		}
		if part, asks := h.lifting(f); asks {
			parts = append(parts, part)
			continue
		}
		f.At, f.By, f.Inbox, f.Source = h.sent, h.from.Name, h.in.Row, source(h.in.Carrier)
		if f.Words == "" {
			f.Words = clip(h.in.Text)
		}
		id, _, err := h.tx.Record(f)
		if err != nil {
			return nil, fmt.Errorf("write down %s: %w", f.Kind, err)
		}
		f.ID = id
		written = append(written, f)
		if err := h.passNote(f); err != nil {
			return nil, err
		}
	}
	if err := h.settle(heard.Answered && !(heard.Nod && h.newer), written); err != nil {
		return nil, err
	}
	if err := h.doubt(ask); err != nil {
		return nil, err
	}
	if err := h.reread(); err != nil {
		return nil, err
	}
	if len(written) > 0 {
		parts = append(parts, h.said(written)...)
	}
	if ask != nil {
		parts = append(parts, h.questionBack(ask))
	}
	return parts, nil
}

// request does what is asked for and not written in the diary; done is false
// for a fact.
func (h *hearing) request(f diary.Fact) (parts []ladder.Part, done bool, err error) {
	switch f.Kind {
	case diary.Stop:
		parts, err = h.stop()
	case diary.Start:
		parts, err = h.start()
	case diary.Undo:
		parts, err = h.undo(f)
	case diary.Help:
		parts = []ladder.Part{{Kind: ladder.AnswerHelp, Facts: &ladder.AnswerFacts{Head: ladder.Head{Place: h.example()}}}}
	case diary.WhatIf, diary.HowLow:
		parts, err = h.supposed(f)
	case diary.WhereNext, diary.FeedLasts:
		parts, err = h.askedOf(f)
	case diary.When, diary.HowTall, diary.DaysLeft:
		if f.Paddock == "" {
			parts, err = h.askedOf(f)
			break
		}
		parts = []ladder.Part{{Kind: ladder.AnswerStatus, Facts: h.status(f.Paddock)}}
	case diary.Status:
		parts = []ladder.Part{{Kind: ladder.AnswerStatus, Facts: h.status(f.Paddock)}}
	default:
		return nil, false, nil
	}
	return parts, true, err
}

// queue makes one answer of all its parts, the most pressing first.
func (h *hearing) queue(parts []ladder.Part) error {
	if len(parts) == 0 {
		return nil
	}
	n := h.notice(parts)
	if h.earlier() || h.in.Carrier == Board {
		return h.tx.AnswerRead(n)
	}
	if tooMuch, err := h.tooMuch(n); tooMuch || err != nil {
		return err
	}
	_, err := h.tx.Answer(n)
	return err
}

// notice is the answer, due at once whichever clock the carriers go by.
func (h *hearing) notice(parts []ladder.Part) ladder.Notice {
	clocks := []time.Time{h.now, h.tx.Now()}
	n := ladder.Notice{
		Key:       ladder.AnswerKey(h.in.Row),
		To:        h.from.Name,
		Medium:    h.by,
		Kind:      parts[0].Kind,
		Facts:     parts[0].Facts,
		NotBefore: slices.MinFunc(clocks, time.Time.Compare),
		GoodUntil: slices.MaxFunc(clocks, time.Time.Compare).Add(24 * time.Hour),
		Inbox:     h.in.Row,
	}
	n.Facts.About().Farm = h.farm.Name
	answer := n.Facts.(ladder.Answer).Reply()
	answer.And = parts[1:]
	if h.stale {
		answer.Stale = h.day
	}
	return n
}

// medium is how a text is answered: by the way it came.
func medium(carrier string, c ladder.Contact, from string) ladder.Medium {
	if c.Email != "" && strings.EqualFold(from, c.Email) {
		return ladder.Mail
	}
	return ladder.Text
}

// Keyboard is the carrier of what is typed at the farm's own machine.
const Keyboard = "keyboard"

// Earlier is the carrier of what is typed there as of an earlier moment, which is
// when it was received: it is heard as if now were that moment, whoever types
// reads the answer, and nothing else is made of it before the next pass.
const Earlier = "keyboard-earlier"

func (h *hearing) earlier() bool { return h.in.Carrier == Earlier }

// reread takes up the diary as this transaction has it; for what is said as of an
// earlier day, what was known of that day.
func (h *hearing) reread() (err error) {
	h.book, err = h.diary(h.tx)
	if err == nil && h.earlier() {
		h.book = h.book.Until(h.day)
	}
	return err
}

func source(carrier string) string {
	if carrier == Keyboard || carrier == Earlier || carrier == Board {
		return diary.FromKeyboard
	}
	return diary.FromText
}

// clip keeps what was typed short enough for a diary.
func clip(text string) string {
	const most = 200
	r := []rune(text)
	if len(r) > most {
		return string(r[:most]) + "..."
	}
	return text
}
