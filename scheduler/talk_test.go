package scheduler

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"stubbled/config"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// talkFarm is an invented farm with a frost by hand: Oct 16, 45 days, cutoff
// Sep 1 (common practice).
const talkFarm = `
farm: {name: Quail Fork, timezone: America/Chicago}
frost: {date: 10-16}
paddocks:
  - {id: creek, name: Creek Bottom, aliases: [cb], area: 22 acres, grass: eastern gamagrass}
  - {id: hill, name: Hill, area: 20 acres, grass: big bluestem}
  - {id: mill, name: Mill, area: 20 acres, grass: big bluestem}
  - {id: lane, name: Lane, area: 30 acres, grass: tall fescue, hazard_plants: [johnsongrass]}
herds:
  - {id: cows, head: 38, kind: cow with calf, weight: 1300 lb, calving: march, paddock: creek}
  - {id: heifers, head: 20, kind: cow with calf, weight: 900 lb, calving: march, paddock: hill}
contacts:
  - {name: Ana, role: manager, phone: "+15555550142", email: Ana@Example.org, quiet: "21:00-06:00"}
  - {name: Luis, role: helper, phone: "+15555550143", language: es}
  - {name: Ruth, role: owner, phone: "+15555550144"}
`

// A talk is a farm's scheduler and store, whose messages all arrive at once.
type talk struct {
	t     *testing.T
	farm  *config.Farm
	store *store.Store
	sched *Scheduler
	texts int
}

// A line is one notice that was said.
type line struct {
	store.Message
	ladder.Notice
	at time.Time // when it was said
}

func (l line) String() string {
	return fmt.Sprintf("%s %s %s", l.Notice.To, l.Notice.Kind, l.Notice.About().Paddock)
}

func newTalk(t *testing.T, farmText string) *talk {
	t.Helper()
	path := filepath.Join(t.TempDir(), "farm.yaml")
	if err := os.WriteFile(path, []byte(farmText), 0o600); err != nil {
		t.Fatal(err)
	}
	farm, err := config.Load(path)
	if err != nil {
		t.Fatal(err)
	}
	s, err := store.Open(t.Context(), filepath.Join(t.TempDir(), "farm.db"), store.Options{RunID: "talk", Now: time.Date(2026, 6, 1, 0, 0, 0, 0, time.UTC)})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return &talk{t: t, farm: farm, store: s, sched: New(Options{Store: s, Farm: farm})}
}

func (k *talk) when(text string) time.Time {
	at, err := time.ParseInLocation("2006-01-02 15:04", text, k.farm.Zone)
	if err != nil {
		k.t.Fatal(err)
	}
	return at
}

// turn passes at a moment and gives what is said by then.
func (k *talk) turn(at string) (said []line) {
	k.t.Helper()
	now := k.when(at)
	if _, err := k.sched.Pass(k.t.Context(), now); err != nil {
		k.t.Fatal(err)
	}
	for _, medium := range []ladder.Medium{ladder.Text, ladder.Mail} {
		claim := store.ClaimFor{Medium: medium, Carrier: string(medium), Retry: store.Never, Address: func(name string) string {
			c, _ := k.farm.Contact(name)
			return c.Address(medium)
		}}
		for {
			all, err := k.store.Claim(k.t.Context(), now, claim, func(e *store.Envelope) error { e.Text = "words"; return nil })
			if err != nil {
				k.t.Fatal(err)
			}
			if len(all) == 0 {
				break
			}
			m := all[0]
			if err := k.store.Settle(k.t.Context(), m.Attempt, store.Outcome{}, now); err != nil {
				k.t.Fatal(err)
			}
			for _, n := range m.Notices {
				said = append(said, line{*m, n, now})
			}
		}
	}
	return said
}

// play turns every half hour up to a moment.
func (k *talk) play(from, to string) (said []line) {
	for now := k.when(from); !now.After(k.when(to)); now = now.Add(30 * time.Minute) {
		said = append(said, k.turn(now.Format("2006-01-02 15:04"))...)
	}
	return said
}

// text is one text at a moment, sent then or as stamped, and what is said after it.
func (k *talk) text(at, name, words string, sent ...string) []line {
	k.t.Helper()
	now := k.when(at)
	stamp := now
	for _, s := range sent {
		stamp = k.when(s)
	}
	c, _ := k.farm.Contact(name)
	k.texts++
	in := store.In{ID: fmt.Sprint(k.texts), From: c.Phone, Contact: name, Text: words, Sent: stamp}
	if err := k.store.Accept(k.t.Context(), "sms", []store.In{in}, "", now); err != nil {
		k.t.Fatal(err)
	}
	return k.turn(at)
}

func (k *talk) facts() (facts []diary.Fact) {
	k.t.Helper()
	err := k.store.EachFact(k.t.Context(), 0, func(f diary.Fact) error { facts = append(facts, f); return nil })
	if err != nil {
		k.t.Fatal(err)
	}
	return facts
}

// diaryOf is the diary in short: kind, paddock and heights.
func (k *talk) diaryOf() string {
	var all []string
	for _, f := range k.facts() {
		all = append(all, inShort(f))
	}
	return strings.Join(all, ", ")
}

func inShort(f diary.Fact) string {
	return strings.TrimSpace(fmt.Sprintf("%s %s %s", f.Kind, f.Paddock, strings.Trim(fmt.Sprint(f.Heights), "[]")))
}

func ask(said []line) *diary.Question {
	for _, l := range said {
		if q := l.Asked(); q != nil {
			return q
		}
	}
	return nil
}

// suppress ends what goes to an address of theirs.
func (k *talk) suppress(at, name, address string) {
	k.t.Helper()
	err := k.store.Update(k.t.Context(), k.when(at), func(tx *store.Tx) error {
		_, err := tx.Suppress(address, name, "test")
		return err
	})
	if err != nil {
		k.t.Fatal(err)
	}
}

func ofKind(said []line, kinds ...ladder.Kind) (all []string) {
	for _, l := range said {
		if slices.Contains(kinds, l.Notice.Kind) {
			all = append(all, l.String())
		}
	}
	return all
}
