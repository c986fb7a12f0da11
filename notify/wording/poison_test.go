package wording

import (
	"strings"
	"testing"

	"stubbled/scheduler/ladder"
)

// What is said of a hold is what makes the plants poison: no frost is blamed for a
// felled cherry or for new shoots.
func TestAHoldNamesItsTrueCause(t *testing.T) {
	cherry, johnson := "wild cherry", "johnsongrass"
	for _, c := range []struct {
		name   string
		hold   ladder.Hold
		en, es string
	}{
		{"a frost", ladder.Hold{Plants: []string{johnson}},
			"frost can make johnsongrass poisonous.", "zacate Johnson helado puede envenenar."},
		{"a felled cherry", ladder.Hold{Plants: []string{cherry}, Wilted: true},
			"wilted cherry leaves kill.", "la hoja marchita de cerezo mata."},
		{"new shoots", ladder.Hold{Plants: []string{johnson}, Regrown: true},
			"green regrowth can poison.", "el rebrote verde puede envenenar."},
		{"a felled cherry, and a frost on the johnsongrass beside it", ladder.Hold{Plants: []string{cherry, johnson}, Wilted: true, Turned: []string{johnson}},
			"frost can make johnsongrass poisonous. Wilted cherry leaves kill.", "zacate Johnson helado puede envenenar. La hoja marchita de cerezo mata."},
	} {
		f := &ladder.PaddockFacts{}
		f.Hold = &c.hold
		in := []*ladder.PaddockFacts{f}
		for lang, want := range map[string]string{"en": c.en, "es": c.es} {
			if got := newVoice(Options{Lang: lang}).danger(in); !strings.EqualFold(got, want) {
				t.Errorf("%s, %s: %q, want %q", c.name, lang, got, want)
			}
		}
	}
}

// Where no calendar ends a hold it says what does: nobody can wait for a day that never
// comes.
func TestAHoldWithoutALastDaySaysWhoEndsItAndWhen(t *testing.T) {
	for _, c := range []struct {
		name   string
		hold   ladder.Hold
		en, es string
	}{
		{"new shoots", ladder.Hold{Plants: []string{"johnsongrass"}, Regrown: true},
			"until a manager clears it", "hasta que un encargado lo libere"},
		{"cherry", ladder.Hold{Plants: []string{"wild cherry"}, ByEye: true},
			"until a manager sees cherry leaves brown and dry and clears it", "hasta que un encargado vea seca la hoja del cerezo y lo libere"},
		{"cherry that a later look has ended", ladder.Hold{Plants: []string{"wild cherry"}, ByEye: true, Until: day(11, 10)},
			"until about Nov 10", "hasta como el 10 nov"},
	} {
		for lang, want := range map[string]string{"en": c.en, "es": c.es} {
			if got := newVoice(Options{Lang: lang}).heldUntil(&c.hold); got != want {
				t.Errorf("%s, %s: %q, want %q", c.name, lang, got, want)
			}
		}
	}
}
