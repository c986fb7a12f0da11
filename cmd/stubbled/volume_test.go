package main

import (
	"bytes"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/cmd/stubbled/report"
	"stubbled/scheduler/ladder"
)

// A quantity is what one person got of a season that nobody asked for.
type quantity struct {
	texts, mails int
	alive        int // texts that only say that the line works
	worstDay     int // texts of the day with most, but for what is on fire
}

// unasked counts what each person got that is no answer to a text of theirs.
func unasked(all []report.Message) map[string]quantity {
	got, days := map[string]quantity{}, map[string]int{}
	for _, m := range all {
		q := got[m.To]
		switch {
		case m.Kind.Answer():
		case m.Subject != "":
			q.mails++
		case m.Kind == ladder.SignOfLife:
			q.alive++
		default:
			q.texts++
		}
		if m.Subject == "" && !m.Kind.Answer() && !slices.Contains(onFire, m.Kind) {
			days[m.To+m.At[:10]]++
			q.worstDay = max(q.worstDay, days[m.To+m.At[:10]])
		}
		got[m.To] = q
	}
	return got
}

// onFire is what may go past three texts a day.
var onFire = []ladder.Kind{ladder.HoldAnimals, ladder.HoldUnsure, ladder.FrostWarning, ladder.EmergencyTold, ladder.Alarm}

// demoSeason plays the demo farm from June to January, with texts or the demo's own.
func demoSeason(t *testing.T, more ...string) []report.Message {
	t.Helper()
	var out, errs bytes.Buffer
	if code := run(t.Context(), append([]string{"rehearse", "--json"}, more...), strings.NewReader(""), &out, &errs); code != exitFine {
		t.Fatal(errs.String())
	}
	return parsed(t, out.String())
}

// sixty is an invented farm of 60 paddocks in ten pastures of six, that shut on five days;
// six herds, johnsongrass in every tenth paddock.
func sixty() string {
	var b strings.Builder
	b.WriteString("farm: {name: Sixty Oaks, timezone: America/Chicago}\nfrost: {date: 10-16, spread: 10 days}\npaddocks:\n")
	grasses := []string{"big bluestem", "eastern gamagrass", "switchgrass", "little bluestem", "tall fescue", "mixed natives"}
	for i := range 60 {
		fmt.Fprintf(&b, "  - {id: p%02d, name: Pasture %02d, area: 20 acres, grass: %s, frost_offset: %d days", i, i, grasses[i%6], -i%5)
		if i%10 == 4 {
			b.WriteString(", hazard_plants: [johnsongrass]")
		}
		b.WriteString("}\n")
	}
	b.WriteString("herds:\n")
	for i := range 6 {
		fmt.Fprintf(&b, "  - {id: herd%d, head: 30, kind: cow with calf, weight: 1200 lb, calving: march, paddock: p%02d}\n", i, 10*i+i%4)
	}
	_, people, _ := strings.Cut(farmtest.Text, "contacts:\n")
	return b.String() + "contacts:\n" + strings.NewReplacer("0142\",", "0142\", email: ana@example.org,", "0144\",", "0144\", email: ruth@example.org,").Replace(people)
}

// TestHowMuchIsSaidThatNobodyAskedFor prints, with -v, what each person gets from June to
// January. The figures wanted are ours.
func TestHowMuchIsSaidThatNobodyAskedFor(t *testing.T) {
	from, to := "2026-08-15", "2026-09-15" // the weeks in which 60 paddocks shut
	if os.Getenv("STUBBLED_LONG") != "" {
		from, to = "2026-06-20", "2027-01-20"
	}
	for _, farm := range []struct {
		name   string
		season []report.Message
		most   map[string]quantity // texts and mails
	}{
		{"the demo", demoSeason(t), map[string]quantity{"Ana": {texts: 32, mails: 20}, "Luis": {texts: 14}, "Ruth": {texts: 8, mails: 12}}},
		{"the demo where nobody answers", silentDemo(t), map[string]quantity{"Ana": {texts: 50, mails: 22}, "Luis": {texts: 34}, "Ruth": {texts: 28, mails: 12}}},
		{"60 paddocks where nobody answers", rehearsed(t, sixty(), from, to, ""), nil},
	} {
		got := unasked(farm.season)
		for _, who := range []string{"Ana", "Luis", "Ruth"} {
			q := got[who]
			t.Logf("%-34s %-5s %3d texts, %2d mails, %2d signs of life, at most %d texts a day", farm.name, who, q.texts, q.mails, q.alive, q.worstDay)
			if q.worstDay > 3 { // what the first text to a new contact promises
				t.Errorf("%s: %s gets %d texts in one day", farm.name, who, q.worstDay)
			}
			if most, ok := farm.most[who]; ok && (q.texts > most.texts || q.mails > most.mails) {
				t.Errorf("%s: %s gets %d texts and %d mails, at most %d and %d are wanted", farm.name, who, q.texts, q.mails, most.texts, most.mails)
			}
		}
	}
}

func TestASignOfLifeComesOnlyInAWeekInWhichNothingElseWasSent(t *testing.T) {
	season := demoSeason(t)
	for _, m := range to(season, "Ana", string(ladder.SignOfLife)) {
		at, err := time.Parse(time.RFC3339, m.At)
		if err != nil {
			t.Fatal(err)
		}
		for _, other := range to(season, "Ana") {
			before, _ := time.Parse(time.RFC3339, other.At)
			text := other.Subject == "" && !before.After(at) && at.Sub(before) < 6*24*time.Hour && other.Kind != ladder.SignOfLife && !other.Kind.Answer()
			mail := other.Subject != "" && before.Equal(at) && at.Day() > 7
			if text || mail {
				t.Errorf("on %s a sign of life beside %s of %s", m.At[:10], other.Kind, other.At[:10])
			}
		}
	}
}

// TestWhatMustBeSaidIsStillSaid holds the demo farm, where nobody answers and where its
// people do, to what each must hear of cutoffs, holds and frost. The fall is the station's
// of 2013: 36 F on Sep 29, 32 F on Oct 15, 28 F on Oct 24.
func TestWhatMustBeSaidIsStillSaid(t *testing.T) {
	overdue := "09-01 09-02 09-03 09-04 09-05 09-06 09-07 09-10 09-14 09-17 09-21 09-24 09-28 10-01 10-05 10-08 10-12"
	silent, answered := silentDemo(t), demoSeason(t)
	for _, must := range []struct {
		season        []report.Message
		kind          ladder.Kind
		paddock, days string
		who           []string
	}{
		{silent, ladder.KeepShut, "north40", "08-11", []string{"Ana", "Luis"}},
		{silent, ladder.KeepShut, "hill", "08-31", []string{"Ana", "Luis"}},
		{silent, ladder.KeepShut, "east", "08-31", []string{"Ana", "Luis"}},
		{silent, ladder.KeepShut, "east", "08-21", []string{"Ana"}},
		{silent, ladder.HeadsUp, "creek", "08-21", []string{"Ana"}},
		{silent, ladder.LastLook, "creek", "08-26", []string{"Ana"}},
		{silent, ladder.MovePlan, "creek", "08-29", []string{"Ana", "Luis"}},
		{silent, ladder.ShutToday, "creek", "08-31", []string{"Ana", "Luis"}},
		{silent, ladder.Overdue, "creek", overdue, []string{"Ana", "Luis", "Ruth"}},
		{silent, ladder.HoldBegins, "lane", "09-30", []string{"Ana", "Luis"}},
		{silent, ladder.HoldBegins, "north40", "09-30", []string{"Ana", "Luis"}},
		{silent, ladder.FrostSeen, "", "09-30", []string{"Ana", "Ruth"}},
		{silent, ladder.FreezeSeen, "", "10-16", []string{"Ana", "Ruth"}},
		{silent, ladder.RestOver, "creek", "10-25", []string{"Ana"}},
		{silent, ladder.KillingFreeze, "", "10-25", []string{"Ruth"}},
		{answered, ladder.HazardAhead, "lane", "09-16", []string{"Ana"}},
		{answered, ladder.HoldAnimals, "lane", "09-30", []string{"Ana", "Luis"}},
		{answered, ladder.FallAhead, "", "06-20 07-12", []string{"Ana", "Ruth"}},
	} {
		for _, who := range must.who {
			for _, day := range strings.Fields(must.days) {
				if !slices.ContainsFunc(to(must.season, who, string(must.kind)), func(m report.Message) bool {
					about := append(m.Paddocks, m.Paddock)
					return m.At[5:10] == day && m.Subject == "" && (must.paddock == "" || slices.Contains(about, must.paddock))
				}) {
					t.Errorf("%s does not hear by text on %s: %s %s", who, day, must.kind, must.paddock)
				}
			}
		}
	}
}

func silentDemo(t *testing.T) []report.Message {
	return demoSeason(t, "--replies", farmtest.File(t, "\n"))
}
