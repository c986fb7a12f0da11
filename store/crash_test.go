package store

import (
	"bufio"
	"database/sql"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/store/disk"
)

func rounds() int {
	if os.Getenv("STUBBLED_LONG") != "" {
		return 2000
	}
	return 50
}

// TestKilledAtAnyMomentNothingAcknowledgedIsLostAndNothingSaidTwice ends the
// process with SIGKILL, at each named step and at random. It shows what a
// crash of the program does. What a power cut does is shown with copies of the
// log that were cut off or damaged, not here: the kernel's memory survives a
// kill.
func TestKilledAtAnyMomentNothingAcknowledgedIsLostAndNothingSaidTwice(t *testing.T) {
	for _, retry := range []Retry{Never, Safe, Unsafe} {
		t.Run(string(retry), func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			db, said := filepath.Join(dir, "farm.db"), filepath.Join(dir, "said")
			acked := 0
			for round := range rounds() / 3 {
				step, count := "", 0
				if round%4 != 3 {
					step, count = steps[round*3/4%len(steps)], 1+rand.IntN(3)
					if step == "opened" {
						count = 1 // it comes to that once
					}
				}
				acked = max(acked, killed(t, db, said, retry, round, step, count))
			}
			if acked == 0 {
				t.Fatal("no text was ever acknowledged")
			}
			afterKills(t, db, said, retry, acked)
		})
	}
}

// killed runs the child until it is dead and gives the last text that it
// acknowledged.
func killed(t *testing.T, db, said string, retry Retry, round int, step string, count int) (acked int) {
	t.Helper()
	c := child(t, "work", "STUBBLED_TEST_DB="+db, "STUBBLED_TEST_SAID="+said, "STUBBLED_TEST_RETRY="+string(retry),
		"STUBBLED_TEST_STEP="+step, fmt.Sprintf("STUBBLED_TEST_COUNT=%d", count), fmt.Sprintf("STUBBLED_TEST_ROUND=%d", round))
	out, err := c.StdoutPipe()
	must(t, err)
	must(t, c.Start())
	wait := time.Duration(rand.IntN(120)) * time.Millisecond
	if step != "" {
		wait = 5 * time.Second // a step that it never comes to
	}
	timer := time.AfterFunc(wait, func() { c.Process.Kill() })
	defer timer.Stop()
	for lines := bufio.NewScanner(out); lines.Scan(); {
		fmt.Sscanf(lines.Text(), "ack %d", &acked)
	}
	err = c.Wait()
	if ws, ok := c.ProcessState.Sys().(syscall.WaitStatus); !ok || ws.Signal() != syscall.SIGKILL {
		t.Fatalf("step %q: it was not killed but ended by itself: %v", step, err)
	}
	return acked
}

// afterKills starts once more, does what is left, and looks at everything.
func afterKills(t *testing.T, db, saidFile string, retry Retry, acked int) {
	t.Helper()
	w := &worker{s: open(t, db, "last"), now: sep1.AddDate(1, 0, 0), said: saidFile, retry: retry}
	if err := w.s.Loss(); err != nil {
		t.Errorf("aftermath: %v", err)
	}
	must(t, w.hear())
	must(t, w.speak())
	must(t, disk.Verify(ctx, db))

	inboxOf := map[int64]int{}
	for _, f := range facts(t, w.s) {
		if f.Kind == diary.Reading {
			inboxOf[f.Inbox]++
		}
	}
	for n := 1; n <= acked; n++ {
		var row int64
		var done sql.NullInt64
		var answers int
		err := w.s.db.Read.QueryRow(`SELECT id, done_at, (SELECT count(*) FROM outbox o WHERE o.inbox = i.id) FROM inbox i WHERE carrier = 'sms' AND carrier_id = ?`, fmt.Sprint(n)).Scan(&row, &done, &answers)
		if err != nil || !done.Valid || inboxOf[row] != 1 || answers != 1 {
			t.Errorf("text %d was acknowledged: heard %v, %d facts, %d answers (%v)", n, done.Valid, inboxOf[row], answers, err)
		}
	}
	checkSaid(t, w.s, saidFile, retry)
}

type spoken struct {
	id, kind, text string
	marked         bool
}

func readSaid(t *testing.T, name string) map[string][]spoken {
	t.Helper()
	b, err := os.ReadFile(name)
	must(t, err)
	by := map[string][]spoken{}
	for _, line := range strings.Split(strings.TrimSpace(string(b)), "\n") {
		p := strings.Split(line, "\t")
		for _, key := range strings.Split(p[4], ",") {
			by[key] = append(by[key], spoken{p[0], p[2], p[3], p[1] == "true"})
		}
	}
	return by
}

func checkSaid(t *testing.T, s *Store, saidFile string, retry Retry) {
	t.Helper()
	by := readSaid(t, saidFile)
	unsaid, err := s.NotSaid(ctx, time.Unix(0, 0))
	must(t, err)
	shown := map[string]bool{}
	for _, u := range unsaid {
		shown[u.Notice.Key.String()] = true
	}
	tried := temporary(t, s)
	for key, state := range states(t, s) {
		if state == Queued || state == Sending {
			t.Errorf("%s is still %s", key, state)
		}
		if len(by[key]) == 0 && state != Withdrawn && !shown[key] {
			t.Errorf("%s was not said, is %s, and nobody is told", key, state)
		}
	}
	for key, all := range by {
		distinct := map[string]spoken{}
		for _, sp := range all {
			if old, ok := distinct[sp.id]; ok && old.text != sp.text {
				t.Errorf("%s: %s was %q, then %q", key, sp.id, old.text, sp.text)
			}
			distinct[sp.id] = sp
		}
		if err := saidOnce(all, distinct, retry, tried); err != nil {
			t.Errorf("%s: %v: %+v", key, err, all)
		}
	}
}

// temporary gives how often each message was turned away for now; those times
// it was not said.
func temporary(t *testing.T, s *Store) map[string]int {
	t.Helper()
	rows, err := s.db.Read.Query(`SELECT m.envelope, count(*) FROM attempts a JOIN messages m ON m.id = a.message WHERE a.outcome = 'again' GROUP BY 1`)
	must(t, err)
	defer rows.Close()
	n := map[string]int{}
	for rows.Next() {
		var id string
		var c int
		must(t, rows.Scan(&id, &c))
		n[id] = c
	}
	return n
}

func saidOnce(all []spoken, distinct map[string]spoken, retry Retry, tried map[string]int) error {
	times := len(all)
	for id := range distinct {
		times -= tried[id]
	}
	switch {
	case retry == Safe && len(distinct) > 1:
		return errors.New("two ids where the id makes it safe")
	case retry == Never && times > 1:
		return fmt.Errorf("said %d times on the console", times)
	case retry == Unsafe && times > 2:
		return fmt.Errorf("said %d times", times)
	case retry == Unsafe && times == 2 && !ladder.Kind(all[0].kind).Twice():
		return errors.New("repeated though it can wait")
	case retry == Unsafe && times == 2 && !all[len(all)-1].marked:
		return errors.New("repeated and not marked")
	}
	return nil
}
