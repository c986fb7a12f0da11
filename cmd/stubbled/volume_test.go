package main

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

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

// TestHowMuchIsSaidThatNobodyAskedFor prints, with -v, what each person got from June to
// January.
func TestHowMuchIsSaidThatNobodyAskedFor(t *testing.T) {
	silence := farmtest.File(t, "\n")
	for _, farm := range []struct {
		name   string
		season []report.Message
	}{
		{"the demo", demoSeason(t)},
		{"the demo where nobody answers", demoSeason(t, "--replies", silence)},
		{"60 paddocks where nobody answers", rehearsed(t, sixty(), "2026-06-20", "2027-01-20", "")},
	} {
		got := unasked(farm.season)
		for _, who := range []string{"Ana", "Luis", "Ruth"} {
			q := got[who]
			t.Logf("%-34s %-5s %3d texts, %2d mails, %2d signs of life, at most %d texts a day", farm.name, who, q.texts, q.mails, q.alive, q.worstDay)
		}
	}
}
