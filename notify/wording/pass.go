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
		line := v.say("pass.line", v.weekday(s.In), strings.Join(s.Herds, ", "), s.Name, v.weekday(s.Out))
		if s.Wants > 0 {
			line += " " + v.say("pass.wants", s.Wants)
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
		names[i] = v.say("pass.stop", s.Name, v.date(s.Out))
	}
	return may(rankRemark, v.say("pass.order", strings.Join(names, ", ")))
}

var englishPass = phrases{
	"monday.pass": "The last pass",
	"pass.line":   "From %[1]s: %[2]s in %[3]s, out by %[4]s.",
	"pass.wants":  "Then %[1]d ${1:day|days} without open grass before the last cutoff.",
	"pass.stop":   "%[1]s to %[2]s",
	"pass.order":  "Order: %[1]s.",
}

var spanishPass = phrases{
	"monday.pass": "La última vuelta",
	"pass.line":   "Desde el %[1]s: %[2]s en %[3]s, fuera a más tardar el %[4]s.",
	"pass.wants":  "Después, %[1]d ${1:día|días} sin pasto abierto antes del último cierre.",
	"pass.stop":   "%[1]s hasta el %[2]s",
	"pass.order":  "Orden: %[1]s.",
}
