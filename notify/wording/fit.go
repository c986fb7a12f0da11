package wording

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"stubbled/notify/gsm"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// A part is a piece of a message: its forms from the fullest to the shortest,
// and its rank. Where a message is too long, parts of the highest rank give way
// first, one form at a time; a last form of "" means that it may go altogether.
type part struct {
	rank  int
	forms []string
}

// The ranks, from what is never given up to what goes first.
const (
	rankMust   = iota // says what to do
	rankNames         // further paddocks of a bundle
	rankAnswer        // how to answer, why
	rankWhen          // dates and figures that can be asked for
	rankDetail        // what else is known
	rankRemark        // how to measure, a second place to go
)

// must is said whole; of several forms the first that fits.
func must(forms ...string) part { return part{rankMust, forms} }

// keep is shortened at its rank, but never left out.
func keep(rank int, forms ...string) part { return part{rank, forms} }

// may is shortened and then left out at its rank.
func may(rank int, forms ...string) part { return part{rank, append(forms, "")} }

// when is a part that is said only where something is so.
func when(so bool, p part) part {
	if !so {
		return part{}
	}
	return p
}

// speaks reports whether a part says anything.
func speaks(p part) bool { return len(p.forms) > 0 }

// always is a limit that nothing reaches: the fullest form of everything.
const always = math.MaxInt

// fit joins parts into a text of at most limit septets. ok is false where even
// the shortest forms were too long and the text had to be cut off.
func fit(limit int, parts []part) (text string, ok bool) {
	at := make([]int, len(parts))
	for parts = rewritten(parts); ; {
		if text = joined(parts, at); fits(text, limit) {
			return text, true
		}
		if !shorten(parts, at) {
			break
		}
	}
	for n := limit; ; n-- {
		if short := gsm.Cut(text, n); fits(short, limit) {
			return short, false
		}
	}
}

// rewritten are parts in the 7-bit alphabet: put into it once, however often they are
// shortened.
func rewritten(parts []part) []part {
	plain := make([]part, len(parts))
	for i, p := range parts {
		plain[i].rank = p.rank
		for _, form := range p.forms {
			plain[i].forms = append(plain[i].forms, gsm.Rewrite(form))
		}
	}
	return plain
}

// fits reports whether a text has at most so many septets; of two segments the
// first may be a septet short, where an escape pair would be split.
func fits(text string, limit int) bool {
	return gsm.Septets(text) <= limit && (limit != gsm.TwoSegments || gsm.Segments(text) <= 2)
}

// within joins parts into a line of at most so many characters of any alphabet,
// or as short as they go.
func within(characters int, parts []part) string {
	at := make([]int, len(parts))
	for {
		if text := joined(parts, at); utf8.RuneCountInString(text) <= characters || !shorten(parts, at) {
			return text
		}
	}
}

// shorten takes the next shorter form of the part that gives way first: of the
// highest rank that has one, the last; false where all are as short as they can be.
func shorten(parts []part, at []int) bool {
	best := -1
	for i, p := range parts {
		if at[i]+1 < len(p.forms) && (best < 0 || p.rank >= parts[best].rank) {
			best = i
		}
	}
	if best >= 0 {
		at[best]++
	}
	return best >= 0
}

func joined(parts []part, at []int) string {
	var b strings.Builder
	for i, p := range parts {
		if len(p.forms) == 0 || p.forms[at[i]] == "" {
			continue
		}
		if form := p.forms[at[i]]; b.Len() > 0 && !strings.HasPrefix(form, "\n") && !strings.HasPrefix(form, ",") {
			b.WriteByte(' ')
		}
		b.WriteString(p.forms[at[i]])
	}
	return strings.TrimSpace(b.String())
}

// full is every part in its fullest form, for a mail.
func full(parts []part) string { return joined(parts, make([]int, len(parts))) }

// MayRepeat marks a message that may have been said before: the carrier's own
// answer was lost. Nothing is repeated without the mark, even where it costs a
// third segment: two texts of the same order look like two orders.
func MayRepeat(o Options, text string) string {
	return newVoice(o).say("may-repeat", "text", text)
}

// lines gives every message a line of its own, in ever shorter forms: first
// each line is shortened, then the last ones only counted.
func (v voice) lines(all [][]part, more string) []string {
	forms := v.linesOf(all)
	shortest := strings.Split(forms[len(forms)-1], "\n")
	for n := min(len(all)-1, mostLines); n >= 1; n-- {
		forms = append(forms, v.say(more, "lines", strings.Join(shortest[:n], "\n"), "n", len(all)-n))
	}
	return forms
}

// mostLines is more than two segments hold: a line names its ground and says something.
const mostLines = gsm.TwoSegments / 5

// linesOf gives every message its line in ever shorter forms.
func (v voice) linesOf(all [][]part) []string {
	var forms []string
	for _, room := range [...]int{always, 150, 120, 100, 85, 75, 65, 55, 45, 0} {
		row := each(all, func(parts []part) string { return v.line(parts, room) })
		forms = append(forms, strings.Join(row, "\n"))
	}
	return forms
}

// line is a message in at most so many septets, or as short as it can be said.
func (v voice) line(parts []part, room int) string {
	if room == always {
		return full(parts)
	}
	if text, ok := fit(room, parts); ok {
		return text
	}
	last := make([]part, len(parts))
	for i, p := range parts {
		if len(p.forms) > 0 {
			last[i] = part{p.rank, p.forms[len(p.forms)-1:]}
		}
		if p.rank == rankAnswer {
			last[i] = part{}
		}
	}
	return full(last)
}

// grouped says the same to all paddocks of one verdict at once, in ever shorter
// forms: 'WAIT, TAKE THEM OFF Creek, Hill.'
func (v voice) grouped(fs []*ladder.VerdictFacts) []string {
	key := func(f *ladder.VerdictFacts) string { return headKey(cmp.Or(f.Verdict, &season.Verdict{})) }
	var forms []string
	for n := len(fs); n >= 1; n-- {
		lines := each(groups(fs, key), func(some []*ladder.VerdictFacts) string {
			all, key := v.shortening(each(places(some), v.paddock), ", "), key(some[0])
			if len(some) > 1 && has(key+".many") {
				key += ".many"
			}
			return v.say(key, "paddock", all[max(0, len(all)-n)])
		})
		forms = append(forms, strings.Join(lines, "\n"))
	}
	return forms
}

// passLines are the visits of the last pass, one a line, in the order of the
// days.
func (v voice) passLines(stops []ladder.Stop) []string {
	lines := each(stops, func(s ladder.Stop) string {
		line := v.say("pass.line", "day", v.weekday(s.In), "herds", strings.Join(v.herds(s.Herds), ", "), "paddock", v.groundOf(s), "out", v.weekday(s.Out))
		if s.Wants > 0 {
			line += " " + v.say("pass.wants", "days", s.Wants)
		}
		return line
	})
	return append(lines, v.careOf(stops)...)
}

// careOf is what may harm herds on the ground of some stops, each ground once.
func (v voice) careOf(stops []ladder.Stop) (lines []string) {
	careful := only(stops, func(s ladder.Stop) bool { return len(s.Cautions) > 0 })
	return unique(each(careful, func(s ladder.Stop) string {
		return v.say("pass.care", "paddock", s.Name, "care", v.cautionsOf(s.Cautions))
	}))
}

// stop is one of them in a list.
func (v voice) stop(s ladder.Stop) string {
	return v.say("pass.stop", "paddock", v.groundOf(s), "day", v.date(s.Out))
}

// groundOf is the ground of a stop, and that its height must let them in first.
func (v voice) groundOf(s ladder.Stop) string {
	if s.Unproved {
		return v.say("pass.if", "paddock", s.Name)
	}
	return s.Name
}

// pass is the last pass in one sentence, for a text: where they go and until
// when.
func (v voice) pass(stops []ladder.Stop, changed []season.Change) part {
	if len(stops) < 2 {
		return part{} // one paddock is no order
	}
	var herds []string
	for _, s := range stops {
		herds = append(herds, s.Herds...)
	}
	herds = unique(herds)
	order := func(most int) string {
		ways := groups(herds, func(herd string) string { return v.way(stops, herd, most) })
		said := each(ways, func(together []string) string {
			list := v.way(stops, together[0], most)
			if len(ways) == 1 {
				return list
			}
			return v.say("pass.way", "herds", strings.Join(v.herds(together), ", "), "list", list)
		})
		return strings.Join(append([]string{v.say("pass.order", "list", strings.Join(said, "; "))}, v.changes(changed)...), " ")
	}
	return may(rankRemark, order(len(stops)), order(2))
}

// way is the first stops of one herd, each ground once for as long as it stays.
func (v voice) way(stops []ladder.Stop, herd string, most int) string {
	var own []ladder.Stop
	for _, s := range stops {
		switch last := len(own) - 1; {
		case !slices.Contains(s.Herds, herd):
		case last >= 0 && own[last].Paddock == s.Paddock:
			own[last].Out = s.Out
		default:
			own = append(own, s)
		}
	}
	return strings.Join(each(own[:min(len(own), most)], v.stop), ", ")
}
