package page

import (
	"slices"
	"strings"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/notify/wording"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/record"
	"stubbled/scheduler/season"
)

// Card is the wall card of a season: one page in one language.
type Card struct {
	Farm    string
	Printed civil.Date
	Views   []season.View
	People  []ladder.Contact
}

// HTML is it for print, on Letter or A4.
func (c Card) HTML(o wording.Options) ([]byte, error) {
	p := wording.OnPage(o)
	rows := make([]cardRow, len(c.Views))
	about := struct {
		Card
		Year     int
		Rows     []cardRow
		Dense    string
		Examples [][2]string // what to text, and the phrase that says when
		Frost    civil.Date
		Poison   bool
		Word     string // of the paddock that they are of, as it is texted
	}{Card: c, Rows: rows}
	lines := len(rows)
	for i := range rows {
		v := &c.Views[i]
		rows[i] = rowOf(p, v)
		about.Year = v.Year
		for _, plants := range []string{rows[i].Plants, rows[i].Short} {
			if plants != "" {
				about.Poison = true
				lines++
			}
		}
		about.Frost = diary.EarlierDay(about.Frost, v.Dates.Frost)
	}
	if about.Dense = dense(lines); len(rows) > 0 {
		v := &c.Views[max(0, slices.IndexFunc(c.Views, func(v season.View) bool { return v.Paddock.Native() }))]
		about.Word, about.Examples = v.Paddock.Word(), examples(p, v)
	}
	return made("card.html", p, about)
}

// dense is how small the table has to be so that it is one page, by its lines.
func dense(lines int) string {
	switch {
	case lines <= 5:
		return ""
	case lines <= 16:
		return "close"
	case lines <= 32:
		return "closer"
	}
	return "closest"
}

// A cardRow is one paddock of the card.
type cardRow struct {
	Name, Word    string
	Native        bool
	Shut          civil.Date // zero where it never shuts
	Leave, Wanted float64
	FallUse       bool
	Plants, Short string // that may poison or bloat, and that may where the stand is short at frost
}

func rowOf(p wording.Page, v *season.View) cardRow {
	r := cardRow{Name: v.Paddock.Name, Word: v.Paddock.Word(), Native: v.Paddock.Native(), Shut: v.Dates.Cutoff, Leave: v.Paddock.Floor(), FallUse: v.FallUse}
	if r.Native {
		r.Wanted = v.Paddock.Rule.AtFrost
	}
	var always, short []string
	for _, h := range slices.Concat(v.Paddock.Grass.HazardsOf(), v.Paddock.Hazards) {
		if h.Tall.Known() {
			short = append(short, h.Name)
		} else {
			always = append(always, h.Name)
		}
	}
	for _, name := range v.AtRisk { // what somebody told of
		if !slices.Contains(short, name) {
			always = append(always, name)
		}
	}
	r.Plants, r.Short = p.Plants(always), p.Plants(short)
	return r
}

// examples are texts of this farm's own, of one paddock.
func examples(p wording.Page, v *season.View) [][2]string {
	at := ladder.PlaceOf(v.Paddock)
	return [][2]string{
		{p.Command(diary.Off, at), "card.when-off"}, {p.Command(diary.On, at), "card.when-on"}, {p.Heights(at, v.Paddock.Floor()), "card.when-read"},
		{p.Bare(diary.Frost), "card.when-frost"}, {p.Command(diary.Brown, at), "card.when-brown"}, {p.Bare(diary.Status), "card.when-status"},
		{p.Command(diary.HowLow, at), "card.when-low"}, {p.Bare(diary.Undo), "card.when-undo"},
	}
}

// Record is the grazing record of a farm's year, a page for each paddock.
type Record struct {
	Farm  string
	Zone  *time.Location
	Pages []record.Page
}

// HTML is it for print.
func (r Record) HTML(o wording.Options) ([]byte, error) {
	return made("record.html", wording.OnPage(o), r)
}

// By is who told of a stay, each once, and when: the day and time on the farm's
// clock.
func (r Record) By(s record.Stay) string {
	var all []string
	for _, said := range s.Said {
		all = append(all, said.By+" "+said.At.In(r.Zone).Format("2006-01-02 15:04"))
	}
	return strings.Join(all, "; ")
}
