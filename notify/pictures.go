package notify

import (
	"bytes"
	"fmt"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/notify/picture"
	"stubbled/notify/wording"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// SeasonChart is the season's picture of the paddocks of a plan that rest.
func SeasonChart(lang, farm string, today civil.Date, lines []ladder.Shut) picture.SeasonChart {
	w := wording.Chart(wording.Options{Lang: lang}, farm)
	c := picture.SeasonChart{Today: today, Labels: picture.SeasonLabels{
		Title: w.Title, Open: w.Open, Rest: w.Rest, Spread: w.Spread, Today: w.Today, Reading: w.Reading, FallUse: w.FallUse,
		Month: w.Month, Day: w.Day, Rule: w.Rule,
	}}
	for _, l := range lines {
		if !l.Native || l.Cutoff.IsZero() || l.Frost.IsZero() {
			continue
		}
		r := picture.SeasonRow{
			Name: l.Name, Cutoff: l.Cutoff, Frost: l.Frost, Early: l.Early, Late: l.Latest, End: l.End, Ended: l.Ended,
			Leave: l.Leave, Target: l.Target, FallUse: l.FallUse,
		}
		for _, p := range l.Readings {
			r.Readings = append(r.Readings, picture.Height{Day: p.Day, Inches: p.In})
		}
		c.Rows = append(c.Rows, r)
	}
	return c
}

// enclose makes what goes with a mail: pictures, with the names of those that
// may be shown, and the calendar.
func enclose(o wording.Options, farm string, kind ladder.Kind, facts []ladder.Facts, now time.Time) ([]store.File, []string, error) {
	files, shown, err := pictures(o, farm, kind, facts)
	if err != nil {
		return nil, nil, err
	}
	dates, err := calendarFile(o, farm, kind, facts, now)
	return append(files, dates...), shown, err
}

// pictures draws what goes with a mail, and names what may be shown.
func pictures(o wording.Options, farm string, kind ladder.Kind, facts []ladder.Facts) ([]store.File, []string, error) {
	switch kind {
	case ladder.MondayMail:
		return seasonPicture(o, farm, facts)
	case ladder.LessonsMail:
		return lessonPictures(o, facts)
	}
	return nil, nil, nil
}

func seasonPicture(o wording.Options, farm string, facts []ladder.Facts) ([]store.File, []string, error) {
	if len(facts) == 0 {
		return nil, nil, nil
	}
	c := SeasonChart(o.Lang, farm, facts[0].Day, facts[0].Shuts)
	if len(c.Rows) == 0 {
		return nil, nil, nil
	}
	var out bytes.Buffer
	if err := c.Write(&out, picture.PNG); err != nil {
		return nil, nil, fmt.Errorf("draw the season: %w", err)
	}
	return []store.File{png(wording.Season, out.Bytes())}, []string{wording.Season}, nil
}

// mostPictures bounds the size of one mail.
const mostPictures = 20

func lessonPictures(o wording.Options, facts []ladder.Facts) (files []store.File, shown []string, err error) {
	for _, f := range facts[:min(len(facts), mostPictures)] {
		if f.Result == nil || f.Result.Lesson == nil || len(f.Result.Lesson.Seasons) == 0 {
			continue
		}
		w := wording.LessonChart(o, f.Name)
		c := picture.LessonChart{Title: w.Title, Note: w.Note, Wanted: w.Wanted, Left: w.Left, Target: f.Target, Leave: f.Leave, Length: w.Length}
		for _, s := range f.Result.Lesson.Seasons {
			c.Falls = append(c.Falls, picture.Fall{Year: s.Year, Start: s.Start, End: s.End, Teaches: s.Teaches})
		}
		var out bytes.Buffer
		if err := c.Write(&out, picture.PNG); err != nil {
			return nil, nil, fmt.Errorf("draw the falls of %s: %w", f.Paddock, err)
		}
		id := wording.SeasonOf(f.Paddock)
		files, shown = append(files, png(id, out.Bytes())), append(shown, id)
	}
	return files, shown, nil
}

func png(id string, data []byte) store.File {
	return store.File{Name: id + ".png", Type: "image/png", CID: id, Data: data}
}
