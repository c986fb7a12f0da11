package report

import (
	"io"

	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
	"stubbled/scheduler/season"
)

// Lessons is what the finished seasons say of each paddock's rule, and which
// paddocks may be grazed on purpose.
func Lessons(w io.Writer, sight season.Sight) error {
	return printPage(w, "lessons.txt", sight.Farm, struct {
		season.Sight
		Lessons []season.Lesson
		Uses    []herd.Offer
	}{sight, season.Lessons(sight), season.Uses(sight)})
}

// LessonsJSON is Lessons for other programs.
func LessonsJSON(w io.Writer, sight season.Sight) error {
	lessons := season.Lessons(sight)
	all := make([]object, len(lessons))
	for i, l := range lessons {
		seasons := []object{}
		for _, s := range l.Seasons {
			seasons = append(seasons, object{
				{"year", s.Year}, {"cutoff", isoDate(s.Cutoff)}, {"rest_end", isoDate(s.RestEnd)}, {"ended_by", string(s.EndedBy)}, {"real_rest_days", s.RealRest},
				{"start_in", above(s.Start, 0)}, {"end_in", above(s.End, 0)}, {"degree_days", above(s.Heat, 0)}, {"rain_mm", above(s.RainMM, -1)},
				{"met", s.Met}, {"teaches", s.Teaches}, {"why_not,omitempty", s.WhyNot},
			})
		}
		var leaveChance, restChance *float64
		if l.LeaveIn != nil {
			leaveChance = &l.LeaveChance
		}
		if l.RestDays != nil {
			restChance = &l.RestChance
		}
		all[i] = object{
			{"id", l.Paddock}, {"for_fall", l.Year}, {"seasons", seasons}, {"chance", l.Chance}, {"leave_in", l.LeaveIn}, {"leave_chance", leaveChance},
			{"rest_days", l.RestDays}, {"rest_chance", restChance}, {"rest_more_days", l.RestMore}, {"rest_hay_lb", above(l.RestHayLb, 0)}, {"thumb_leave_in", found(l.Thumb, func(c *season.Cures) grass.Cure { return c.LeaveFor })}, {"thumb_rest_days", found(l.Thumb, func(c *season.Cures) grass.Cure { return c.RestFor })},
			{"no_sensible_rest_reaches_it", l.NoCure}, {"met_easily_three_falls_running", l.Easy},
		}
	}
	return JSON(w, map[string]any{"paddocks": all})
}

// found is the value of one of the cures, where there are any and it was found.
func found(c *season.Cures, which func(*season.Cures) grass.Cure) *float64 {
	if c == nil || !which(c).Found {
		return nil
	}
	return new(which(c).Value)
}
