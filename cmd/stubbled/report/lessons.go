package report

import (
	"fmt"
	"io"
	"text/tabwriter"

	"stubbled/scheduler/season"
)

// Lessons is what the finished seasons say of each paddock's rule, and which
// paddocks may be grazed on purpose.
func Lessons(w io.Writer, sight season.Sight) error {
	fmt.Fprintf(w, "%s: what each native paddock's seasons say. The farm file stays the only place a rule is changed.\n", sight.Farm.Name)
	for _, l := range season.Lessons(sight) {
		p, _ := sight.Farm.Paddock(l.Paddock)
		tellLesson(w, p, l)
	}
	return tellUses(w, sight)
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
	return printJSON(w, map[string]any{"paddocks": all})
}

func tellLesson(w io.Writer, p *season.Paddock, l season.Lesson) {
	fmt.Fprintf(w, "\n%s: leave %g in, rest %d days, want %g in at frost\n", p.Name, p.Rule.Leave, p.Rule.RestDays, p.Rule.AtFrost)
	if len(l.Seasons) > 0 {
		t := tabwriter.NewWriter(w, 2, 0, 2, ' ', 0)
		fmt.Fprintln(t, "  FALL\tCUTOFF\tREST ENDED\tRESTED\tFROM\tTO\tHEAT\tRAIN\t")
		for _, s := range l.Seasons {
			fmt.Fprintf(t, "  %d\t%s\t%s (%s)\t%d days\t%s\t%s\t%s\t%s\t%s\n", s.Year, ShortDay(s.Cutoff), ShortDay(s.RestEnd), s.EndedBy,
				s.RealRest, inches(s.Start), inches(s.End), amount(s.Heat, 0, "%.0f"), amount(s.RainMM, -1, "%.0f mm"), lessonNote(s))
		}
		t.Flush()
	}
	fmt.Fprintf(w, "  %s\n", lessonWords(l))
}

func inches(h float64) string { return amount(h, 0, "%.1f in") }

func amount(x, unknown float64, form string) string {
	if x <= unknown {
		return "-"
	}
	return fmt.Sprintf(form, x)
}

func lessonNote(s season.Finished) string {
	switch {
	case !s.Teaches:
		return "teaches nothing: " + s.WhyNot
	case s.Met:
		return "made it"
	}
	return "fell short"
}

// lessonWords says what to do, first of all.
func lessonWords(l season.Lesson) string {
	switch {
	case l.Chance == nil && l.Easy:
		return "Met easily three falls running: it could rest later or be left shorter."
	case l.Chance == nil:
		return fmt.Sprintf("%d season(s) that teach; a rule is judged from two on. Read it at cutoff and within two weeks after rest ends.", l.Taught)
	case *l.Chance >= l.Confidence && l.Easy:
		return fmt.Sprintf("Keep the rule: %.0f %% chance. Met easily three falls running: it could rest later or be left shorter.", *l.Chance*100)
	case *l.Chance >= l.Confidence:
		return fmt.Sprintf("Keep the rule: %.0f %% chance of the height, from %d seasons.", *l.Chance*100, l.Taught)
	case l.NoCure:
		return fmt.Sprintf("No sensible rest reaches it: %.0f %% chance now, from %d seasons. Ask why it does not grow, or want less of it.", *l.Chance*100, l.Taught)
	}
	text := fmt.Sprintf("Change the rule: %.0f %% chance now, from %d seasons.", *l.Chance*100, l.Taught)
	if l.LeaveIn != nil {
		text += fmt.Sprintf(" Leave %g in (%.0f %%)", *l.LeaveIn, l.LeaveChance*100)
	} else {
		text += " No height to leave does it alone"
	}
	if l.RestDays != nil {
		return text + fmt.Sprintf(", or rest %d days (%.0f %%).", *l.RestDays, l.RestChance*100)
	}
	return text + "; no longer rest does it alone."
}

func tellUses(w io.Writer, sight season.Sight) error {
	offers := season.Uses(sight)
	if len(offers) == 0 {
		return nil
	}
	fmt.Fprintln(w, "\nFall use, best first (never the same paddock two falls running):")
	t := tabwriter.NewWriter(w, 2, 0, 2, ' ', 0)
	for _, o := range offers {
		p, _ := sight.Farm.Paddock(o.ID)
		fmt.Fprintf(t, "  %s\t%s\t%.0f of %.0f acres\tchance of its height %.0f %%\n", p.Name, fitWords[o.Fit], o.Use, o.Acres, o.Chance*100)
	}
	return t.Flush()
}
