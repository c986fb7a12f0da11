package rehearsal

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/config"
)

// largeFarm is an invented farm of so many paddocks.
func largeFarm(b testing.TB, paddocks int) *config.Farm {
	b.Helper()
	var y strings.Builder
	y.WriteString("farm: {name: Quail Fork, timezone: America/Chicago}\nfrost: {date: 10-16, spread: 10 days}\npaddocks:\n")
	for i := range paddocks {
		fmt.Fprintf(&y, "  - {id: p%d, name: Pasture %d, area: 20 acres, grass: big bluestem}\n", i, i)
	}
	y.WriteString("herds:\n  - {id: cows, head: 38, kind: cow with calf, weight: 1300 lb, calving: march, paddock: p0}\n" +
		"contacts:\n  - {name: Ana, role: manager, phone: \"+15555550142\", language: en}\n" +
		"  - {name: Luis, role: helper, phone: \"+15555550143\", language: es}\n")
	farm, err := config.Load(farmtest.File(b, y.String()))
	if err != nil {
		b.Fatal(err)
	}
	return farm
}

// Three springs are played as the first is, the same to the byte each time, and the
// manager hears in the third too that the machine lives.
func TestYearsAreRehearsedTheSameTwice(t *testing.T) {
	text := farmtest.Text[:strings.Index(farmtest.Text, "herds:")] + farmtest.Text[strings.Index(farmtest.Text, "contacts:"):]
	play := func() string {
		farm, err := config.Load(farmtest.File(t, text))
		if err != nil {
			t.Fatal(err)
		}
		return said(t, Options{Farm: farm, From: "2026-04-01", To: "2029-06-20", JSON: true})
	}
	first := play()
	for _, month := range []string{"2027-05", "2028-05", "2029-05", "2029-06"} {
		if !regexp.MustCompile(`"at":"` + month + `[^\n]*"sign-of-life"`).MatchString(first) {
			t.Errorf("in %s there is no sign of life", month)
		}
	}
	if play() != first {
		t.Error("three years are not the same the second time")
	}
}

// talk is so many texts a year, from May to November: readings, moves, questions.
func talk(paddocks, years, texts int) []line {
	forms := []string{"p%d 9 8 10 12", "on p%d cows", "off p%d", "p%d?", "p%d 14 12 13", "status"}
	var all []line
	for year := range years {
		from := time.Date(2026+year, time.May, 1, 13, 0, 0, 0, time.UTC)
		for i := range texts {
			form := forms[i%len(forms)]
			if strings.Contains(form, "%") {
				form = fmt.Sprintf(form, i/len(forms)*7%paddocks)
			}
			at := from.Add(time.Duration(i) * 200 * 24 * time.Hour / time.Duration(texts))
			all = append(all, line{at: at, sent: at, name: []string{"Ana", "Luis"}[i%2], text: form})
		}
	}
	return all
}

// processor is the time that this program used so far.
func processor() time.Duration {
	var u syscall.Rusage
	_ = syscall.Getrusage(syscall.RUSAGE_SELF, &u) // its own never fails
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// BenchmarkYearsOfALargeFarm plays years of texts on a farm of many paddocks,
// one night's copying and forgetting a month, and tells what is left: the
// file, the live heap, the last year's processor time over the first's, and how
// long a new start takes to its first answer, in processor time. STUBBLED_YEARS
// says how large: 200,10,5000 is 200 paddocks for ten years of 5,000 texts each.
func BenchmarkYearsOfALargeFarm(b *testing.B) {
	paddocks, years, texts := 20, 2, 100
	if size := os.Getenv("STUBBLED_YEARS"); size != "" {
		if _, err := fmt.Sscanf(size, "%d,%d,%d", &paddocks, &years, &texts); err != nil {
			b.Fatalf("STUBBLED_YEARS=%q: want paddocks, years and texts a year, such as 200,10,5000", size)
		}
	}
	for b.Loop() {
		playYears(b, paddocks, years, texts)
	}
}

func playYears(b *testing.B, paddocks, years, texts int) {
	farm := largeFarm(b, paddocks)
	p, err := newPlay(b.Context(), Options{Farm: farm, From: "2026-03-01", To: fmt.Sprintf("%d-02-28", 2026+years), Out: io.Discard})
	if err != nil {
		b.Fatal(err)
	}
	defer p.close()
	p.script = talk(paddocks, years, texts)
	took := make([]time.Duration, years)
	begun := p.from
	for month := range 12 * years {
		p.from, p.until = begun.AddDate(0, month, 0), begun.AddDate(0, month+1, 0)
		start := processor()
		if err := p.run(b.Context()); err != nil {
			b.Fatal(err)
		}
		took[month/12] += processor() - start
		if _, err := p.store.Nightly(b.Context(), filepath.Join(p.dir, "copies"), civil.DateOf(p.until), p.until); err != nil {
			b.Fatal(err)
		}
	}
	var m runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&m)
	b.ReportMetric(float64(m.HeapAlloc)/1e6, "MB-heap")
	b.ReportMetric(float64(took[years-1])/float64(took[0]), "last-year/first")
	b.ReportMetric(took[0].Seconds()*1000/float64(texts), "ms/text")
	startAnew(b, p)
}

// startAnew closes the database and times a new start on it, to the first answer.
func startAnew(b *testing.B, p *play) {
	path := p.store.Path()
	if err := p.store.Close(); err != nil {
		b.Fatal(err)
	}
	info, err := os.Stat(path)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(float64(info.Size())/1e6, "MB-file")
	start := processor()
	p.from, p.until = p.until, p.until.Add(time.Minute)
	if err := p.start(b.Context()); err != nil {
		b.Fatal(err)
	}
	p.script = []line{{at: p.from, sent: p.from, name: "Ana", text: "p1 9 8 10 12"}}
	if err := p.run(b.Context()); err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(float64((processor() - start).Milliseconds()), "ms-to-first-answer")
}
