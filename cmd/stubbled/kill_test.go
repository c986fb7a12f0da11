package main

import (
	"bytes"
	"context"
	"database/sql"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"stubbled/cmd/stubbled/daemon"
	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/notify"
	"stubbled/notify/console"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// The steps at which the power goes.
var cutAt = []string{
	"before accept", "after accept", "before update", "after update", "before claim", "after claim", "before going", "after going", "before settle", "after settle",
}

// kills is how often the power goes in the short form.
const kills = 50

func TestMain(m *testing.M) {
	if os.Getenv("STUBBLED_TEST_CHILD") != "" {
		os.Exit(child())
	}
	flag.Parse()
	if err := flag.Set("test.parallel", "6"); err != nil { // they mostly wait for others
		panic(err)
	}
	os.Exit(m.Run())
}

// child is the daemon itself, on the farm and at the time that the test gives,
// until its power goes.
func child() int {
	nth, _ := strconv.Atoi(os.Getenv("STUBBLED_TEST_NTH"))
	var now daemon.Clock = labClock{os.Getenv("STUBBLED_TEST_CLOCK"), time.Now()}
	if at := os.Getenv("STUBBLED_TEST_TIME"); at != "" {
		start, err := time.Parse(time.RFC3339, at)
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			return exitUsage
		}
		now = &steadyClock{start: start, real: time.Now()}
	}
	e := &env{
		in: os.Stdin, out: os.Stdout, err: os.Stderr, clock: now,
		through: func(s *store.Store) daemon.Store {
			return overBoard(&cutter{Store: s, step: os.Getenv("STUBBLED_TEST_STEP"), left: int64(nth)})
		},
	}
	root := newRoot(e)
	root.SetArgs([]string{"run", "--farm", os.Getenv("STUBBLED_TEST_FARM")})
	if err := root.ExecuteContext(context.Background()); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return exitFailed
	}
	return exitFine
}

// steadyClock starts at a time of the test's choosing.
type steadyClock struct {
	start, real time.Time
}

func (c *steadyClock) Now() time.Time           { return c.start.Add(time.Since(c.real)) }
func (c *steadyClock) SinceBoot() time.Duration { return 100*24*time.Hour + time.Since(c.real) }
func (c *steadyClock) Synced() bool             { return true }

// A cutter is the store with the power cut at the nth passing of a step.
type cutter struct {
	*store.Store
	step string
	left int64
}

func (c *cutter) at(step string) {
	if step == c.step && atomic.AddInt64(&c.left, -1) == 0 {
		syscall.Kill(os.Getpid(), syscall.SIGKILL)
		select {}
	}
}

func (c *cutter) Accept(ctx context.Context, carrier string, got []store.In, cursor string, now time.Time) error {
	c.at("before accept")
	err := c.Store.Accept(ctx, carrier, got, cursor, now)
	c.at("after accept")
	return err
}

func (c *cutter) AcceptAnd(ctx context.Context, carrier string, got []store.In, cursor string, now time.Time, then func(*store.Tx) error) error {
	c.at("before accept")
	err := c.Store.AcceptAnd(ctx, carrier, got, cursor, now, then)
	c.at("after accept")
	return err
}

func (c *cutter) Update(ctx context.Context, now time.Time, decide func(*store.Tx) error) error {
	c.at("before update")
	err := c.Store.Update(ctx, now, decide)
	c.at("after update")
	return err
}

func (c *cutter) Claim(ctx context.Context, now time.Time, f store.ClaimFor, word func(*store.Envelope) error) ([]*store.Message, error) {
	c.at("before claim")
	all, err := c.Store.Claim(ctx, now, f, word)
	if len(all) > 0 {
		c.at("after claim")
	}
	return all, err
}

func (c *cutter) Going(ctx context.Context, attempt int64, now time.Time) error {
	c.at("before going")
	err := c.Store.Going(ctx, attempt, now)
	c.at("after going")
	return err
}

func (c *cutter) Settle(ctx context.Context, attempt int64, o store.Outcome, now time.Time) error {
	c.at("before settle")
	err := c.Store.Settle(ctx, attempt, o, now)
	c.at("after settle")
	return err
}

var _ notify.Outbox = (*cutter)(nil)

// TestKilledAtEveryStep runs the daemon through a cutoff with the power going
// at every step of its work, and then looks at what was lost or said twice.
func TestKilledAtEveryStep(t *testing.T) {
	n := kills
	if os.Getenv("STUBBLED_LONG") != "" {
		n = 2000
	}
	farm := farmtest.File(t, farmtest.Text)
	screen, err := os.OpenFile(filepath.Join(filepath.Dir(farm), "screen.txt"), os.O_CREATE|os.O_RDWR|os.O_APPEND, 0o600)
	if err != nil {
		t.Fatal(err)
	}
	defer screen.Close()
	now := time.Date(2026, time.August, 20, 12, 0, 0, 0, time.UTC)
	const gap = 15 * 24 * time.Hour / kills
	dice := rand.New(rand.NewPCG(1, 2))
	for i := range n {
		typed := fmt.Sprintf("Ana: creek %d %d\nLuis: estado creek\n", 9+i%4, 8+i%5)
		lifeOf(t, farm, now, cutAt[i%len(cutAt)], 1+dice.IntN(4), typed, screen)
		now = now.Add(gap)
	}
	lifeOf(t, farm, now, "", 0, "", screen) // and one whole life at the end
	examine(t, farm, screen)
}

// lifeOf is one life of the daemon, ended by its power cut, or by its test
// after a while where that step is not reached so often.
func lifeOf(t *testing.T, farm string, now time.Time, step string, nth int, typed string, screen *os.File) {
	t.Helper()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), 4*time.Second)
	defer cancel()
	cmd := exec.CommandContext(ctx, exe)
	cmd.Env = append(os.Environ(), "STUBBLED_TEST_CHILD=1", "STUBBLED_TEST_FARM="+farm, "STUBBLED_TEST_STEP="+step,
		"STUBBLED_TEST_NTH="+strconv.Itoa(nth), "STUBBLED_TEST_TIME="+now.Format(time.RFC3339))
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	var errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = screen, &errs
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	fmt.Fprint(in, typed) // a daemon killed before it reads it has heard nothing
	err = cmd.Wait()
	in.Close()
	if exit, ok := err.(*exec.ExitError); ok && exit.ExitCode() > 0 {
		t.Fatalf("the daemon ended by itself with %d: %s", exit.ExitCode(), errs.String())
	}
}

// examine looks at the database and at everything the console ever said.
func examine(t *testing.T, farm string, screen *os.File) {
	t.Helper()
	db := filepath.Join(filepath.Dir(farm), "stubbled.db")
	s, err := store.OpenRead(t.Context(), db)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	pending, err := s.Pending(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if len(pending) > 0 {
		t.Errorf("%d acknowledged texts were never heard", len(pending))
	}
	text, err := os.ReadFile(screen.Name())
	if err != nil {
		t.Fatal(err)
	}
	printed := splitSayings(string(text))
	words, unanswered := booked(t, db)
	if unanswered > 0 {
		t.Errorf("%d texts were heard and never answered", unanswered)
	}
	count := map[string]int{}
	for _, say := range printed {
		count[say]++
	}
	for say, n := range count {
		if n > words[say].times {
			t.Errorf("printed %d times, to be said %d times:\n%s", n, words[say].times, say)
		}
	}
	for say, w := range words {
		if w.sent > count[say] {
			t.Errorf("%d booked as sent, %d printed:\n%s", w.sent, count[say], say)
		}
	}
	if len(printed) < 20 {
		t.Errorf("only %d messages on the console: the daemon was hardly alive", len(printed))
	}
	t.Logf("%d messages on the console of %d booked", len(printed), len(words))
}

// splitSayings takes the console's text apart into messages: each begins at the
// margin.
func splitSayings(text string) []string {
	var all []string
	for line := range strings.Lines(text) {
		if !strings.HasPrefix(line, " ") || len(all) == 0 {
			all = append(all, "")
		}
		all[len(all)-1] += line
	}
	return all
}

// said once or more, as the database has it.
type entry struct{ times, sent int }

// booked is every message of the database as the console prints it, and how
// many texts have no answer.
func booked(t *testing.T, path string) (map[string]entry, int) {
	t.Helper()
	db, err := sql.Open("sqlite", "file:"+path+"?mode=ro")
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	rows, err := db.Query(`SELECT m.contact, m.medium, m.subject, m.words, m.frozen_at,
		EXISTS (SELECT 1 FROM attempts a WHERE a.message = m.id AND a.outcome = 'sent') FROM messages m`)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	zone, _ := time.LoadLocation("America/Chicago")
	all := map[string]entry{}
	for rows.Next() {
		var to, medium, subject, text string
		var at int64
		var sent bool
		if err := rows.Scan(&to, &medium, &subject, &text, &at, &sent); err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		phone := console.Phone{Out: console.NewScreen(&out, zone), For: ladder.Medium(medium)}
		phone.Deliver(t.Context(), notify.Envelope{ToName: to, Subject: subject, Text: text, Date: time.Unix(at, 0)})
		e := all[out.String()]
		e.times++
		if sent {
			e.sent++
		}
		all[out.String()] = e
	}
	if err := rows.Err(); err != nil {
		t.Fatal(err)
	}
	var unanswered int
	err = db.QueryRow(`SELECT count(*) FROM inbox i WHERE NOT EXISTS (SELECT 1 FROM outbox o WHERE o.inbox = i.id)`).Scan(&unanswered)
	if err != nil {
		t.Fatal(err)
	}
	return all, unanswered
}
