package main

import (
	"context"
	"database/sql"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"stubbled/scheduler/ladder"
	"stubbled/store"
)

func number(t *testing.T, db, query string, args ...any) (n int) {
	t.Helper()
	d, err := sql.Open("sqlite", "file:"+db+"?mode=ro&_pragma=busy_timeout(5000)")
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	if err := d.QueryRow(query, args...).Scan(&n); err != nil {
		t.Fatal(err)
	}
	return n
}

// words is the first text that a count of the inbox counts.
func words(t *testing.T, db, count string) (text string) {
	t.Helper()
	d, err := sql.Open("sqlite", "file:"+db+"?mode=ro")
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	if err := d.QueryRow(strings.Replace(count, "count(*)", "contact || ' at ' || datetime(done_at, 'unixepoch') || ': ' || words", 1)).Scan(&text); err != nil {
		t.Fatal(err)
	}
	return text
}

func (c tally) log(t *testing.T) {
	for _, what := range slices.Sorted(maps.Keys(c)) {
		t.Logf("%8d  %s", c[what], what)
	}
}

// judge looks at what became of it all.
func (l *lab) judge() {
	l.textsHeardAndAnswered()
	l.nothingLost()
	l.nothingDoubled()
	l.rightDays()
	l.nobodySilenced()
	l.goodCopies()
	for way, n := range l.script.did {
		l.count["peer: "+way] += n
	}
	if l.t.Failed() {
		l.t.Logf("the journal ends:\n%s", l.stderr.Bytes()[max(0, l.stderr.Len()-4000):])
	}
}

// textsHeardAndAnswered: every text was heard once, and has its answer.
func (l *lab) textsHeardAndAnswered() {
	if n := l.onItsWay() + l.unheard(); n > 0 {
		l.t.Errorf("%d texts or answers wait for ever", n)
	}
	all := `SELECT count(*) FROM inbox i WHERE carrier = 'sms' AND ` + toBeAnswered
	l.count["text: heard"] = number(l.t, l.db, all)
	if n := l.count["text: heard"]; n != l.count["text: written"] {
		l.t.Errorf("%d texts were written and %d heard", l.count["text: written"], n)
	}
	// The same question is asked back twice an hour at most, and there are 20 answers an
	// hour and 60 a day.
	answers := `(SELECT count(*) FROM outbox o WHERE o.contact = i.contact AND o.inbox IS NOT NULL AND o.planned_at BETWEEN i.done_at - `
	silent := all + ` AND words NOT LIKE 'clear%' AND NOT EXISTS (SELECT 1 FROM outbox o WHERE o.inbox = i.id)
		AND ` + answers + `3600 AND i.done_at) < 20 AND ` + answers + `86400 AND i.done_at) < 60`
	if n := number(l.t, l.db, silent); n > 0 {
		l.t.Errorf("%d texts have no answer: %s", n, words(l.t, l.db, silent))
	}
}

// A fate is what became of something to be said, and what the network knows of it.
type fate struct {
	id                  int64
	row                 store.Fate
	first, second       string // its envelopes: the message, and the one it repeats
	firstOut, secondOut bool   // whether the network has them
}

// fates are all that was to be said by text or call, with what the network says.
func (l *lab) fates() (all []fate) {
	t := l.t
	s, err := store.OpenRead(context.Background(), l.db)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	rows, err := s.Fates(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]bool{}
	for _, text := range l.took() {
		out[text.Ref] = true
	}
	d, err := sql.Open("sqlite", "file:"+l.db+"?mode=ro")
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	for _, row := range rows {
		if row.Notice.Medium == ladder.Mail {
			continue
		}
		f := fate{id: row.ID, row: row}
		err := d.QueryRow(`SELECT coalesce(m.envelope, ''), coalesce(r.envelope, '') FROM outbox o LEFT JOIN messages m ON m.id = o.message
			LEFT JOIN messages r ON r.id = coalesce(m.repeats, o.repeats) WHERE o.id = ?`, row.ID).Scan(&f.second, &f.first)
		if err != nil {
			t.Fatal(err)
		}
		f.firstOut, f.secondOut = out[f.first], out[f.second]
		all = append(all, f)
	}
	return all
}

// nothingLost: what is called sent left, what was repeated said so, and nothing
// that is worth saying twice ended unknown after one try, or failed.
func (l *lab) nothingLost() {
	for _, f := range l.fates() {
		what := "notice"
		if strings.HasPrefix(string(f.row.Notice.Kind), "answer-") {
			what = "answer"
		}
		l.count[what+": "+string(f.row.State)]++
		if f.firstOut && f.secondOut {
			l.count[what+": left twice, marked"]++
		}
		if n := f.row.Notice; f.row.State == store.Queued {
			l.t.Logf("%s %d to %s waits from %s to %s: %q; it is %s", n.Kind, f.id, n.To, n.NotBefore, n.GoodUntil, f.row.Why, l.now)
		}
		left := f.firstOut || f.secondOut
		if f.second == "" && f.row.Changed.Before(l.now.AddDate(-2, 0, 0)) {
			continue // the first words of all, by a clock in 1970: they are forgotten as old
		}
		switch own := !f.row.Changed.Before(f.row.Notice.GoodUntil); {
		case f.row.State == store.Sent && !left:
			l.t.Errorf("%s %d to %s is called sent at %s by %q, %q and never left", f.row.Notice.Kind, f.id, f.row.Notice.To, f.row.Changed, f.first, f.second)
		case f.row.State == store.Unknown && f.row.Why == "not wanted any more":
			l.count[what+": unknown, and no longer true"]++
		case f.row.State == store.Unknown && f.row.Notice.Kind.Twice() && f.first == "" && !own:
			l.t.Errorf("%s %d to %s was never repeated: %s", f.row.Notice.Kind, f.id, f.row.Notice.To, f.row.Why)
		case f.row.State == store.Unknown && left:
			l.count[what+": unknown, and it had arrived"]++
		case f.row.State == store.Unknown:
			l.count[what+": unknown, and the power went in both tries"]++
		case f.row.State == store.Expired && what == "answer" && !left:
			l.count["answer: never left within its day"]++
		case f.row.State == store.Failed && !own:
			l.t.Errorf("%s %d to %s failed: %s", f.row.Notice.Kind, f.id, f.row.Notice.To, f.row.Why)
		}
	}
}

// nothingDoubled: what left once leaves again only as another one that says so.
func (l *lab) nothingDoubled() {
	refs := map[string]int{}
	for _, text := range l.took() {
		refs[text.Ref]++
		if text.repeated() {
			l.count["text out: marked as a repeat"]++
		}
	}
	l.count["text out: all"] = len(l.took())
	l.count["mail out: all"] = len(l.post.sent)
	for ref, n := range refs {
		if n > 1 {
			l.t.Errorf("one text (%s) left %d times", ref, n)
		}
	}
	marked := map[string]bool{}
	for _, text := range l.took() {
		marked[text.Ref] = text.repeated()
	}
	for _, f := range l.fates() {
		if f.firstOut && f.secondOut && !marked[f.second] {
			l.t.Errorf("%s %d to %s left twice, the second time without a word", f.row.Notice.Kind, f.id, f.row.Notice.To)
		}
	}
}

// rightDays: every reading has the day on which it was texted, whatever the clock
// showed. One that no life came round to hear within a week has the day it came in.
func (l *lab) rightDays() {
	const others = `SELECT count(*), coalesce(sum(i.done_at - i.sent_at BETWEEN 7 * 86400 AND 60 * 86400), 0)
		FROM facts f JOIN inbox i ON i.id = f.inbox WHERE f.kind = 'reading' AND f.words = ? AND f.day <> ?`
	d, err := sql.Open("sqlite", "file:"+l.db+"?mode=ro")
	if err != nil {
		l.t.Fatal(err)
	}
	defer d.Close()
	for words, at := range l.said {
		var other, late int
		day := at.In(l.zone).Format(time.DateOnly)
		if err := d.QueryRow(others, words, day).Scan(&other, &late); err != nil {
			l.t.Fatal(err)
		}
		l.count["reading: heard after a week"] += late
		if strings.HasPrefix(words, "creek") && other > late {
			l.t.Errorf("%q of %s has another day", words, day)
		}
	}
}

// nobodySilenced: no forged mail did, and no secret stands in the journal.
func (l *lab) nobodySilenced() {
	for address, why := range map[string]string{"+15555550144": "a phone", "cole@example.org": "the only way to its owner"} {
		if n := number(l.t, l.db, `SELECT count(*) FROM suppressed WHERE address = ?`, address); n > 0 {
			l.t.Errorf("a forged mail silenced %s", why)
		}
	}
	for _, secret := range []string{labSecret, labToken} {
		if strings.Contains(l.stderr.String(), secret) {
			l.t.Error("a secret stands in the journal")
		}
	}
}

// goodCopies: no kill left a copy that does not verify under a name that a restore
// would take.
func (l *lab) goodCopies() {
	dir := l.db[:strings.LastIndex(l.db, "/")] + "/backups"
	copies, err := store.Copies(context.Background(), dir)
	if err != nil {
		l.t.Error(err)
	}
	l.count["copies kept"] = len(copies)
	if _, bad, err := store.LatestGood(context.Background(), dir, l.now); len(copies) > 0 && (err != nil || len(bad) > 0) {
		l.t.Errorf("the newest copy: %v, %v", bad, err)
	}
}
