package store

import (
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

// count counts rows.
func count(t *testing.T, s *Store, from string) (n int) {
	t.Helper()
	must(t, s.db.Read.QueryRow(`SELECT count(*) FROM `+from).Scan(&n))
	return n
}

func TestAStrangersTextIsForgottenAfterAMonthAndAContactsNever(t *testing.T) {
	s := fresh(t)
	ana := heard(t, s, "1", "Ana", "creek 14", sep1)
	stranger := heard(t, s, "2", "", "is this the feed store", sep1)
	heard(t, s, "3", "", "hello?", sep1) // nobody has heard it yet
	update(t, s, sep1, func(x *Tx) error {
		for _, row := range []int64{ana.Row, stranger.Row} {
			if _, err := x.Heard(row); err != nil {
				return err
			}
		}
		return nil
	})
	for _, after := range []struct{ days, want int }{{29, 3}, {31, 2}} {
		days, want := after.days, after.want
		must(t, s.forget(ctx, sep1.AddDate(0, 0, days)))
		if days == 31 && count(t, s, `inbox WHERE words = 'is this the feed store'`) != 0 || count(t, s, "inbox") < want {
			t.Errorf("after %d days %d texts are there, want %d", days, count(t, s, "inbox"), want)
		}
	}
}

// The words go; that it was said, to whom and when, and its key, stay.
func TestWhatWasSaidLongAgoKeepsItsKeyAndLosesItsWords(t *testing.T) {
	s := fresh(t)
	said, waits := notice(ladder.HeadsUp, "creek", "Ana"), notice(ladder.LastLook, "hill", "Ana")
	waits.GoodUntil = time.Time{}
	reconcile(t, s, sep1, said, waits)
	settle(t, s, claim(t, s, sep1, bySMS(Unsafe)), WasSent, sep1)
	settle(t, s, claim(t, s, sep1, bySMS(Safe)), NotKnown, sep1) // to be tried again
	must(t, s.forget(ctx, sep1.AddDate(0, 0, 399)))
	if count(t, s, "attempts") != 2 || count(t, s, "messages") != 2 {
		t.Error("it was forgotten within the year")
	}
	later := sep1.AddDate(0, 0, 401)
	must(t, s.forget(ctx, later))
	if count(t, s, "attempts") != 1 || count(t, s, "messages") != 1 || count(t, s, "outbox") != 2 {
		t.Errorf("%d attempts, %d messages, %d rows", count(t, s, "attempts"), count(t, s, "messages"), count(t, s, "outbox"))
	}
	must(t, s.db.Check(ctx))
	if c := reconcile(t, s, later, said, waits); c.Inserted != 0 || c.Revived != 0 {
		t.Errorf("it is said again: %+v", c)
	}
	fates, err := s.Fates(ctx)
	must(t, err)
	if fates[0].State != Sent || fates[0].Notice.Key != said.Key || fates[0].Notice.To != "Ana" || !fates[0].Changed.Equal(sep1) || fates[0].Text != "" {
		t.Errorf("what is left of it is %+v", fates[0])
	}
	if m := claim(t, s, later, bySMS(Safe)); m == nil || !strings.Contains(m.Text, "hill") {
		t.Errorf("what waits is %+v", m)
	}
}

// A machine that begins in 1970 goes on answering; what it said then is no older
// than the evening before.
func TestWhatAClockIn1970DatedIsNotForgottenTheNextNight(t *testing.T) {
	s := fresh(t)
	say := func(at time.Time, paddock string) {
		n := notice(ladder.HeadsUp, paddock, "Ana")
		n.NotBefore, n.GoodUntil = at, at.AddDate(0, 0, 1)
		reconcile(t, s, at, n)
		settle(t, s, claim(t, s, at, bySMS(Unsafe)), WasSent, at)
	}
	hear := func(id string, at time.Time) {
		in := heard(t, s, id, "", "is this the feed store", at)
		update(t, s, at, func(x *Tx) error { _, err := x.Heard(in.Row); return err })
	}
	say(sep1, "creek")
	hear("1", sep1)
	say(time.Unix(1000, 0), "hill")
	hear("2", time.Unix(1000, 0))
	must(t, s.forget(ctx, sep1.AddDate(0, 0, 1)))
	if count(t, s, "messages") != 2 || count(t, s, "attempts") != 2 || count(t, s, `outbox WHERE message IS NOT NULL`) != 2 || count(t, s, "inbox") != 2 {
		t.Errorf("%d messages, %d attempts, %d texts", count(t, s, "messages"), count(t, s, "attempts"), count(t, s, "inbox"))
	}
	must(t, s.forget(ctx, sep1.AddDate(0, 0, 402)))
	if count(t, s, "messages") != 0 || count(t, s, "inbox") != 0 {
		t.Errorf("they are kept for ever: %d messages, %d texts", count(t, s, "messages"), count(t, s, "inbox"))
	}
}

// A day that is folded says what its hours said: the lowest, the highest, and the
// last rain.
func TestOldObservationsAreFoldedToDays(t *testing.T) {
	s := fresh(t)
	var all []diary.Observation
	for d := range 3 {
		for h := range 24 {
			at := sep1.AddDate(0, 0, d).Add(time.Duration(h) * time.Hour)
			o := diary.Observation{Source: "service", Place: "KAAA", At: at, Day: day("2026-09-01").AddDays(d), MinC: float64((h*7 + d) % 20)}
			if h%5 == 0 {
				warm, rain := o.MinC+9, float64(h)
				o.MaxC, o.RainMM = &warm, &rain
			}
			all = append(all, o)
		}
	}
	ahead := all[0]
	ahead.Forecast, ahead.Issued = true, sep1
	must(t, s.Observe(ctx, append(all, ahead), sep1))
	say := func() (days map[string][3]float64, rows int) {
		got, err := s.observations(day("2026-01-01"), day("2027-12-31"))
		must(t, err)
		days = map[string][3]float64{}
		for _, o := range got {
			d, ok := days[o.Day.String()]
			if !ok {
				d = [3]float64{99, -99, -1}
			}
			high := o.MinC
			if o.MaxC != nil {
				high = *o.MaxC
			}
			d[0], d[1] = min(d[0], o.MinC), max(d[1], high)
			if o.RainMM != nil {
				d[2] = *o.RainMM
			}
			days[o.Day.String()] = d
		}
		return days, len(got)
	}
	want, _ := say()
	must(t, s.forget(ctx, sep1.AddDate(0, 0, 92))) // the third day is 90 days old
	for range 2 {
		if got, rows := say(); !reflect.DeepEqual(got, want) || rows != 2+24 {
			t.Errorf("%d rows: %v, want %v", rows, got, want)
		}
		must(t, s.forget(ctx, sep1.AddDate(0, 0, 92)))
	}
}

// What the last years' words took is free for the next ones; what stays of a row
// for good is the lesser part.
func TestALaterYearTakesLessThanHalfOfTheFirst(t *testing.T) {
	s := open(t, filepath.Join(t.TempDir(), "farm.db"), "r")
	var sizes []int64
	for year := range 10 {
		for i := range 100 {
			at := sep1.AddDate(year, 0, i*3)
			n := notice(ladder.HeadsUp, "creek", "Ana")
			n.Key.Day, n.NotBefore, n.GoodUntil = at.Format(time.DateOnly), at, at.AddDate(0, 0, 1)
			n.Facts.(*ladder.RungFacts).MoveTo = []string{strings.Repeat("north forty ", 80)}
			reconcile(t, s, at, n)
			settle(t, s, first(t, s, at, bySMS(Unsafe), func(e *Envelope) error { e.Text = strings.Repeat("words ", 100); return nil }), WasSent, at)
		}
		must(t, s.forget(ctx, sep1.AddDate(year+1, 0, 0)))
		var pages int64
		must(t, s.db.Read.QueryRow(`PRAGMA page_count`).Scan(&pages))
		sizes = append(sizes, pages)
	}
	if sizes[9]-sizes[8] > sizes[0]/2 {
		t.Errorf("pages by year: %v", sizes)
	}
}
