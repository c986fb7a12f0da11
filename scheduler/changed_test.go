package scheduler

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// A sending is one herd's next ground as one message has it, and whether it says why.
type sending struct {
	at           time.Time
	to, herd     string
	ground, kind string
	also         []leg // the ways that it tells of the same herd
	why          *season.Change
}

type leg struct {
	ground string
	out    civil.Date
}

// sendings are the herds that what was said sends somewhere, read off its facts.
func (k *talk) sendings(said []line) (all []sending) {
	for _, l := range said {
		var stops []ladder.Stop
		var changed []season.Change
		var moves []ladder.Sends
		switch f := l.Notice.Facts.(type) {
		case *ladder.FarmFacts:
			stops, changed = f.Pass, f.Changed
			for _, s := range f.Shuts {
				moves = append(moves, s.Sends)
			}
		case *ladder.AskedFacts:
			stops, changed = f.Pass, f.Changed
		}
		legs, herds := map[string][]leg{}, []string{}
		for _, s := range stops {
			for _, h := range s.Herds {
				if s.Unproved {
					continue
				}
				if legs[h] == nil {
					herds = append(herds, h)
				}
				legs[h] = append(legs[h], leg{s.Name, s.Out})
			}
		}
		if on := ladder.OnPaddock(l.Notice.Facts); on != nil {
			moves = append(moves, on.Sends)
		}
		for _, s := range moves {
			changed = append(changed, s.Changed...)
			for _, h := range s.Herds {
				if len(s.MoveTo) > 0 {
					herds, legs[h] = append(herds, h), append([]leg{{ground: s.MoveTo[0]}}, legs[h]...)
				}
			}
		}
		at := l.at.In(k.farm.Zone)
		for _, h := range herds {
			for _, way := range legs[h] {
				if k.been(h, way.ground, at, at) || !way.out.IsZero() && !way.out.After(civil.DateOf(at)) {
					continue
				}
				s := sending{at: at, to: l.Notice.To, herd: h, ground: way.ground, kind: string(l.Notice.Kind), also: legs[h]}
				if i := slices.IndexFunc(changed, func(c season.Change) bool { return slices.Contains(c.Herds, h) }); i >= 0 {
					s.why = &changed[i]
				}
				all = append(all, s)
				break
			}
		}
	}
	return all
}

// been reports whether a herd stood on a ground at any time from since to at.
func (k *talk) been(herd, name string, since, at time.Time) bool {
	stood := map[string]string{}
	for _, h := range k.farm.Herds {
		stood[h.ID] = h.Paddock
	}
	is := func(id string) bool { p, ok := k.farm.Paddock(id); return ok && p.Name == name }
	was := false
	for _, f := range k.facts() {
		switch {
		case f.At.After(at):
		case f.Kind == diary.On && f.Herd == herd:
			stood[herd] = f.Paddock
			was = was || is(f.Paddock) && f.At.After(since)
		case f.Kind == diary.Off && f.Paddock == stood[herd] && (f.Herd == "" || f.Herd == herd):
			stood[herd] = ""
		}
	}
	return was || is(stood[herd])
}

// TestNoTwoTextsOfAWeekSendAHerdElsewhereWithoutWhy plays the demo farm with its texts and
// without any, and random farms that are invented, and holds each message to those of the
// seven days before.
func TestNoTwoTextsOfAWeekSendAHerdElsewhereWithoutWhy(t *testing.T) {
	sent, changed, causes := 0, 0, map[string]int{}
	check := func(name string, k *talk, said []line) {
		t.Helper()
		all := k.sendings(said)
		for i, s := range all {
			sent++
			differ, told := false, false
			for j := i - 1; j >= 0 && s.at.Sub(all[j].at) < 7*24*time.Hour; j-- {
				b := all[j]
				if b.herd != s.herd || b.at.Equal(s.at) {
					continue
				}
				for _, way := range b.also {
					if !way.out.IsZero() && !way.out.After(civil.DateOf(s.at)) || k.been(s.herd, way.ground, b.at, s.at) {
						continue
					}
					told, differ = true, way.ground != s.ground
					break
				}
				if told || b.why != nil {
					break
				}
			}
			if s.why != nil {
				changed++
				cause := string(s.why.Why)
				if s.why.Fact != nil && cause == "" {
					cause = "fact " + string(s.why.Fact.Kind)
				}
				causes[cause]++
			}
			switch {
			case differ && s.why == nil:
				t.Errorf("%s, %s: %s tells %s that %s go to %s, and nothing says why it is another ground", name, s.at.Format("Jan 2 15:04"), s.kind, s.to, s.herd, s.ground)
			case s.why != nil && !differ:
				t.Errorf("%s, %s: %s says that %s were sent to %s before (%+v), and nobody was", name, s.at.Format("Jan 2 15:04"), s.kind, s.herd, s.why.Was, *s.why)
			}
		}
	}
	replies, err := os.ReadFile("../cmd/stubbled/rehearsal/demo/replies.txt")
	if err != nil {
		t.Fatal(err)
	}
	demo, err := os.ReadFile("../config/demo/quail-fork.yaml")
	if err != nil {
		t.Fatal(err)
	}
	station, err := filepath.Abs("../config/demo/quail-fork.csv")
	if err != nil {
		t.Fatal(err)
	}
	farm := strings.Replace(string(demo), "station: quail-fork.csv", "station: "+station, 1)
	for name, texts := range map[string]string{"the demo": string(replies), "the demo where nobody answers": ""} {
		k := newTalk(t, farm)
		check(name, k, k.season(texts))
	}
	for seed := range uint64(4) {
		rng := rand.New(rand.NewPCG(seed, 1))
		k := newTalk(t, randomFarm(rng))
		check(fmt.Sprint("random farm ", seed), k, k.season(randomTexts(rng, k)))
	}
	if sent < 100 || changed < 3 {
		t.Errorf("only %d messages send a herd anywhere, %d say why", sent, changed)
	}
	t.Logf("%d messages send a herd somewhere, %d say why it is another ground: %v", sent, changed, causes)
}

// Frost bids nobody from one cool-season ground to the other: as long as they can go
// where they were sent before, that stays first, whatever happened meanwhile, and no
// ground is offered beside the word that they are not sent there any more.
func TestGroundToldBeforeStaysTheFirstWhateverHappenedElsewhere(t *testing.T) {
	_, people, _ := strings.Cut(talkFarm, "contacts:\n")
	k := newTalk(t, `farm: {name: Long Acre, timezone: America/Chicago}
frost: {date: 10-15, spread: 8 days}
paddocks:
  - {id: east, name: East Native, area: 12 acres, grass: upland switchgrass}
  - {id: west, name: West Native, area: 14 acres, grass: big bluestem}
  - {id: lot, name: Lot, area: 10 acres, grass: tall fescue}
  - {id: brome, name: Brome, area: 20 acres, grass: smooth brome}
herds:
  - {id: mares, head: 8, kind: horse, paddock: west}
contacts:
`+people)
	sent := 0
	for _, l := range k.season(`2026-09-01T08:00 Ana: took the horses off west, on lot now
2026-09-20T08:00 Ana: lot 3 4 3 4 3 3 4 3 4 3
2026-09-21T08:00 Ana: mares on east
2026-10-07T08:00 Ana: frost
2026-10-11T08:00 Ana: frost
`) {
		on := ladder.OnPaddock(l.Notice.Facts)
		if on == nil || l.at.Before(k.when("2026-09-21 12:00")) || len(on.MoveTo) == 0 || on.Paddock != "east" {
			continue
		}
		if sent++; on.MoveTo[0] != "Brome" || len(on.Changed) > 0 {
			t.Errorf("%s: they go to %v, changed by %+v", l.at, on.MoveTo, on.Changed)
		}
	}
	if sent < 5 {
		t.Errorf("they are sent %d times", sent)
	}
}

// season plays June 20 to Dec 1 with texts in the form of a replies file.
func (k *talk) season(texts string) (said []line) {
	turns := []string{"06:30", "07:00", "12:30"}
	day, at := civil.Date{Year: 2026, Month: 6, Day: 20}, 0
	until := func(end time.Time) {
		for {
			now := day.String() + " " + turns[at]
			if !k.when(now).Before(end) {
				return
			}
			said = append(said, k.turn(now)...)
			if at++; at == len(turns) {
				day, at = day.AddDays(1), 0
			}
		}
	}
	end := k.when("2026-12-01 00:00")
	for row := range strings.Lines(texts) {
		stamp, rest, ok := strings.Cut(strings.TrimSpace(row), " ")
		at, err := time.ParseInLocation("2006-01-02T15:04", stamp, k.farm.Zone)
		if !ok || err != nil || at.After(end) {
			continue
		}
		until(at)
		name, words, _ := strings.Cut(rest, ": ")
		said = append(said, k.text(at.Format("2006-01-02 15:04"), name, words)...)
	}
	until(end)
	return said
}

var someGrass = []string{"big bluestem", "eastern gamagrass", "switchgrass", "little bluestem", "tall fescue", "mixed natives"}

// randomFarm is an invented farm of four to eight paddocks and one or two herds.
func randomFarm(rng *rand.Rand) string {
	var b strings.Builder
	b.WriteString("farm: {name: Quail Fork, timezone: America/Chicago}\nfrost: {date: 10-16, spread: 10 days}\npaddocks:\n")
	paddocks := 4 + rng.IntN(5)
	for i := range paddocks {
		grass := someGrass[rng.IntN(len(someGrass))]
		if i < 2 {
			grass = []string{"big bluestem", "tall fescue"}[i]
		}
		fmt.Fprintf(&b, "  - {id: p%d, name: Pasture %c, area: %d acres, grass: %s, frost_offset: %d days", i, 'A'+i, 10+rng.IntN(40), grass, -rng.IntN(12))
		if rng.IntN(5) == 0 {
			b.WriteString(", hazard_plants: [johnsongrass]")
		}
		b.WriteString("}\n")
	}
	b.WriteString("herds:\n")
	for i := range 1 + rng.IntN(2) {
		fmt.Fprintf(&b, "  - {id: herd%d, head: %d, kind: cow with calf, weight: 1200 lb, calving: march, paddock: p%d}\n", i, 15+rng.IntN(30), i)
	}
	_, people, _ := strings.Cut(talkFarm, "contacts:\n")
	return b.String() + "contacts:\n" + people
}

// randomTexts are a fall's: heights every few days, and herds that go where their owner
// pleases.
func randomTexts(rng *rand.Rand, k *talk) string {
	var b strings.Builder
	for day := (civil.Date{Year: 2026, Month: 7, Day: 1}); day.Month < 11; day = day.AddDays(1 + rng.IntN(7)) {
		p := k.farm.Paddocks[rng.IntN(len(k.farm.Paddocks))].ID
		fmt.Fprintf(&b, "%sT%02d:10 ", day, 7+rng.IntN(11))
		switch rng.IntN(4) {
		case 0:
			fmt.Fprintf(&b, "Ana: on %s %s\n", p, k.farm.Herds[rng.IntN(len(k.farm.Herds))].ID)
		case 1:
			b.WriteString("Ana: where next\n")
		default:
			b.WriteString("Ana: " + p + strings.Repeat(fmt.Sprint(" ", 5+rng.IntN(14)), 10) + "\n")
		}
	}
	return b.String()
}
