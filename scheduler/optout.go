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
	var all []string
	for _, a := range append([]string{h.in.From}, h.from.Addresses()...) {
		if a != "" && !slices.Contains(all, a) {
			all = append(all, a)
		}
	}
	return all
}

// stop ends every message to the contact, by any medium. One confirmation goes
// out; where nobody is left to be told anything it says so.
func (h *hearing) stop() ([]ladder.Part, error) {
	for _, a := range h.addresses() {
		if _, err := h.tx.Suppress(a, h.from.Name, store.WhyStopped); err != nil {
			return nil, fmt.Errorf("stop messages: %w", err)
		}
	}
	f := ladder.AnswerFacts{Who: h.from.Name}
	left, err := h.anybodyLeft()
	if err != nil {
		return nil, err
	}
	if !left {
		f.Alarm = ladder.AlarmNobodyLeft
	}
	return []ladder.Part{{Kind: ladder.AnswerStop, Facts: &f}}, nil
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
	return []ladder.Part{{Kind: ladder.AnswerStart, Facts: &ladder.AnswerFacts{Who: h.from.Name}}}, nil
}
