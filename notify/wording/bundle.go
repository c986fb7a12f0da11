package wording

import (
	"slices"
	"strings"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// about is who a sentence is about: one paddock by its name, or a bundle in all
// its forms. Where the paddocks of a bundle differ in what tag says, each is
// named with its own.
type about struct {
	forms []string
	many  bool
	// tag is what all have in common; empty where they differ or have none.
	tag string
}

// about gathers the paddocks of a bundle. tag may be nil.
func (v voice) about(fs []*ladder.PaddockFacts, tag func(*ladder.PaddockFacts) string) about {
	if tag == nil {
		return about{many: len(fs) > 1, forms: v.names(places(fs))}
	}
	return v.aboutEach(places(fs), each(fs, tag))
}

// aboutEach gathers paddocks, each with its tag.
func (v voice) aboutEach(ps []ladder.Place, tags []string) about {
	a := about{many: len(ps) > 1, tag: same(tags, func(t string) string { return t })}
	if a.tag != "" || !a.many {
		a.forms = v.names(ps)
		return a
	}
	items := make([]string, len(ps))
	for i, p := range ps {
		items[i] = v.paddock(p)
		if tags[i] != "" {
			items[i] = v.say("tagged", "paddock", items[i], "tag", tags[i])
		}
	}
	a.forms = v.shortening(unique(items), ", ")
	return a
}

// sentence says a phrase about them: key for one paddock, key.many for more.
func (v voice) sentence(a about, key string, fields ...any) part {
	if a.many && has(key+".many") {
		key += ".many"
	}
	return keep(rankNames, v.inEach(key, "paddock", a.forms, fields...)...)
}

// sentenceEach is a sentence for what all have in common; where they differ the
// phrase plain.each names each with its own.
func (v voice) sentenceEach(a about, plain, key string, fields ...any) part {
	if a.many && a.tag == "" {
		return keep(rankNames, v.inEach(plain+".each", "paddock", a.forms)...)
	}
	return v.sentence(a, key, fields...)
}

// opening is the sentence that a text begins with where the farm file moved a
// cutoff after it had been told.
func (v voice) opening(fs []*ladder.PaddockFacts) []part {
	moved := only(fs, func(f *ladder.PaddockFacts) bool { return !f.WasCutoff.IsZero() })
	now := same(fs, func(f *ladder.PaddockFacts) string { return v.date(f.Cutoff) })
	was := same(fs, func(f *ladder.PaddockFacts) string { return v.date(f.WasCutoff) })
	switch {
	case len(moved) == 0:
		return nil
	case len(moved) == len(fs) && now != "" && was != "":
		return []part{must(v.say("cutoff.now", "day", now, "was", was))}
	}
	items := each(moved, func(f *ladder.PaddockFacts) string {
		return v.say("cutoff.now.item", "paddock", v.paddock(f.Place), "day", v.date(f.Cutoff), "was", v.date(f.WasCutoff))
	})
	return []part{keep(rankNames, v.inEach("cutoff.now.each", "list", v.shortening(items, ", "))...)}
}

// unreached names the contacts that could not be told.
func (v voice) unreached(missing []string) part {
	names := v.people(missing)
	if len(names) == 0 {
		return part{}
	}
	return keep(rankNames, v.inEach("unreached", "list", v.shortening(names, ", "))...)
}

// moveTo names where the herd can go: the best place, with another where there
// is room to say it; never another place than was said before without why.
func (v voice) moveTo(fs []*ladder.PaddockFacts, rank int) part {
	to := v.people(fs[0].MoveTo)
	if len(to) == 0 {
		return part{}
	}
	changed := only(fs[0].Changed, func(c season.Change) bool { return c.Now == fs[0].MoveTo[0] })
	best := v.say("move-to", "paddock", to[0])
	forms := []string{best}
	if len(to) > 1 {
		forms = []string{v.say("move-to.or", "paddock", to[0], "other", to[1]), best}
	}
	if len(changed) > 0 {
		why := v.changed(changed[0])
		for i := range forms {
			forms[i] += " " + v.say("changed", "was", v.name(changed[0].Was), "why", why)
		}
		forms = append(forms, best+" "+v.say("changed.short", "was", v.name(changed[0].Was), "why", why))
	}
	if care := v.cautionsOf(fs[0].Cautions); care != "" { // a place is never named without it
		for i := range forms {
			forms[i] += " " + care
		}
	}
	return may(rank, forms...)
}

// changed is why herds are sent to other ground than was said before.
func (v voice) changed(c season.Change) string {
	fact := ""
	if c.Fact != nil {
		fact = v.entry(*c.Fact, naming{names: c.Names})
	}
	if c.Why == "" {
		return fact
	}
	return v.say("changed."+string(c.Why), "day", v.date(c.Day), "days", c.Days, "entry", fact)
}

// changes are the same, a line each, with the herds.
func (v voice) changes(all []season.Change) []string {
	return each(all, func(c season.Change) string {
		return v.say("changed.herds", "herds", strings.Join(v.herds(c.Herds), ", "), "was", v.name(c.Was), "now", v.name(c.Now), "why", v.changed(c))
	})
}

// command is a fact as it is typed: the word of the language, and the paddock.
func (v voice) command(kind diary.Kind, at ladder.Place) string {
	return v.say("command.with", "command", v.say("command."+string(kind)), "with", v.typed(at))
}

// heights is a reading as it is typed, with heights near one.
func (v voice) heights(at ladder.Place, near float64) string {
	return v.say("command.with", "command", v.typed(at), "with", v.samples(near))
}

// answer says how to answer; it is shortened, never left out, and never without
// its condition: 'when off'. n is how many paddocks it is about.
func (v voice) answer(key string, n int, typed string) part {
	var forms []string
	for _, form := range []struct {
		ending string
		wanted bool
	}{{".each", n > 1}, {"", n == 1}, {".short", true}} {
		if form.wanted && has(key+form.ending) {
			forms = append(forms, v.say(key+form.ending, "text", typed))
		}
	}
	return keep(rankAnswer, forms...)
}

// same is a value that all facts of a bundle share, else the zero value.
func same[F any, T comparable](fs []F, of func(F) T) T {
	first := of(fs[0])
	for _, f := range fs[1:] {
		if of(f) != first {
			var none T
			return none
		}
	}
	return first
}

// only are those of which something is so.
func only[F any](all []F, is func(F) bool) []F {
	return slices.DeleteFunc(slices.Clone(all), func(f F) bool { return !is(f) })
}

// every reports whether something is so of all of a bundle.
func every[F any](fs []F, is func(F) bool) bool {
	return !slices.ContainsFunc(fs, func(f F) bool { return !is(f) })
}
