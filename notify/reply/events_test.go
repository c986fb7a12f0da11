package reply

import "testing"

func TestAnEventStandsAtThePlaceOfItsForm(t *testing.T) {
	for i, e := range events {
		if eventIn(e.form) != events[i] || e.sense&eventWords == 0 {
			t.Errorf("%s is found as %q", e.word, eventIn(e.form).word)
		}
		if sEvent&eventWords == 0 || sVerb&eventWords != 0 {
			t.Error("the words of the events are not all of them, or others too")
		}
	}
}
