package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/notify/reply"
	"stubbled/scheduler/diary"
)

// testDay is the day that all judged texts were sent on.
var testDay = civil.Date{Year: 2026, Month: time.October, Day: 26}

// A farm is one of the farms of the texts.
type farm struct {
	reader *reply.Reader
	people map[string]reply.Who
}

var known = map[string]*farm{}

// farmOf reads a farm; the form stands at the head of fork.farm.tsv.
func farmOf(name string) (*farm, error) {
	if f := known[name]; f != nil {
		return f, nil
	}
	text, err := os.ReadFile(filepath.Join(farms, name+".farm.tsv"))
	if err != nil {
		return nil, err
	}
	var places []reply.Place
	var herds []reply.Herd
	units := reply.Inches
	f := &farm{people: map[string]reply.Who{}}
	list := func(s string) []string { return strings.Split(strings.TrimPrefix(s, "-"), ";") }
	for line := range strings.Lines(string(text)) {
		c := strings.Split(strings.TrimRight(line, "\n"), "\t")
		switch c[0] {
		case "units":
			units = reply.Centimetres
		case "paddock":
			places = append(places, reply.Place{ID: c[1], Name: c[2], Aliases: list(c[3])})
		case "herd":
			head, _ := strconv.Atoi(c[3])
			herds = append(herds, reply.Herd{ID: c[1], Kind: c[2], Head: head, Names: list(c[4])})
		case "person":
			f.people[c[1]] = reply.Who{Name: c[1], Language: c[2], Manager: c[3] == "manager"}
		}
	}
	f.reader = reply.New(places, herds, units)
	known[name] = f
	return f, nil
}

// A text is one line of a file of judged texts.
type text struct {
	farm, who, context, text string
	any                      [][]wanted
	tags                     []string
}

// A wanted is one fact of an outcome.
type wanted struct {
	K, P string
	H    []float64
	Date any
}

// readTexts reads a file in the form of sample.tsv.
func readTexts(path string) ([]text, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	var list []text
	on := "quail"
	for line := range strings.Lines(string(data)) {
		line = strings.TrimRight(line, "\n")
		if name, ok := strings.CutPrefix(line, "# farm: "); ok {
			on = name
		}
		c := strings.Split(line, "\t")
		if strings.HasPrefix(line, "#") || len(c) != 6 || c[0] == "id" {
			continue
		}
		var e struct{ Any [][]wanted }
		if err := json.Unmarshal([]byte(c[4]), &e); err != nil {
			return nil, fmt.Errorf("%s: %s: %w", path, c[0], err)
		}
		said, err := strconv.Unquote(`"` + strings.ReplaceAll(c[3], `"`, `\"`) + `"`)
		if err != nil {
			said = c[3]
		}
		list = append(list, text{on, c[1], c[2], said, e.Any, strings.Split(c[5], ",")})
	}
	return list, nil
}

// meant reports whether the facts of a clause stand together in an outcome. It
// is not told where a text tells something, and one may ask about it too.
func (t text) meant(facts []diary.Fact) (meant, told bool) {
	for _, outcome := range t.any {
		all := true
		for _, f := range facts {
			found := false
			for _, w := range outcome {
				found = found || same(f, w)
			}
			all = all && found
		}
		if all {
			return true, len(t.any) == 1
		}
	}
	return false, true
}

func same(f diary.Fact, w wanted) bool {
	if string(f.Kind) != w.K || f.Paddock != w.P || len(f.Heights) != len(w.H) {
		return false
	}
	for i := range w.H {
		if math.Abs(f.Heights[i]-w.H[i]) > 0.02 {
			return false
		}
	}
	switch d := w.Date.(type) {
	case float64:
		return f.Day == testDay.AddDays(int(d))
	case string:
		return strings.HasSuffix(f.Day.String(), d)
	}
	return !f.Kind.Recorded() || f.Day == testDay
}

// readTable reads the cells of a table by lines, its comments among them.
func readTable(path string) (lines [][]string, err error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	for line := range strings.Lines(string(data)) {
		if !strings.HasPrefix(line, "#") {
			lines = append(lines, strings.Split(strings.TrimRight(line, "\n"), "\t"))
		}
	}
	return lines, nil
}

// writeTable writes a table below the comments that its file has.
func writeTable(path string, lines [][]string) error {
	data, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	var b strings.Builder
	for line := range strings.Lines(string(data)) {
		if strings.HasPrefix(line, "#") {
			b.WriteString(line)
		}
	}
	for _, l := range lines {
		b.WriteString(strings.Join(l, "\t") + "\n")
	}
	return os.WriteFile(path, []byte(b.String()), 0o644)
}
