package main

import (
	"bytes"
	"database/sql"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// labKills is how often the daemon is killed in the short form; STUBBLED_LAB says
// another number.
const labKills = 25

// labFarm is an invented farm with a service of texts that counts nothing once,
// and mail both ways, all on this machine.
const labFarm = farmtest.Text + `
  - {name: Cole, role: owner, email: cole@example.org}
carriers:
  sms:
    via: http
    http:
      url: %[1]s/texts
      encoding: json
      fields: {Ref: "{{.ID}}", To: "{{.To}}", Text: "{{.Text}}"}
      id_path: id
      timeout: 1 s
      rate: 20 per second
      poll: {url: %[1]s/inbox, every: 10 s, list_path: texts, id_path: id, from_path: from, text_path: text, sent_path: at}
  email:
    from: farm@example.org
    token_file: %[4]s
    smtp: {host: 127.0.0.1, port: %[2]d, tls: plain, timeout: 5 s}
    imap: {host: 127.0.0.1, port: %[3]d, tls: plain, user: farm, password_file: %[5]s, timeout: 5 s}
`

// A labClock is set from outside: a file says what it shows, and whether a time
// server vouches for it.
type labClock struct {
	file string
	real time.Time
}

func (c labClock) read() (shown, written int64, synced bool) {
	data, _ := os.ReadFile(c.file)
	fmt.Sscan(string(data), &shown, &written, &synced)
	return shown, written, synced
}

func (c labClock) set(shown time.Time, synced bool) {
	os.WriteFile(c.file+".new", fmt.Appendf(nil, "%d %d %t", shown.UnixNano(), time.Now().UnixNano(), synced), 0o600)
	os.Rename(c.file+".new", c.file)
}

func (c labClock) Now() time.Time {
	shown, written, _ := c.read()
	return time.Unix(0, shown).Add(time.Duration(time.Now().UnixNano() - written))
}
func (c labClock) SinceBoot() time.Duration { return time.Minute + time.Since(c.real) }
func (c labClock) Synced() bool             { _, _, synced := c.read(); return synced }

// A lab is a farm whose service, mail server, clock and power cannot be relied on.
type lab struct {
	t      *testing.T
	dice   *rand.Rand
	script *script
	farm   string
	db     string
	clock  labClock
	net    *phoneNetwork
	post   *postOffice
	now    time.Time            // the true time
	said   map[string]time.Time // what was texted, by its words, and when
	count  map[string]int
	stderr bytes.Buffer
}

const labSecret, labToken = "an invented password", "an invented token of 32 octets ok"

func newLab(t *testing.T, seed uint64) *lab {
	s := newScript(seed)
	l := &lab{t: t, dice: rand.New(rand.NewPCG(seed, 1)), script: s, net: newPhoneNetwork(t, s), post: newPostOffice(t, s),
		now: time.Date(2026, time.August, 18, 12, 0, 0, 0, time.UTC), said: map[string]time.Time{}, count: map[string]int{}}
	dir := t.TempDir()
	for name, text := range map[string]string{"token": labToken, "password": labSecret} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	l.farm = farmtest.File(t, fmt.Sprintf(labFarm, l.net.URL, l.post.smtpPort, l.post.imapPort, filepath.Join(dir, "token"), filepath.Join(dir, "password")))
	l.db = filepath.Join(filepath.Dir(l.farm), "stubbled.db")
	l.clock = labClock{file: filepath.Join(dir, "clock")}
	return l
}

// people write something or nothing, by text and by mail, some of it forged.
func (l *lab) peopleWrite(n int) {
	text := func(phone, words string) {
		l.net.writes(phone, words, l.now)
		l.said[words] = l.now
		l.count["texts"]++
	}
	text("+15555550142", fmt.Sprintf("creek %d %d", 5+n%9, 5+n/9%50))
	switch l.dice.IntN(5) {
	case 0:
		text("+15555550143", fmt.Sprintf("estado creek %d", n))
	case 1:
		l.net.writes("+15555550199", "off creek", l.now) // nobody's
		l.count["strangers"]++
	case 2:
		l.post.writes("ruth@example.org", "stop", true, n, l.now)
		l.post.writes("cole@example.org", "stop", true, -n, l.now)
		l.count["forged mails"] += 2
	case 3:
		l.post.writes("cole@example.org", "status", false, n, l.now)
		l.count["mails"]++
	}
}

// live runs the real program for a while and kills it, or asks it to end.
func (l *lab) live(end syscall.Signal) {
	l.t.Helper()
	exe, err := os.Executable()
	if err != nil {
		l.t.Fatal(err)
	}
	cmd := exec.Command(exe)
	cmd.Env = append(os.Environ(), "STUBBLED_TEST_CHILD=1", "STUBBLED_TEST_FARM="+l.farm, "STUBBLED_TEST_CLOCK="+l.clock.file)
	cmd.Stderr = &l.stderr
	if err := cmd.Start(); err != nil {
		l.t.Fatal(err)
	}
	l.untilItIsAwake()
	time.Sleep(time.Duration(l.dice.IntN(400)) * time.Millisecond)
	if err := cmd.Process.Signal(end); err != nil {
		l.t.Fatal(err)
	}
	err = cmd.Wait()
	if exit, killed := err.(*exec.ExitError); killed && exit.ExitCode() > 0 || !killed && end == syscall.SIGKILL {
		l.t.Fatalf("the daemon ended by itself: %v\n%s", err, l.stderr.String())
	}
}

// untilItIsAwake waits until the daemon has spoken to anybody; one life in four is
// ended without waiting for that.
func (l *lab) untilItIsAwake() {
	asked := l.script.asked()
	for i := 0; i < 400 && l.dice.IntN(1600) > 0 && l.script.asked() == asked; i++ {
		time.Sleep(5 * time.Millisecond)
	}
}

// mend makes everything well, and lets the daemon live until every text is heard
// and nothing is on its way any more.
func (l *lab) mend() {
	l.script.mends(true)
	for range 40 {
		l.clock.set(l.now, true)
		l.live(syscall.SIGTERM)
		if l.unheard() == 0 && l.waiting() == 0 {
			return
		}
		l.now = l.now.Add(2 * time.Hour)
	}
}

// waiting counts what is heard or said in part.
func (l *lab) waiting() int {
	return number(l.t, l.db, `SELECT (SELECT count(*) FROM inbox WHERE done_at IS NULL) +
		(SELECT count(*) FROM outbox WHERE state IN ('queued', 'sending') AND medium = 'text')`)
}

// unheard counts the texts that people wrote and nobody has.
func (l *lab) unheard() int {
	return len(l.said) - number(l.t, l.db, `SELECT count(DISTINCT words) FROM inbox WHERE words LIKE 'creek%' OR words LIKE 'estado%'`)
}

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

// TestLabOfBadDays kills the real program at random moments while its service, its
// mail and its clock go wrong, and then looks at what was lost, doubled or misdated.
func TestLabOfBadDays(t *testing.T) {
	kills := labKills
	if long := os.Getenv("STUBBLED_LAB"); long != "" {
		var err error
		if kills, err = strconv.Atoi(long); err != nil {
			t.Fatal("STUBBLED_LAB is a number of kills:", err)
		}
	}
	l := newLab(t, uint64(kills))
	l.clock.set(l.now, true)
	for n := range kills {
		l.peopleWrite(n)
		l.script.mends(l.dice.IntN(3) == 0)
		switch l.dice.IntN(8) {
		case 0:
			l.clock.set(time.Unix(int64(1000+n), 0), false)
			l.count["lives in 1970"]++
		case 1:
			l.clock.set(l.now.AddDate(1, 0, 0), false)
			l.count["lives a year ahead"]++
		default:
			l.clock.set(l.now, true)
		}
		l.live(syscall.SIGKILL)
		l.count["kills"]++
		l.now = l.now.Add(time.Duration(3+l.dice.IntN(6)) * time.Hour)
	}
	l.mend()
	l.judge()
}

func (l *lab) judge() {
	t := l.t
	if n := l.waiting() + l.unheard(); n > 0 {
		t.Errorf("%d texts or answers wait for ever", n)
	}
	l.nothingLost()
	l.nothingDoubled()
	l.rightDays()
	for _, secret := range []string{labSecret, labToken} {
		if strings.Contains(l.stderr.String(), secret) {
			t.Error("a secret stands in the journal")
		}
	}
	for address, why := range map[string]string{"+15555550144": "a phone", "cole@example.org": "the only way to its owner"} {
		if n := number(t, l.db, `SELECT count(*) FROM suppressed WHERE address = ?`, address); n > 0 {
			t.Errorf("a forged mail silenced %s", why)
		}
	}
	for _, way := range slices.Sorted(maps.Keys(l.script.did)) {
		t.Logf("%8d x  %s", l.script.did[way], way)
	}
	l.count["texts that went out"], l.count["mails that went out"] = len(l.net.took), len(l.post.sent)
	for _, what := range slices.Sorted(maps.Keys(l.count)) {
		t.Logf("%8d    %s", l.count[what], what)
	}
}

// nothingLost: every text was heard and answered, and nothing that is worth saying
// twice ended unknown or failed.
func (l *lab) nothingLost() {
	t := l.t
	if n := number(t, l.db, `SELECT count(*) FROM inbox WHERE sender = '+15555550142' AND words LIKE 'creek%'`); n == 0 {
		t.Error("the daemon heard nothing: it was hardly alive")
	}
	if n := number(t, l.db, `SELECT count(*) FROM inbox i WHERE (words LIKE 'creek%' OR words LIKE 'estado%')
			AND NOT EXISTS (SELECT 1 FROM outbox o WHERE o.inbox = i.id)`); n > 0 {
		t.Errorf("%d texts have no answer", n)
	}
	s, err := store.OpenRead(t.Context(), l.db)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	all, err := s.Fates(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range all {
		l.count["outbox: "+string(f.State)]++
		once := number(t, l.db, `SELECT count(*) FROM outbox o JOIN messages m ON m.id = o.message WHERE o.id = ? AND m.repeats IS NULL`, f.ID) > 0
		if f.State == store.Queued {
			t.Logf("%s to %s by %s waits from %s to %s: %s; now %s", f.Notice.Kind, f.Notice.To, f.Notice.Medium, f.Notice.NotBefore, f.Notice.GoodUntil, f.Why, l.now)
		}
		switch own := !f.Changed.Before(f.Notice.GoodUntil); {
		case own || f.Notice.Medium != ladder.Text: // its own time ended it
		case f.State == store.Unknown && f.Notice.Kind.Twice() && once:
			t.Errorf("%s to %s was never repeated: %s", f.Notice.Kind, f.Notice.To, f.Why)
		case f.State == store.Failed:
			t.Errorf("%s to %s failed: %s", f.Notice.Kind, f.Notice.To, f.Why)
		}
	}
}

// nothingDoubled: a text that left once leaves again only as another one that says
// so.
func (l *lab) nothingDoubled() {
	refs, marked := map[string]int{}, 0
	for _, text := range l.net.took {
		refs[text.Ref]++
		if strings.HasPrefix(text.Text, "May be a repeat") || strings.HasPrefix(text.Text, "Puede ser repet") {
			marked++
		}
	}
	l.count["marked as repeats"] = marked
	for ref, n := range refs {
		if n > 1 {
			l.t.Errorf("one text (%s) left %d times", ref, n)
		}
	}
}

// rightDays: every reading has the day on which it was texted, whatever the clock
// showed.
func (l *lab) rightDays() {
	zone, err := time.LoadLocation("America/Chicago")
	if err != nil {
		l.t.Fatal(err)
	}
	for words, at := range l.said {
		if !strings.HasPrefix(words, "creek") {
			continue
		}
		day := at.In(zone).Format("2006-01-02")
		if n := number(l.t, l.db, `SELECT count(*) FROM facts WHERE kind = 'reading' AND words = ? AND day <> ?`, words, day); n > 0 {
			l.t.Errorf("%q of %s has another day", words, day)
		}
	}
}
