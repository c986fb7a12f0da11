package wording

import (
	"strings"

	"stubbled/scheduler/ladder"
)

// passLines are the visits of the last pass, one a line, in the order of the
// days.
func (v voice) passLines(stops []ladder.Stop) []string {
	var out []string
	for _, s := range stops {
		line := v.say("pass.line", "day", v.weekday(s.In), "herds", strings.Join(s.Herds, ", "), "paddock", s.Name, "out", v.weekday(s.Out))
		if s.Wants > 0 {
			line += " " + v.say("pass.wants", "days", s.Wants)
		}
		out = append(out, line)
	}
	return out
}

// pass is the last pass in one sentence, for a text: where they go and until
// when.
func (v voice) pass(stops []ladder.Stop) part {
	if len(stops) < 2 {
		return part{} // one paddock is no order
	}
	names := make([]string, len(stops))
	for i, s := range stops {
		names[i] = v.say("pass.stop", "paddock", s.Name, "day", v.date(s.Out))
	}
	return may(rankRemark, v.say("pass.order", "list", strings.Join(names, ", ")))
}
