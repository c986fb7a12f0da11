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
