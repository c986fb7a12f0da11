package report

import (
	"io"

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

type seasonJSON struct {
	Year     int      `json:"year"`
	Cutoff   *string  `json:"cutoff"`
	RestEnd  *string  `json:"rest_end"`
	EndedBy  string   `json:"ended_by"`
	RealRest int      `json:"real_rest_days"`
	Start    *float64 `json:"start_in"`
	End      *float64 `json:"end_in"`
	Heat     *float64 `json:"degree_days"`
	Rain     *float64 `json:"rain_mm"`
	Met      bool     `json:"met"`
	Teaches  bool     `json:"teaches"`
	WhyNot   string   `json:"why_not,omitempty"`
}

type lessonJSON struct {
	ID          string       `json:"id"`
	Fall        int          `json:"for_fall"`
	Seasons     []seasonJSON `json:"seasons"`
	Chance      *float64     `json:"chance"`
	Leave       *float64     `json:"leave_in"`
	LeaveChance *float64     `json:"leave_chance"`
	RestDays    *int         `json:"rest_days"`
	RestChance  *float64     `json:"rest_chance"`
	NoCure      bool         `json:"no_sensible_rest_reaches_it"`
	Easy        bool         `json:"met_easily_three_falls_running"`
}

// LessonsJSON is Lessons for other programs.
func LessonsJSON(w io.Writer, sight season.Sight) error {
	lessons := season.Lessons(sight)
	all := make([]lessonJSON, len(lessons))
	for i, l := range lessons {
		j := lessonJSON{ID: l.Paddock, Fall: l.Year, Seasons: []seasonJSON{}, Chance: l.Chance, Leave: l.LeaveIn, RestDays: l.RestDays, NoCure: l.NoCure, Easy: l.Easy}
		if l.LeaveIn != nil {
			j.LeaveChance = &l.LeaveChance
		}
		if l.RestDays != nil {
			j.RestChance = &l.RestChance
		}
		for _, s := range l.Seasons {
			j.Seasons = append(j.Seasons, seasonJSON{
				Year: s.Year, Cutoff: isoDate(s.Cutoff), RestEnd: isoDate(s.RestEnd), EndedBy: string(s.EndedBy), RealRest: s.RealRest,
				Start: above(s.Start, 0), End: above(s.End, 0), Heat: above(s.Heat, 0), Rain: above(s.RainMM, -1), Met: s.Met, Teaches: s.Teaches, WhyNot: s.WhyNot,
			})
		}
		all[i] = j
	}
	return JSON(w, map[string]any{"paddocks": all})
}
