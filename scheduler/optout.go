package scheduler

import (
	"fmt"
	"slices"
	"time"

	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// nobodyLeft notes whether anybody can still be told anything. Nobody hears
// that alarm: it makes health red.
func (s *Scheduler) nobodyLeft(optedOut map[string]bool, now time.Time) {
	detail := "everybody opted out: nobody gets the reminders; look at the contacts in the farm file"
	for _, c := range s.farm.Contacts {
		if slices.ContainsFunc(c.Addresses(), func(a string) bool { return !optedOut[a] }) {
			detail = ""
		}
	}
	s.Fails(ladder.AlarmNobodyLeft, "", detail, now)
}

// wellbeing is how the machine is, as it is told to people.
func (s *Scheduler) wellbeing() ladder.Health {
	h := s.health
	for _, t := range s.Troubles() {
		if t.What == ladder.AlarmNobodyLeft {
			h.OK, h.Failing = false, append(slices.Clone(h.Failing), t.What)
		}
	}
	return h
}

// addresses are all ways to reach the contact, the one they wrote from first.
func (h *hearing) addresses() []string {
	return slices.DeleteFunc(append([]string{h.in.From}, h.from.Addresses()...), func(a string) bool { return a == "" })
}

// stop ends every message to the contact, by any medium. One confirmation goes
// out; where nobody is left to be told anything it says so. A mail that does not
// prove itself ends mail alone, and the confirmation goes as a text. Where there
// is no other way to them it ends nothing unless it holds the token of a mail of
// ours: anybody can write a name above a mail.
func (h *hearing) stop() ([]ladder.Part, error) {
	f := ladder.AnswerFacts{}
	stopped := h.addresses()
	if h.in.StopOnly {
		phone, err := takesTexts(h.tx, h.from)
		if err != nil {
			return nil, err
		}
		switch {
		case phone:
			h.by, f.Stop = ladder.Text, ladder.StopMail
		case h.in.InReplyTo == "":
			f.Stop = ladder.StopUnproved
			return []ladder.Part{{Kind: ladder.AnswerStop, Facts: &f}}, nil
		}
		stopped = slices.DeleteFunc(stopped, func(a string) bool { return a == h.from.Phone })
	}
	fresh := false
	for _, a := range stopped {
		first, err := h.tx.Suppress(a, h.from.Name, store.WhyStopped)
		if err != nil {
			return nil, fmt.Errorf("stop messages: %w", err)
		}
		fresh = fresh || first
	}
	if h.in.StopOnly && !fresh {
		return nil, nil // it was confirmed when it was new
	}
	left, err := h.anybodyLeft()
	if err != nil {
		return nil, err
	}
	if !left {
		f.Alarm = ladder.AlarmNobodyLeft
	}
	return []ladder.Part{{Kind: ladder.AnswerStop, Facts: &f}}, nil
}

// takesTexts reports whether texts reach a contact.
func takesTexts(tx *store.Tx, c ladder.Contact) (bool, error) {
	if c.Phone == "" {
		return false, nil
	}
	_, off, err := tx.Suppressed(c.Phone)
	return !off, err
}

// optedOut reports whether the contact gets nothing any more.
func (h *hearing) optedOut() (bool, error) {
	for _, a := range h.from.Addresses() {
		if _, off, err := h.tx.Suppressed(a); err != nil || !off {
			return false, err
		}
	}
	return true, nil
}

func (h *hearing) anybodyLeft() (bool, error) {
	for _, c := range h.farm.Contacts {
		for _, a := range c.Addresses() {
			if _, off, err := h.tx.Suppressed(a); err != nil || !off {
				return true, err
			}
		}
	}
	return false, nil
}

// start takes an opt-out back.
func (h *hearing) start() ([]ladder.Part, error) {
	for _, a := range h.addresses() {
		if _, err := h.tx.Allow(a); err != nil {
			return nil, fmt.Errorf("start messages: %w", err)
		}
	}
	return []ladder.Part{{Kind: ladder.AnswerStart, Facts: &ladder.AnswerFacts{}}}, nil
}
