package scheduler

import (
	"slices"
	"strings"
	"time"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
	"stubbled/store"
)

// lifting answers a `clear` that is not to be written down yet: it is asked back
// once with everything that would be lifted, and where nothing stands it says so.
// The letter, or the same text again, is the answer.
func (h *hearing) lifting(f diary.Fact) (part ladder.Part, asks bool) {
	if f.Kind != diary.Clear || h.offers(f) && h.lets(f) {
		return part, false
	}
	return h.askLift(f)
}

func (h *hearing) askLift(f diary.Fact) (part ladder.Part, asks bool) {
	v := viewOf(h.views(), f.Paddock)
	if v == nil {
		return part, false
	}
	q := &diary.Question{Why: diary.NothingShut, Paddock: f.Paddock}
	said := AskBack(h.farm, q)
	if said.Causes = lifts(v); len(said.Causes) > 0 {
		if f.Words == "" {
			f.Words = clip(h.in.Text) // what it is to be the same as, if it is texted again
		}
		q.Why, q.Choices = diary.Lift, []diary.Choice{{Name: v.Paddock.Name, Facts: []diary.Fact{f}}}
	} else {
		said.Wait = ladder.Describe(v, v.Today).Wait
	}
	return ladder.Part{Kind: ladder.AnswerAsk, Facts: said}, true
}

// questionBack is a question as parts of an answer. One that would confirm a single
// clear, such as of a name with a slip of the finger, is asked back with what that
// lifts, and not twice.
func (h *hearing) questionBack(q *diary.Question) ladder.Part {
	if q.Why == diary.Likely && len(q.Choices) == 1 && len(q.Choices[0].Facts) == 1 && q.Choices[0].Facts[0].Kind == diary.Clear {
		if part, asks := h.askLift(q.Choices[0].Facts[0]); asks {
			return part
		}
	}
	return ladder.Part{Kind: ladder.AnswerAsk, Facts: AskBack(h.farm, q)}
}

// offers reports whether the question that waits for them would lift the same, with
// its causes named.
func (h *hearing) offers(f diary.Fact) bool {
	return h.waitsFor == diary.Lift && slices.ContainsFunc(h.choices, func(c diary.Choice) bool {
		return slices.ContainsFunc(c.Facts, func(o diary.Fact) bool { return o.Kind == f.Kind && o.Paddock == f.Paddock })
	})
}

// lets reports whether the text is the letter of the one choice, or the same clear
// again: a nod lifts nothing.
func (h *hearing) lets(f diary.Fact) bool {
	plain := func(text string) []string {
		return strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return strings.ContainsRune(" .,!)(", r) })
	}
	words := plain(h.in.Text)
	return f.Words == "" || len(words) > 0 && words[len(words)-1] == "a" || slices.Equal(words, plain(f.Words))
}

// lifts are the causes that a manager's word ends, as they are said.
func lifts(v *season.View) (all []ladder.Cleared) {
	for _, c := range v.Shut {
		if !c.Lifts() {
			continue
		}
		said := ladder.Cleared{Why: c.Why, Day: c.Since}
		if n := len(c.Marks); n > 0 {
			said.Day = c.Marks[n-1].Day
		}
		if !c.Until.IsZero() {
			said.N, said.Of = v.Today.DaysSince(said.Day), c.Until.DaysSince(said.Day)
		}
		if !slices.Contains(all, said) {
			all = append(all, said)
		}
	}
	return all
}

// managersAway is how long no manager can be reached before the owner may say what
// is theirs to say.
const managersAway = 24 * time.Hour

// manages reports whether who wrote may say what is the manager's alone: a manager,
// and the owner where no manager could be reached for a day.
func (h *hearing) manages() (bool, error) {
	if h.from.Manager() || !strings.EqualFold(h.from.Role, "owner") {
		return h.from.Manager(), nil
	}
	outs, err := h.tx.OptOuts()
	if err != nil {
		return false, err
	}
	for _, c := range h.farm.Contacts {
		for _, address := range c.Addresses() {
			away := slices.ContainsFunc(outs, func(o store.OptOut) bool {
				return strings.EqualFold(o.Address, address) && h.sent.Sub(o.At) >= managersAway
			})
			if c.Manager() && !away {
				return false, nil
			}
		}
	}
	return true, nil
}
