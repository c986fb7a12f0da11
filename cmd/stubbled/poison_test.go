package main

import (
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"stubbled/cmd/stubbled/report"
)

// TestOnRandomFarmsNobodyIsSentToPoisonAndSafeGroundIsGrazed plays random farms,
// texts and weather through the rehearsal, and holds what was said against coarse
// rules reckoned here from the texts and the nights alone: no GO and no 'put them in'
// where a plant may poison, every held paddock named at once, animals on a hold
// spoken of until they are off; and GO where nothing speaks against it, so that a
// program that always says WAIT fails. STUBBLED_LONG plays a thousand farms.
func TestOnRandomFarmsNobodyIsSentToPoisonAndSafeGroundIsGrazed(t *testing.T) {
	farms := "70"
	if os.Getenv("STUBBLED_LONG") != "" {
		farms = "1000"
	}
	for name, value := range map[string]string{"rapid.checks": farms, "rapid.seed": "20261005", "rapid.shrinktime": "60s", "rapid.nofailfile": "true"} {
		f := flag.Lookup(name)
		if before := f.Value.String(); before == f.DefValue { // what is asked for on the command line stands
			must(t, flag.Set(name, value))
			t.Cleanup(func() { must(t, flag.Set(name, before)) })
		}
	}
	count := map[string]int{}
	rapid.Check(t, func(r *rapid.T) {
		f := drawFall(r)
		beside := map[string]string{"station.csv": f.record()}
		f.said = rehearsedBeside(t, f.file(), f.from, f.to, f.replies(), beside, f.flags()...)
		for _, fault := range slices.Concat(f.sentToPoison(count), f.unnamed(count), f.silent(count)) {
			r.Fatalf("%s\n\nfarm file:\n%s\nflags %q, %s to %s\nnights %v\n%s", fault, f.file(), f.flags(), f.from, f.to, f.cold, f.replies())
		}
	})
	for _, what := range []string{"shut", "GO on ordinary ground", "GO on tall sorghum kin", "GO on fescue with the plant", "GO after a clear", "GO after no frost", "sent somewhere", "named", "spoken of",
		"a frost told after a clear", "brown tops of a frost that nobody saw", "horses on sorghum kin", "an emergency of which nobody said where"} {
		if count[what] == 0 {
			t.Errorf("%s: on none of the farms", what)
		}
	}
	t.Log(count)
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// A fall is one random rehearsal: the farm and the nights of the talks, and texts.
type fall struct {
	talk
	measured bool
	herdOn   map[string]string // where each herd stands at first
	people   []person
	texts    []heard
	said     []report.Message
}

type person struct{ name, role, language string }

// A heard is one text as it was meant.
type heard struct {
	at            time.Time
	by            person
	what, paddock string
	inches        int
	words         string
}

// A ground is a paddock of these farms. Safe heights, in inches, are the larger of the
// published ones: 18 for johnsongrass, 24 for crosses of sorghum (extension sheets).
type ground struct {
	id, name, line string
	hazard         bool
	safe           int // where the sorghum kin is the grass itself
}

// kin reports whether sorghum kin grows there.
func (g ground) kin() bool { return g.hazard }

var grounds = []ground{
	{"creek", "Creek Bottom", "area: 22 acres, grass: eastern gamagrass", false, 0},
	{"hill", "Hill", "area: 30 acres, grass: big bluestem", false, 0},
	{"mill", "Old Mill", "area: 26 acres, grass: tall fescue", false, 0},
	{"lane", "Lane", "area: 30 acres, grass: tall fescue, frost_offset: -5 days, hazard_plants: [johnsongrass]", true, 0},
	{"strip", "Strip", "area: 24 acres, grass: sorghum-sudangrass", true, 24},
	{"jg", "River Piece", "area: 25 acres, grass: johnsongrass", true, 18},
}

// phrases are what people text, by what is meant.
var phrases = map[string]map[string]string{
	"en": {"frost": "frost", "no frost": "no frost", "regrowth": "regrowth %s", "clear": "clear %s", "dry": "dry", "brown": "brown %s",
		"off": "off %s", "on": "on %s cows", "dead": "dead cow in %s", "dead somewhere": "dead cow", "last night": "frost last night", "undo": "undo", "later": "later %s 1d", "plant": "johnsongrass in %s"},
	"es": {"frost": "helada", "no frost": "no helo", "regrowth": "rebrote %s", "clear": "libre %s", "dry": "sequia", "brown": "%s cafe",
		"off": "fuera de %s", "on": "metimos cows a %s", "dead": "vaca muerta en %s", "dead somewhere": "vaca muerta", "last night": "helo anoche", "undo": "deshacer", "later": "luego %s 1d", "plant": "zacate johnson en %s"},
}

func drawFall(r *rapid.T) *fall {
	f := &fall{talk: talk{farm: map[string]string{}, cold: map[string]float64{}}, herdOn: map[string]string{}}
	first, _ := time.Parse(time.DateOnly, rapid.SampledFrom([]string{"2026-05-01", "2026-07-01", "2026-07-02", "2026-09-25", "2026-10-01", "2026-10-20"}).Draw(r, "from"))
	days := rapid.IntRange(8, 30).Draw(r, "days")
	f.from, f.to = first.Format(time.DateOnly), first.AddDate(0, 0, days).Format(time.DateOnly)
	f.station = rapid.SampledFrom([]string{"record", "hand"}).Draw(r, "frost date from")
	f.measured = f.station == "record" && rapid.IntRange(0, 3).Draw(r, "measured") > 0
	language := rapid.SampledFrom([]string{"en", "es"})
	f.people = []person{{"Ana", "manager", language.Draw(r, "Ana")}, {"Luis", "helper", language.Draw(r, "Luis")}, {"Ruth", "owner", "en"}}
	if rapid.Bool().Draw(r, "two managers") {
		f.people = append(f.people, person{"Beto", "manager", language.Draw(r, "Beto")})
	}
	for _, herd := range []string{"cows", "heifers"} {
		f.herdOn[herd] = rapid.SampledFrom(grounds).Draw(r, herd).id
		if rapid.IntRange(0, 5).Draw(r, herd+" nobody knows where") == 0 {
			f.herdOn[herd] = ""
		}
	}
	if first.Month() != time.July && f.measured {
		for range rapid.IntRange(0, 3).Draw(r, "cold nights") {
			f.cold[first.AddDate(0, 0, rapid.IntRange(1, days).Draw(r, "night")).Format(time.DateOnly)] = float64(rapid.IntRange(24, 38).Draw(r, "F"))
		}
	}
	for d := 1; d < days; d += rapid.IntRange(1, 4).Draw(r, "quiet days") {
		at := first.AddDate(0, 0, d).Add(time.Duration(rapid.IntRange(7*60, 20*60).Draw(r, "minute")) * time.Minute)
		cleared := f.draw(r, at)
		if cleared && rapid.Bool().Draw(r, "another night") {
			f.anotherNight(r, at)
		} else if cleared || rapid.IntRange(0, 4).Draw(r, "walk") == 0 {
			f.walk(at.Add(time.Hour))
		}
	}
	slices.SortStableFunc(f.texts, func(a, b heard) int { return a.at.Compare(b.at) })
	f.setSections()
	return f
}

// draw adds a text, or a clear with its letter, and often a reading after it.
func (f *fall) draw(r *rapid.T, at time.Time) (cleared bool) {
	all := []string{"", "", "", "frost", "no frost", "regrowth", "clear", "clear", "dry", "brown", "off", "on", "dead", "dead somewhere", "undo", "later", "plant"}
	what := rapid.SampledFrom(all).Draw(r, "what")
	if at.Month() < 9 && what == "brown" {
		what = ""
	}
	if at.Format("01-02") >= "10-22" && slices.Contains([]string{"later", "off", "undo", "dry"}, what) { // late in the fall the tops are brown
		what = "brown"
	}
	by := rapid.SampledFrom(f.people).Draw(r, "by")
	p := rapid.SampledFrom(append([]ground{grounds[3], grounds[3]}, grounds...)).Draw(r, "paddock")
	if words := phrases[by.language][what]; what != "" {
		if what == "frost" && rapid.Bool().Draw(r, "last night") {
			words = phrases[by.language]["last night"] // of the same night, said otherwise
		}
		f.add(heard{at: at, by: by, what: what, paddock: p.id}, words)
	}
	if what == "clear" {
		f.add(heard{at: at.Add(2 * time.Minute), by: by, what: "a"}, "a")
	}
	if rapid.IntRange(0, 2).Draw(r, "read") > 0 {
		q := rapid.SampledFrom(append([]ground{p, p, p}, grounds...)).Draw(r, "of")
		inches := rapid.SampledFrom([]int{6, 10, 14, 20, 30, 32}).Draw(r, "inches")
		f.read(at.Add(5*time.Minute), by, q, inches)
		if rapid.IntRange(0, 3).Draw(r, "for mares") == 0 {
			mares := map[string]string{"en": "mares", "es": "yeguas"}[by.language]
			f.add(heard{at: at.Add(10 * time.Minute), by: by, what: "read for mares", paddock: q.id, inches: 30}, "%s "+mares+" 30 31 30 31 30 31 30 31 30 31")
		}
	}
	return what == "clear"
}

// anotherNight is a frost told of the morning after a clear, as last night's, and a round.
func (f *fall) anotherNight(r *rapid.T, cleared time.Time) {
	at := cleared.Truncate(dayLong).Add(dayLong + 6*time.Hour + 45*time.Minute)
	by := rapid.SampledFrom(f.people).Draw(r, "tells of it")
	f.add(heard{at: at, by: by, what: "frost"}, phrases[by.language]["last night"])
	f.walk(at.Add(5 * time.Minute))
}

// walk is the first manager's round of tall ground.
func (f *fall) walk(at time.Time) {
	for i, g := range grounds {
		f.read(at.Add(time.Duration(i)*time.Minute), f.people[0], g, 30)
	}
}

// read adds ten plants; fescue is never taller than its leaves grow.
func (f *fall) read(at time.Time, by person, g ground, inches int) {
	if g.id == "lane" || g.id == "mill" {
		inches = min(inches, 14)
	}
	plants := strings.Repeat(fmt.Sprintf(" %d %d", inches, inches+1), 5)
	f.add(heard{at: at, by: by, what: "read", paddock: g.id, inches: inches}, "%s"+plants)
}

func (f *fall) add(h heard, words string) {
	h.words = words
	if strings.Contains(words, "%s") {
		h.words = fmt.Sprintf(words, h.paddock)
	} else {
		h.paddock = ""
	}
	f.texts = append(f.texts, h)
}

func (f *fall) setSections() {
	var paddocks, contacts strings.Builder
	for _, g := range grounds {
		fmt.Fprintf(&paddocks, "  - {id: %s, name: %s, %s}\n", g.id, g.name, g.line)
	}
	for i, p := range f.people {
		fmt.Fprintf(&contacts, "  - {name: %s, role: %s, phone: \"+1555555014%d\", language: %s, quiet: \"21:00-06:00\"}\n", p.name, p.role, i+2, p.language)
	}
	f.farm["paddocks"], f.farm["contacts"] = paddocks.String(), contacts.String()
	where := func(herd string) string {
		if f.herdOn[herd] == "" {
			return ""
		}
		return ", paddock: " + f.herdOn[herd]
	}
	f.farm["herds"] = fmt.Sprintf("  - {id: cows, head: 38, kind: cow with calf, weight: 1300 lb, calving: march%s}\n"+
		"  - {id: heifers, head: 16, kind: \"cattle, 1 yr\", weight: 700 lb%s}\n"+
		"  - {id: mares, head: 2, kind: horse, weight: 1100 lb, paddock: mill}\n", where("cows"), where("heifers"))
}

func (f *fall) replies() string {
	var b strings.Builder
	for _, h := range f.texts {
		fmt.Fprintf(&b, "%s %s: %s\n", h.at.Format("2006-01-02T15:04"), h.by.name, h.words)
	}
	return b.String()
}

func (f *fall) flags() []string {
	if f.measured {
		return nil
	}
	return []string{"--weather", "none"}
}

// wall is the time on the farm's clock, as the texts of these farms have it.
func wall(m report.Message) time.Time {
	at, _ := time.Parse("2006-01-02T15:04", m.At[:16])
	return at
}

// ever gives the texts of a meaning before a moment, on a paddock or on any.
func (f *fall) ever(until time.Time, paddock string, what ...string) (all []heard) {
	for _, h := range f.texts {
		if h.at.Before(until) && slices.Contains(what, h.what) && (paddock == "" || h.paddock == "" || h.paddock == paddock) {
			all = append(all, h)
		}
	}
	return all
}
