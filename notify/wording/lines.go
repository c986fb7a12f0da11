package wording

import (
	"strings"

	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// lines gives every message a line of its own, in ever shorter forms: first
// each line is shortened, then the last ones only counted.
func (v voice) lines(each [][]part, more string) []string {
	forms := v.linesOf(each)
	shortest := strings.Split(forms[len(forms)-1], "\n")
	for n := len(each) - 1; n >= 1; n-- {
		forms = append(forms, v.say(more, "lines", strings.Join(shortest[:n], "\n"), "n", len(each)-n))
	}
	return forms
}

// linesOf gives every message its line in ever shorter forms.
func (v voice) linesOf(each [][]part) []string {
	var forms []string
	for _, room := range [...]int{always, 150, 120, 100, 85, 75, 65, 55, 45, 0} {
		row := make([]string, len(each))
		for i, parts := range each {
			row[i] = v.line(parts, room)
		}
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
	var keys []string
	names := map[string][]string{}
	for _, f := range fs {
		d := f.Verdict
		if d == nil {
			d = &season.Verdict{}
		}
		key := headKey(d)
		if names[key] == nil {
			keys = append(keys, key)
		}
		names[key] = append(names[key], v.paddock(f.Place))
	}
	var forms []string
	for n := len(fs); n >= 1; n-- {
		var lines []string
		for _, key := range keys {
			all := v.shortening(names[key], ", ")
			shown := all[max(0, len(all)-n)]
			if len(names[key]) > 1 && has(key+".many") {
				lines = append(lines, v.say(key+".many", "paddock", shown))
				continue
			}
			lines = append(lines, v.say(key, "paddock", shown))
		}
		forms = append(forms, strings.Join(lines, "\n"))
	}
	return forms
}

// passLines are the visits of the last pass, one a line, in the order of the
// days.
func (v voice) passLines(stops []ladder.Stop) []string {
	var out []string
	for _, s := range stops {
		line := v.say("pass.line", "day", v.weekday(s.In), "herds", strings.Join(v.herds(s.Herds), ", "), "paddock", v.groundOf(s), "out", v.weekday(s.Out))
		if s.Wants > 0 {
			line += " " + v.say("pass.wants", "days", s.Wants)
		}
		out = append(out, line)
	}
	return out
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
	names := make([]string, len(stops))
	for i, s := range stops {
		names[i] = v.say("pass.stop", "paddock", v.groundOf(s), "day", v.date(s.Out))
	}
	order := append([]string{v.say("pass.order", "list", strings.Join(names, ", "))}, v.changes(changed)...)
	return may(rankRemark, strings.Join(order, " "))
}
