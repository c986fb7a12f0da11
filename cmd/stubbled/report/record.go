package report

import (
	"bytes"
	"encoding/csv"
	"io"
	"math"
	"strconv"
	"strings"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/config"
	paper "stubbled/notify/page"
	"stubbled/scheduler/record"
	"stubbled/scheduler/season"
)

// Record is the grazing record, for people.
func Record(w io.Writer, farm *season.Farm, pages []record.Page) error {
	return printPage(w, "record.txt", farm, pages)
}

// RecordHTML is it as a page to print, in a language.
func RecordHTML(farm *config.Farm, pages []record.Page, lang string) ([]byte, error) {
	return paper.Record{Farm: farm.Name, Zone: farm.Zone, Pages: pages}.HTML(Voice(farm, lang))
}

// RecordJSON is Record for other programs.
func RecordJSON(w io.Writer, farm *season.Farm, year int, pages []record.Page) error {
	paddocks := make([]object, len(pages))
	for i := range pages {
		p := &pages[i]
		stays := make([]object, len(p.Stays))
		for j, s := range p.Stays {
			stays[j] = stayOf(p, s)
		}
		paddocks[i] = object{
			{"id", p.Paddock.ID}, {"name", p.Paddock.Name}, {"acres", p.Paddock.Acres}, {"from", isoDate(p.From)}, {"to", isoDate(p.To.AddDays(-1))},
			{"stays", stays}, {"animal_unit_days", round(p.UnitDays, 10)}, {"animal_unit_days_per_acre", round(p.PerAcre(p.UnitDays), 100)},
			{"gaps", p.Gaps}, {"cutoff", isoDate(p.Cutoff)}, {"rest_days", orNull(p.RestDays)}, {"rest_kept", known(p.RestKept())},
			{"height_at_cutoff_in", orNull(round(p.RestBegan, 100))}, {"leave_kept", known(p.LeaveKept())},
			{"height_at_frost_in", orNull(round(p.AtFrost, 100))},
		}
	}
	return JSON(w, map[string]any{"farm": farm.Name, "year": year, "paddocks": paddocks})
}

func stayOf(p *record.Page, s record.Stay) object {
	var days *int
	var units, unitDays, perAcre *float64
	if s.Counted {
		u, d, a := round(s.Units(), 1000), round(s.UnitDays, 10), round(p.PerAcre(s.UnitDays), 100)
		days, units, unitDays, perAcre = &s.Days, &u, &d, &a
	}
	return object{
		{"on", isoDate(s.On)}, {"off", isoDate(s.Off)}, {"elsewhere", isoDate(s.Elsewhere)}, {"days", days}, {"herd", orNull(s.Herd)}, {"head", orNull(s.Head)},
		{"animal_units", units}, {"animal_unit_days", unitDays}, {"animal_unit_days_per_acre", perAcre},
		{"height_in_in", orNull(round(s.HeightIn, 100))}, {"height_out_in", orNull(round(s.HeightOut, 100))}, {"floor_kept", known(p.FloorKept(s))},
	}
}

func round(x, parts float64) float64 { return math.Round(x*parts) / parts }

// known is an answer as JSON has it: null where nobody knows.
func known(a record.Answer) *bool {
	if a == record.Unknown {
		return nil
	}
	return new(a == record.Yes)
}

var recordHead = strings.Split("paddock,acres,on,off,days,herd,head,animal_units,animal_unit_days,animal_unit_days_per_acre,"+
	"height_in,height_out,rest_days,height_at_frost,leave_kept,floor_kept,said_by,said_at", ",")

// RecordCSV writes it for a spreadsheet, a row a stay; what nobody knows is empty.
func RecordCSV(path string, zone *time.Location, pages []record.Page) error {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	rows := [][]string{recordHead}
	for i := range pages {
		for _, s := range pages[i].Stays {
			rows = append(rows, stayRow(&pages[i], s, zone))
		}
	}
	if err := w.WriteAll(rows); err != nil {
		return err
	}
	return WriteFile(path, b.Bytes())
}

func stayRow(p *record.Page, s record.Stay, zone *time.Location) []string {
	number := func(x float64, parts float64, is bool) string {
		if !is {
			return ""
		}
		return strconv.FormatFloat(round(x, parts), 'f', -1, 64)
	}
	var by, at []string
	for _, said := range s.Said {
		if len(by) == 0 || by[0] != said.By {
			by = append(by, said.By)
		}
		at = append(at, said.At.In(zone).Format(time.RFC3339))
	}
	row := []string{
		p.Paddock.ID, number(p.Paddock.Acres, 100, true), dayCell(s.On), dayCell(s.Off), number(float64(s.Days), 1, s.Counted), s.Herd, number(float64(s.Head), 1, s.Head > 0),
		number(s.Units(), 1000, s.Counted), number(s.UnitDays, 10, s.Counted), number(p.PerAcre(s.UnitDays), 100, s.Counted),
		number(s.HeightIn, 100, s.HeightIn > 0), number(s.HeightOut, 100, s.HeightOut > 0), number(float64(p.RestDays), 1, p.RestDays > 0), number(p.AtFrost, 100, p.AtFrost > 0),
		string(p.LeaveKept()), string(p.FloorKept(s)), strings.Join(by, " / "), strings.Join(at, " / "),
	}
	for i := range row {
		row[i] = plain(row[i])
	}
	return row
}

func dayCell(d civil.Date) string {
	if d.IsZero() {
		return ""
	}
	return d.String()
}
