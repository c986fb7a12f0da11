package wording

import (
	"strings"

	"stubbled/notify/language"
	"stubbled/scheduler/ladder"
)

// Speech is what a call says of a bundle of notices of one kind: sentences made
// for the ear, without any abbreviation where they speak of a hold, and said
// twice, since who is woken by a telephone misses the first words.
func Speech(o Options, kind ladder.Kind, facts []ladder.Facts) string {
	v := voice{o: o, lang: language.For(o.Lang), roomy: true}
	fs := ready(kind, facts)
	words := strings.Join(textLines(full(v.parts(kind, fs))), " ")
	if fs, ok := onHold(fs); ok {
		words = v.holdAloud(fs)
	}
	return v.say("spoken", "farm", v.farm(fs[0]), "words", words)
}

// onHold are the notices of a bundle that all speak of paddocks under a hold.
func onHold(fs []ladder.Facts) ([]*ladder.PaddockFacts, bool) {
	var all []*ladder.PaddockFacts
	for _, f := range fs {
		if on := ladder.OnPaddock(f); on != nil && on.Hold != nil {
			all = append(all, on)
		}
	}
	return all, len(all) == len(fs)
}

// holdAloud says which ground to take them off, why, and whom to call: every
// paddock by its name, since a list that is cut is heard as whole.
func (v voice) holdAloud(fs []*ladder.PaddockFacts) string {
	names := unique(gathered(fs, func(f *ladder.PaddockFacts) []string { return []string{v.paddock(f.Place)} }))
	says := []string{v.say("spoken.hold", "paddock", v.list(names, "list.and")), sentence(v.danger(fs)), v.say("spoken.vet"),
		v.say("spoken.off", "paddock", v.list(names, "list.or"))}
	return strings.Join(says, " ")
}
