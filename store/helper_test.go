package store

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/store/disk"
)

var ctx = context.Background()

// sep1 is a morning of an invented farm, Sep 1 2026 06:30 in Chicago.
var sep1 = time.Date(2026, 9, 1, 11, 30, 0, 0, time.UTC)

func day(s string) civil.Date {
	d, err := civil.ParseDate(s)
	if err != nil {
		panic(err)
	}
	return d
}

func open(t testing.TB, path, run string) *Store {
	t.Helper()
	s, err := Open(ctx, path, Options{RunID: run, Now: sep1})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

func fresh(t testing.TB) *Store { return open(t, filepath.Join(t.TempDir(), "farm.db"), "run-1") }

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func update(t testing.TB, s *Store, now time.Time, f func(*Tx) error) {
	t.Helper()
	must(t, s.Update(ctx, now, f))
}

func reconcile(t testing.TB, s *Store, now time.Time, wanted ...ladder.Notice) (c Changes) {
	t.Helper()
	update(t, s, now, func(x *Tx) (err error) { c, err = x.Reconcile(wanted); return err })
	return c
}

// notice is a rung that is due at sep1 and true for a day.
func notice(kind ladder.Kind, paddock, to string) ladder.Notice {
	n := ladder.Notice{
		Key: ladder.ParseKey(fmt.Sprintf("%s/2026-09-01/0/%s/1/%s/text", paddock, kind, to)), To: to, Medium: ladder.Text, Kind: kind,
		Facts: kind.NewFacts(), NotBefore: sep1, GoodUntil: sep1.Add(24 * time.Hour),
	}
	n.Facts.About().Place = ladder.Place{Paddock: paddock, Name: paddock}
	if f := ladder.OnPaddock(n.Facts); f != nil {
		f.Cutoff, f.Leave = day("2026-09-01"), 8
	}
	return n
}

// leaving is the same notice with another height to leave.
func leaving(n ladder.Notice, inches float64) ladder.Notice {
	f := *n.Facts.(*ladder.RungFacts)
	f.Leave, n.Facts = inches, &f
	return n
}

func leave(n ladder.Notice) float64 { return ladder.OnPaddock(n.Facts).Leave }

func heard(t testing.TB, s *Store, id, contact, text string, now time.Time) InRow {
	t.Helper()
	must(t, s.Accept(ctx, "sms", []In{{ID: id, From: phones[contact], Contact: contact, Text: text, Sent: now}}, "", now))
	all, err := s.Pending(ctx)
	must(t, err)
	return all[len(all)-1]
}

func answer(kind ladder.Kind, in InRow) ladder.Notice {
	return ladder.Notice{Key: ladder.AnswerKey(in.Row), To: in.Contact, Medium: ladder.Text, Kind: kind, Inbox: in.Row,
		NotBefore: in.Received, GoodUntil: in.Received.Add(24 * time.Hour)}
}

// Invented people with numbers from the range kept for that.
var phones = map[string]string{"Ana": "+15555550142", "Luis": "+15555550143", "Bea": "+15555550144"}

func bySMS(retry Retry) ClaimFor {
	return ClaimFor{Medium: ladder.Text, Carrier: "sms", Retry: retry, Address: func(c string) string { return phones[c] }}
}

// plain words an envelope by its paddocks.
func plain(e *Envelope) error {
	e.Text = string(e.Kind)
	if e.MayRepeat {
		e.Text = "May be a repeat. " + e.Text
	}
	for _, n := range e.Notices {
		e.Text += " " + n.About().Paddock
	}
	return nil
}

func claim(t testing.TB, s *Store, now time.Time, f ClaimFor) *Message {
	t.Helper()
	f.Most = 1
	return first(t, s, now, f, plain)
}

// first is the message that a claim takes; nil for none.
func first(t testing.TB, s *Store, now time.Time, f ClaimFor, word func(*Envelope) error) *Message {
	t.Helper()
	all, err := s.Claim(ctx, now, f, word)
	must(t, err)
	if len(all) == 0 {
		return nil
	}
	return all[0]
}

// goes is what an unsafe carrier says before it lets go of a message.
func goes(t testing.TB, s *Store, m *Message) {
	t.Helper()
	must(t, s.Going(ctx, m.Attempt, sep1))
}

func settle(t testing.TB, s *Store, m *Message, o Result, now time.Time) {
	t.Helper()
	must(t, s.Settle(ctx, m.Attempt, Outcome{State: o, After: time.Minute}, now))
}

// news is what a carrier told of a message that it took.
func news(t testing.TB, s *Store, r Report, now time.Time) {
	t.Helper()
	must(t, s.Accept(ctx, "sms", []In{{Report: &r}}, "", now))
}

// states gives where each key stands.
func states(t testing.TB, s *Store) map[string]State {
	t.Helper()
	all := map[string]State{}
	update(t, s, sep1, func(x *Tx) error {
		said, err := x.everything()
		for _, r := range said {
			all[r.Notice.Key.String()] = r.State
		}
		return err
	})
	return all
}

func reading(paddock string, heights ...float64) diary.Fact {
	return diary.Fact{At: sep1, Day: day("2026-09-01"), Kind: diary.Reading, Paddock: paddock, Heights: heights, By: "Ana", Source: diary.FromText}
}

func exists(name string) bool {
	_, err := os.Stat(name)
	return err == nil
}

func (s *Store) factsAfter(id int64) (all []diary.Fact, err error) {
	err = s.EachFact(ctx, id, func(f diary.Fact) error { all = append(all, f); return nil })
	return all, err
}

func (s *Store) observations(first, last civil.Date) (all []diary.Observation, err error) {
	err = s.Update(ctx, sep1, func(x *Tx) error { all, err = x.Observations(first, last); return err })
	return all, err
}

// dueAt is since when what waits at a moment is due.
func dueAt(t testing.TB, s *Store, now time.Time) (since []time.Time) {
	t.Helper()
	all, err := s.Fates(ctx)
	must(t, err)
	for _, f := range all {
		n := f.Notice
		if f.State == Queued && !n.NotBefore.After(now) && (n.GoodUntil.IsZero() || !n.GoodUntil.Before(now)) {
			since = append(since, n.NotBefore)
		}
	}
	return since
}

// everything is every row of the outbox, in any state, in the order planned.
func (t *Tx) everything() ([]SaidRow, error) {
	return disk.All(t.db, scanSaid, `SELECT `+outColumns+` FROM outbox o ORDER BY o.id`)
}
