package store

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"stubbled/scheduler/ladder"
	"stubbled/store/disk"
)

// The tables that grow for as long as the daemon lives.
var growing = regexp.MustCompile(`SCAN (o|outbox|f|facts|i|inbox|m|messages|a|attempts|observations)\b(.*)`)

// The indexes of what waits, which is never much.
var waits = regexp.MustCompile(`\b(outbox_due|attempts_open|inbox_waiting)\b`)

// Nothing that happens in a pass may read one of them as a whole. Every
// statement that an eventful day uses is asked how it will be run.
func TestNoStatementReadsAWholeHistory(t *testing.T) {
	path := t.TempDir() + "/farm.db"
	lived(t, path)
	s := open(t, path, "run-2")
	f := bySMS(Safe)
	f.Cap, f.DayStart = 3, sep1
	for i := range 2 {
		in := heard(t, s, fmt.Sprint("p", i), "Ana", "creek 9", sep1)
		reconcile(t, s, sep1, notice(ladder.FallAhead, "creek", "Ana"), notice(ladder.AskHeight, "hill", "Luis"))
		update(t, s, sep1, func(x *Tx) error {
			for _, err := range []error{
				told(x), told(x), second(x.Mark()), second(x.NextEnd()), second(x.Suppress("+15555550199", "", WhyStopped)), x.AskedOf("Ana", false, sep1, sep1, func(ToldRow) (bool, error) { return true, nil }),
				second(x.FactsAfter(2)), second(x.OptOuts()),
				second(x.Observations(day("2026-09-01"), day("2026-09-02"))), second(x.Answer(answer(ladder.AnswerHelp, in))),
			} {
				must(t, err)
			}
			return nil
		})
		for m := claim(t, s, sep1.Add(time.Hour), f); m != nil; m = claim(t, s, sep1.Add(time.Hour), f) {
			must(t, s.Settle(ctx, m.Attempt, Outcome{State: []Result{NotKnown, WasSent}[i], Ref: m.ID, After: time.Minute}, sep1))
			news(t, s, Report{Ref: m.ID, Delivered: i == 0, Permanent: true}, sep1)
		}
		reconcile(t, s, sep1)
	}
	if len(s.db.Kept) < 30 {
		t.Fatalf("only %d statements were seen", len(s.db.Kept))
	}
	for q := range s.db.Kept {
		// A new message is looked for among those that name it only while
		// such a name hangs in the air, which none does.
		parent := strings.HasPrefix(q, "INSERT INTO messages")
		for _, line := range plan(t, s, q) {
			if m := growing.FindStringSubmatch(line); m != nil && !waits.MatchString(m[2]) && !parent {
				t.Errorf("%s\n  in: %s", line, q)
			}
		}
	}
}

func told(x *Tx) error { _, _, err := x.Told(sep1); return err }

func second[T any](_ T, err error) error { return err }

func plan(t *testing.T, s *Store, q string) []string {
	t.Helper()
	n := strings.Count(q, "?")
	for i := 1; i < 10; i++ {
		if k := strings.Count(q, fmt.Sprint("?", i)); k > 1 {
			n -= k - 1
		}
	}
	lines, err := disk.All(s.db.Look(ctx, "plan"), func(r disk.Scanner) (line string, err error) {
		var a, b, c int
		err = r.Scan(&a, &b, &c, &line)
		return line, err
	}, "EXPLAIN QUERY PLAN "+q, slices.Repeat([]any{0}, n)...)
	must(t, err)
	return lines
}
