package wording

import (
	"strings"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/ladder"
)

// steering says of each paddock whether it will have at its cutoff what it must leave.
func (v voice) steering(shuts []ladder.Shut, today civil.Date) (lines []string) {
	var unread []string
	for _, s := range shuts {
		switch {
		case s.Steer == nil:
		case s.Steer.Fresh:
			lines = append(lines, v.steer(s, today))
		default:
			unread = append(unread, v.paddock(s.Place))
		}
	}
	if len(unread) > 0 {
		lines = append(lines, v.say("steer.unread", "paddock", strings.Join(unread, ", ")))
	}
	return lines
}

func (v voice) steer(l ladder.Shut, today civil.Date) string {
	s := l.Steer
	height := v.say("steer.now", "height", v.withUnit(v.against(s.Height, s.Leave)))
	if s.Read != today {
		height = v.say("height.on", "height", v.withUnit(v.against(s.Height, s.Leave)), "day", v.date(s.Read))
	}
	key := "steer.passes"
	switch off := ""; {
	case s.Short(), s.Height < s.Leave:
		if s.Grazed {
			off = ".off"
		}
		if key = "steer.rest" + off; s.Short() {
			key = "steer.short" + off
		}
	case !s.Counted:
		key = "steer.enough"
	case s.Passes == 0:
		key = "steer.last"
	}
	return v.say(key, "paddock", v.paddock(l.Place), "height", height, "days", s.Days, "n", s.Passes, "leave", v.bare(s.Leave), "at", v.whole(s.AtCutoff))
}
