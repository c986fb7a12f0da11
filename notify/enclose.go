package notify

import (
	"fmt"
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/notify/picture"
	"stubbled/notify/wording"
	"stubbled/scheduler/ladder"
)

// enclose makes what goes with a mail: pictures, whose CID says that the words
// may show them, and the calendar.
func enclose(r Rules, o wording.Options, kind ladder.Kind, facts []ladder.Facts, now time.Time) (files []File, err error) {
	switch {
	case kind == ladder.LessonsMail:
		return lessonPictures(o, facts)
	case kind == ladder.Scorecard && len(facts) > 0:
		return restPicture(o, facts[0].(*ladder.ScorecardFacts))
	}
	if len(facts) == 0 || kind != ladder.MondayMail && kind != ladder.FallAhead {
		return nil, nil
	}
	f, ok := facts[0].(*ladder.FarmFacts)
	if !ok || len(f.Shuts) == 0 {
		return nil, nil
	}
	if c := SeasonChart(o.Lang, r.Farm, f.Day, f.Shuts); kind == ladder.MondayMail && len(c.Rows) > 0 {
		if files, err = withPicture(files, wording.Season, c); err != nil {
			return nil, err
		}
	}
	if kind == ladder.FallAhead && r.Card != nil {
		if data, err := r.Card(o.Lang); err == nil { // a mail without a card is better than none
			files = append(files, File{Name: "card.html", Type: "text/html; charset=utf-8", Data: data})
		}
	}
	dates, err := Calendar(o, r.Farm, f.Shuts, now)
	return append(files, File{Name: "cutoffs.ics", Type: "text/calendar; charset=utf-8; method=PUBLISH", Data: dates}), err
}

// withPicture adds a drawn chart.
func withPicture(files []File, id string, chart picture.Chart) ([]File, error) {
	data, err := chart.In(picture.PNG)
	if err != nil {
		return nil, fmt.Errorf("draw %s: %w", id, err)
	}
	return append(files, File{Name: id + ".png", Type: "image/png", CID: id, Data: data}), nil
}

// restPicture shows how much later springs came after less rest.
func restPicture(o wording.Options, f *ladder.ScorecardFacts) ([]File, error) {
	c := picture.RestChart{Words: wording.OnPage(o)}
	for _, s := range f.Card {
		for _, y := range s.Years {
			spring := picture.RestedSpring{Year: y}
			if y.Year == f.Day.Year {
				spring.Name = f.Names[s.Paddock]
			}
			if y.Rest > 0 || y.Broken {
				c.Springs = append(c.Springs, spring)
			}
		}
	}
	if len(c.Springs) == 0 {
		return nil, nil
	}
	return withPicture(nil, wording.Rests, c)
}

// mostPictures bounds the size of one mail.
const mostPictures = 20

func lessonPictures(o wording.Options, facts []ladder.Facts) (files []File, err error) {
	for _, f := range facts[:min(len(facts), mostPictures)] {
		f, ok := f.(*ladder.EndFacts)
		if !ok || f.Result == nil || f.Result.Lesson == nil || len(f.Result.Lesson.Seasons) == 0 {
			continue
		}
		c := picture.LessonChart{Words: wording.OnPage(o), Paddock: f.Name, Target: f.Target, Leave: f.Leave, Falls: f.Result.Lesson.Seasons}
		if files, err = withPicture(files, wording.SeasonOf(f.Paddock), c); err != nil {
			return nil, err
		}
	}
	return files, nil
}

// SeasonChart is the season's picture of the paddocks of a plan, those that do not
// rest too; it has no rows where none rests.
func SeasonChart(lang, farm string, today civil.Date, lines []ladder.Shut) picture.SeasonChart {
	c := picture.SeasonChart{Words: wording.OnPage(wording.Options{Lang: lang}), Farm: farm, Today: today}
	if slices.ContainsFunc(lines, func(l ladder.Shut) bool { return l.Native && !l.Frost.IsZero() }) {
		c.Rows = lines
	}
	return c
}

// Calendar is the cutoffs of a plan as a calendar file. A later file moves the
// entries of an earlier one.
func Calendar(o wording.Options, farm string, lines []ladder.Shut, issued time.Time) ([]byte, error) {
	c, words := picture.Calendar{Farm: farm, Issued: issued}, wording.OnPage(o)
	for _, l := range lines {
		if l.Cutoff.IsZero() || l.FallUse {
			continue
		}
		e := picture.Entry{Paddock: l.Paddock, Season: l.Cutoff.Year, Day: l.Cutoff, Title: words.Say("calendar.back", "paddock", l.Name)}
		if !l.Frost.IsZero() {
			e.Title = words.Say("calendar.cutoff", "paddock", l.Name, "height", words.Length(l.Leave))
			e.Note = words.Say("calendar.note", "height", words.Length(l.Target), "day", words.Short(l.Frost))
		}
		c.Entries = append(c.Entries, e)
	}
	return c.ICS()
}
