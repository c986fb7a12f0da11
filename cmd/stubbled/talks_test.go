package main

import (
	"bufio"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"stubbled/cmd/stubbled/report"
)

// TestTheTalks plays every talk under testdata/talks: a farm, its weather, the
// texts that people send, and what must and must not be answered. The talks were
// written from the rules of the trade and not from what the program says; their
// form stands at the head of the first file.
func TestTheTalks(t *testing.T) {
	files, err := filepath.Glob("testdata/talks/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no talks: %v", err)
	}
	for _, f := range files {
		for _, k := range talksOf(t, f) {
			t.Run(k.title, func(t *testing.T) {
				t.Parallel()
				k.play(t)
				switch {
				case k.open && len(k.faults) == 0:
					t.Errorf("%s: it holds now: write == in place of =~", k.where)
				case !k.open:
					for _, f := range k.faults {
						t.Error(f)
					}
				}
			})
		}
	}
}

// A talk is one rehearsal and what is asked of it.
type talk struct {
	title, where  string
	open          bool // it does not hold yet
	faults        []string
	farm          map[string]string // sections of the farm file that differ
	station       string            // hand, record, or the day on which the record stops
	cold          map[string]float64
	from, to      string
	lines, checks []talkLine
}

// A talkLine is a text with what its answer must be, or a check of what was said
// unasked.
type talkLine struct {
	n     int
	text  string
	wants []string
}

// talksOf reads a file of talks.
func talksOf(t *testing.T, path string) (all []*talk) {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	var k *talk
	var last *talkLine
	scan := bufio.NewScanner(file)
	for n := 1; scan.Scan(); n++ {
		line := scan.Text()
		word, rest, _ := strings.Cut(strings.TrimSpace(line), " ")
		switch {
		case line == "" || line[0] == '#':
		case word == "==" || word == "=~":
			k = &talk{title: rest, open: word == "=~", where: fmt.Sprintf("%s:%d", path, n), farm: map[string]string{}, station: "hand", cold: map[string]float64{}}
			all = append(all, k)
		case line[0] == ' ':
			last.wants = append(last.wants, strings.TrimSpace(line))
		case word == "weather:":
			k.station = rest
		case word == "low:":
			k.lows(t, rest)
		case word == "play:":
			k.from, k.to, _ = strings.Cut(rest, " to ")
		case word == "check:":
			k.checks = append(k.checks, talkLine{n: n, text: rest})
			last = &k.checks[len(k.checks)-1]
		case strings.HasSuffix(word, ":"):
			k.farm[strings.TrimSuffix(word, ":")] += "  " + rest + "\n"
		default:
			k.lines = append(k.lines, talkLine{n: n, text: line})
			last = &k.lines[len(k.lines)-1]
		}
	}
	return all
}

// lows reads nights with their minimum: 2026-10-05 31F.
func (k *talk) lows(t *testing.T, text string) {
	t.Helper()
	cells := strings.Fields(text)
	for i := 0; i+1 < len(cells); i += 2 {
		f, err := strconv.ParseFloat(strings.TrimSuffix(cells[i+1], "F"), 64)
		if err != nil {
			t.Fatalf("%s: %v", k.where, err)
		}
		k.cold[cells[i]] = f
	}
}

// sections are the invented farm of the talks; a talk may have its own herds,
// contacts, rest or paddocks.
var sections = map[string]string{
	"paddocks": `  - {id: creek, name: Creek Bottom, aliases: [cb], area: 22 acres, grass: eastern gamagrass}
  - {id: hill, name: Hill, area: 18 acres, grass: little bluestem}
  - {id: ind, name: South Prairie, aliases: [sp], area: 20 acres, grass: indiangrass}
  - {id: lane, name: Lane, area: 30 acres, grass: tall fescue, hazard_plants: [johnsongrass]}
  - {id: mill, name: Old Mill, area: 26 acres, grass: tall fescue}
  - {id: strip, name: Strip, aliases: [ss], area: 12 acres, grass: sorghum-sudangrass}
  - {id: jg, name: River Piece, aliases: [rp], area: 15 acres, grass: johnsongrass}
  - {id: alf, name: Alfalfa Flat, aliases: [af], area: 10 acres, grass: alfalfa}
  - {id: grove, name: Grove, area: 14 acres, grass: tall fescue, hazard_plants: [wild cherry]}
`,
	"herds": `  - {id: cows, head: 38, kind: cow with calf, weight: 1300 lb, calving: march, paddock: creek}
  - {id: heifers, head: 16, kind: "cattle, 1 yr", weight: 700 lb, paddock: mill}
`,
	"contacts": `  - {name: Ana, role: manager, phone: "+15555550142", language: en, quiet: "21:00-06:00"}
  - {name: Luis, role: helper, phone: "+15555550143", language: es}
  - {name: Ruth, role: owner, phone: "+15555550144", language: en, quiet: "20:30-07:00"}
`,
	"rest": "  ends_at: 28F\n",
}

func (k *talk) file() string {
	frost := "{date: 10-18, spread: 10 days}"
	if k.station != "hand" {
		frost = "{station: station.csv, threshold: 32F, plan_on: average}"
	}
	text := "farm: {name: Talking Farm, timezone: America/Chicago}\nfrost: " + frost + "\n"
	for name, usual := range sections {
		if own, ok := k.farm[name]; ok {
			usual = own
		}
		text += name + ":\n" + usual
	}
	return text
}

// record is an invented station's: 36 F on Oct 2, 32 F on Oct 14 and 28 F on Oct
// 26, give or take eight days, and in 2026 the nights of the talk.
func (k *talk) record() string {
	var b strings.Builder
	b.WriteString("date,tmin_c,tmax_c,rain_mm\n")
	last := "2026-12-31"
	if k.station != "record" {
		last = k.station
	}
	for y := 1994; y <= 2026; y++ {
		off := (y*5)%17 - 8
		for d := time.Date(y, 1, 1, 0, 0, 0, 0, time.UTC); d.Year() == y; d = d.AddDate(0, 0, 1) {
			day := d.Format("2006-01-02")
			if day > last {
				break
			}
			low := 50.0
			switch since := d.YearDay() - off; {
			case y == 2026:
				if f, ok := k.cold[day]; ok {
					low = f
				}
			case since == 275 || since == 280:
				low = 35.5
			case since == 287 || since == 292:
				low = 31
			case since == 299 || since == 306 || since == 320:
				low = 26
			}
			high := 88 - 0.5*max(0, float64(d.YearDay()-240))
			fmt.Fprintf(&b, "%s,%.1f,%.1f,3.0\n", day, (low-32)/1.8, (high-32)/1.8)
		}
	}
	return b.String()
}

func (k *talk) play(t *testing.T) {
	var texts strings.Builder
	for _, l := range k.lines {
		texts.WriteString(l.text + "\n")
	}
	beside := map[string]string{}
	if k.station != "hand" {
		beside["station.csv"] = k.record()
	}
	var more []string
	if k.station != "hand" && k.station != "record" {
		more = []string{"--weather", "none"} // else a middling fall is played from where the record stops
	}
	said := rehearsedBeside(t, k.file(), k.from, k.to, texts.String(), beside, more...)
	for _, l := range k.lines {
		k.judge(t, l, answersTo(said, l.text))
	}
	for _, c := range k.checks {
		days, rest, _ := strings.Cut(c.text, " ")
		who, _, _ := strings.Cut(rest, " ")
		from, to, _ := strings.Cut(days, "..")
		if to == "" {
			to = from
		}
		k.judge(t, c, between(said, from, to, who))
	}
}

// answersTo gives the answers in the minute of a text to the one who sent it.
func answersTo(said []report.Message, line string) (all []report.Message) {
	at, rest, _ := strings.Cut(line, " ")
	who, _, _ := strings.Cut(rest, ":")
	for _, s := range said {
		if s.To == who && strings.HasPrefix(s.At, at) && strings.HasPrefix(string(s.Kind), "answer") {
			all = append(all, s)
		}
	}
	return all
}

// between gives what was said unasked to somebody, or to anybody, from a day or
// minute to another.
func between(said []report.Message, from, to, who string) (all []report.Message) {
	for _, s := range said {
		at := s.At[:16]
		if (who == "*" || s.To == who) && !strings.HasPrefix(string(s.Kind), "answer") && at >= from && at[:min(len(at), len(to))] <= to {
			all = append(all, s)
		}
	}
	return all
}

// judge holds what was said against what is wanted: says and never (expressions,
// whatever the case), verdict, action, facts, count.
func (k *talk) judge(t *testing.T, l talkLine, said []report.Message) {
	var words []string
	for _, s := range said {
		words = append(words, s.Text)
	}
	all := strings.Join(words, "\n")
	for _, w := range l.wants {
		word, arg, _ := strings.Cut(w, " ")
		ok := false
		switch word {
		case "says":
			ok = regexp.MustCompile(`(?i)` + arg).MatchString(all)
		case "never":
			ok = !regexp.MustCompile(`(?i)` + arg).MatchString(all)
		case "verdict":
			ok = len(said) > 0 && said[0].Verdict != nil && *said[0].Verdict == arg || arg == "none" && len(said) > 0 && said[0].Verdict == nil
		case "action":
			ok = len(said) > 0 && said[0].Action == arg
		case "facts":
			ok = len(said) > 0 && arg == factsSaid(said[0])
		case "atleast":
			n, _ := strconv.Atoi(arg)
			ok = len(said) >= n
		case "atmost":
			n, _ := strconv.Atoi(arg)
			ok = len(said) <= n
		case "gap": // the longest time between two texts of the days, in hours
			h, _ := strconv.ParseFloat(arg, 64)
			ok = longestGap(said) <= h
		default:
			t.Fatalf("%s: what is %q?", k.where, word)
		}
		if !ok {
			k.faults = append(k.faults, fmt.Sprintf("%s: %s\n  want %s\n  got %s", k.where, l.text, w, strings.ReplaceAll(all, "\n", "\n      ")))
		}
	}
}

func factsSaid(s report.Message) string {
	var all []string
	for _, f := range s.Facts {
		all = append(all, strings.TrimSuffix(string(f.Kind)+" "+f.Paddock, " "))
	}
	return strings.Join(all, ", ")
}

// longestGap is the longest time between two texts by day, from 6 to 21.
func longestGap(said []report.Message) float64 {
	longest := 0.0
	for i := 1; i < len(said); i++ {
		a, _ := time.Parse(time.RFC3339, said[i-1].At)
		b, _ := time.Parse(time.RFC3339, said[i].At)
		hours := b.Sub(a).Hours()
		if a.YearDay() != b.YearDay() {
			hours -= 9
		}
		longest = max(longest, hours)
	}
	return longest
}
