package main

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"stubbled/cmd/stubbled/internal/farmtest"
)

// labKills is how often the daemon is killed in the short form; STUBBLED_LAB says
// another number. No farm dies oftener than labMost times: another one is taken.
const (
	labKills = 24
	labMost  = 200
)

// labFarm is an invented farm on carriers that are all on this machine: texts by one
// of labWays, calls, and mail both ways.
const labFarm = farmtest.Text + `
  - {name: Cole, role: owner, email: cole@example.org}
carriers:
  sms: %[1]s
  call:
    url: %[2]s/calls
    encoding: json
    fields: {Ref: "{{.ID}}", To: "{{.To}}", Text: "{{.Text}}"}
    id_path: id
    timeout: 1 s
    rate: 20 per second
  email:
    from: farm@example.org
    token_file: %[5]s
    smtp: {host: 127.0.0.1, port: %[3]d, tls: plain, timeout: 5 s}
    imap: {host: 127.0.0.1, port: %[4]d, tls: plain, user: farm, password_file: %[6]s, timeout: 5 s}
backup: {at: "03:00"}
`

// A labWay is a way of texts: the simplest service, which counts nothing once; one
// that counts a repeated key once; a modem.
type labWay string

const (
	plainService labWay = "a service without a key"
	keyedService labWay = "a service with a key"
	modemSpool   labWay = "a modem"
)

var labWays = []labWay{plainService, keyedService, modemSpool}

func (w labWay) section(net, spool string) string {
	if w == modemSpool {
		return fmt.Sprintf(`{via: spool, spool: {dir: %s, pid_file: none, log_file: none, state_file: none, poll: 1 s}}`, spool)
	}
	key := ""
	if w == keyedService {
		key = "idempotency: Idempotency-Key, "
	}
	return fmt.Sprintf(`{via: http, http: {url: %[1]s/texts, encoding: json, fields: {Ref: "{{.ID}}", To: "{{.To}}", Text: "{{.Text}}"},
    id_path: id, timeout: 1 s, rate: 20 per second, %[2]spoll: {url: %[1]s/inbox, every: 10 s, list_path: texts, id_path: id, from_path: from, text_path: text, sent_path: at}}}`, net, key)
}

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

// A lab is a farm whose carriers, mail server, clock and power cannot be relied on.
type lab struct {
	t      *testing.T
	way    labWay
	dice   *rand.Rand
	script *script
	farm   string
	db     string
	clock  labClock
	board  *board
	net    *phoneNetwork
	modem  *labModem // nil in the ways without one
	post   *postOffice
	zone   *time.Location
	now    time.Time            // the true time
	said   map[string]time.Time // what was texted, by its words, and when
	met    [works]int           // kills by what they met
	copied time.Time            // when the copy that a kill left half made was last written to
	count  tally
	stderr bytes.Buffer
}

// A tally is how often what.
type tally map[string]int

const labSecret, labToken = "an invented password", "an invented token of 32 octets ok"

func newLab(t *testing.T, way labWay, seed uint64) *lab {
	s, dir := newScript(seed), t.TempDir()
	l := &lab{t: t, way: way, dice: rand.New(rand.NewPCG(seed, 1)), script: s, net: newPhoneNetwork(t, s), post: newPostOffice(t, s),
		clock: labClock{file: filepath.Join(dir, "clock")}, said: map[string]time.Time{}, count: tally{}}
	var err, failed error
	l.zone, err = time.LoadLocation("America/Chicago")
	l.board, failed = openBoard(filepath.Join(dir, "board"))
	for name, text := range map[string]string{"token": labToken, "password": labSecret} {
		err = errors.Join(err, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600))
	}
	if err = errors.Join(err, failed); err != nil {
		t.Fatal(err)
	}
	l.now = time.Date(2026, time.August, 18, 12, 0, 0, 0, time.UTC) // no file that this machine dates is older
	l.clock.set(l.now, true)
	spool := ""
	if way == modemSpool {
		l.modem = newModem(t, s, l.clock)
		spool = l.modem.dir
	}
	l.farm = farmtest.File(t, fmt.Sprintf(labFarm, way.section(l.net.URL, spool), l.net.URL, l.post.smtpPort, l.post.imapPort,
		filepath.Join(dir, "token"), filepath.Join(dir, "password")))
	l.db = filepath.Join(filepath.Dir(l.farm), "stubbled.db")
	return l
}

// TestLabOfBadDays kills the real program at random moments while its carriers, its
// mail and its clock go wrong, and then looks at what was lost, doubled or misdated.
func TestLabOfBadDays(t *testing.T) {
	kills, seed := labKills, uint64(1)
	if long := os.Getenv("STUBBLED_LAB"); long != "" {
		var err error
		if kills, err = strconv.Atoi(long); err != nil {
			t.Fatal("STUBBLED_LAB is a number of kills:", err)
		}
		seed = uint64(time.Now().UnixNano())
	}
	farms := max(len(labWays), (kills+labMost-1)/labMost)
	var all sync.Mutex
	count := tally{}
	t.Run("farms", func(t *testing.T) {
		for n := range farms {
			t.Run(fmt.Sprint(n), func(t *testing.T) {
				t.Parallel()
				l := newLab(t, labWays[n%len(labWays)], seed+uint64(n))
				t.Logf("%s; seed %d", l.way, seed+uint64(n))
				l.season(kills/farms + min(1, kills%farms))
				for w, times := range l.met {
					l.count["kill: "+workNames[w]] = times
				}
				t.Logf("%v", l.count) // a long run may be stopped
				all.Lock()
				defer all.Unlock()
				count.add(l.count)
			})
		}
	})
	count.log(t)
}

// season is the farm's life of so many kills, after a whole one and before another.
func (l *lab) season(kills int) {
	l.mend() // the first clock of all is believed
	for n := range kills {
		l.peopleWrite(n)
		l.script.mends(l.dice.IntN(3) == 0)
		switch l.dice.IntN(10) {
		case 0:
			l.clock.set(time.Unix(int64(1000+n), 0), false)
			l.count["life in 1970"]++
		case 1:
			l.clock.set(l.now.AddDate(1, 0, 0), false)
			l.count["life a year ahead"]++
		default:
			l.clock.set(l.now, true)
		}
		l.killed(l.aim())
		l.timeGoes()
	}
	l.mend()
	l.judge()
}

// people write something or nothing, by text and by mail, some of it forged.
func (l *lab) peopleWrite(n int) {
	writer := []string{"+15555550142", "+15555550142", "+15555550144"}[n%3]
	l.texts(writer, fmt.Sprintf("creek %d %d %d", 5+n%9, 5+n/9%50, 5+n/450%9))
	switch l.dice.IntN(12) {
	case 0, 1:
		l.texts("+15555550143", fmt.Sprintf("estado creek %d", n))
	case 2, 3:
		l.write("+15555550199", "off creek") // nobody's
		l.count["text: a stranger's"]++
	case 4, 5:
		l.post.writes("ruth@example.org", "stop", true, n, l.now)
		l.post.writes("cole@example.org", "stop", true, -n, l.now)
		l.count["mail: forged"] += 2
	case 6, 7:
		l.post.writes("cole@example.org", "status", false, n, l.now)
		l.count["mail: heard"]++
	case 8:
		l.texts("+15555550143", fmt.Sprintf("vaca muerta en lane %d", n))
	case 9:
		l.texts("+15555550142", "clear lane")
	}
}

// texts is a text that must be heard and answered.
func (l *lab) texts(phone, words string) {
	l.write(phone, words)
	l.said[words] = l.now
	l.count["text: written"]++
}

func (l *lab) write(phone, words string) {
	if l.modem != nil {
		l.modem.writes(phone, words, l.now.In(l.zone))
		return
	}
	l.net.writes(phone, words, l.now)
}

// timeGoes: minutes or hours pass in the dark; the modem's server works on.
func (l *lab) timeGoes() {
	gap := time.Duration(1+l.dice.IntN(9)) * time.Minute
	if l.dice.IntN(9) == 0 {
		gap = time.Duration(3+l.dice.IntN(6)) * time.Hour
	}
	if l.modem != nil && gap > time.Hour {
		l.modem.catchesUp()
	}
	l.now = l.now.Add(gap)
}

// A labAim is when a life ends: a while after it is at some work, for the first
// time or a later one.
type labAim struct {
	at   work
	nth  int
	then time.Duration
}

// labAims are what lives are ended at, each as often as it stands there.
var labAims = []work{starting, starting, accepting, accepting, hearing, hearing, planning, claiming, claiming, claiming,
	sending, sending, sending, sending, settling, settling, settling, settling, backingUp, waiting, waiting}

// aim draws one: often at work, now and then at any moment.
func (l *lab) aim() labAim {
	within := func(d time.Duration) time.Duration { return time.Duration(l.dice.Int64N(int64(d))) }
	w := labAims[l.dice.IntN(len(labAims))]
	switch w {
	case starting:
		return labAim{w, 1, within(150 * time.Millisecond)}
	case waiting:
		return labAim{w, 1, within(1200 * time.Millisecond)}
	case backingUp: // the next night is over, and all is well
		l.now = time.Date(l.now.Year(), l.now.Month(), l.now.Day()+1, 9, 30, 0, 0, time.UTC)
		l.clock.set(l.now, true)
		l.script.mends(true)
		return labAim{w, 1, within(10 * time.Millisecond)}
	}
	nth := 1
	if w == claiming || w == sending || w == settling {
		nth += l.dice.IntN(5)
	}
	return labAim{w, nth, within(3 * time.Millisecond)}
}

// killed is a life that is ended at its aim, or where it comes to nothing of that
// kind, after a while.
func (l *lab) killed(a labAim) {
	l.copied = l.copyBegun()
	cmd := l.begin()
	for since := time.Now(); !l.reached(a.at, a.nth); time.Sleep(250 * time.Microsecond) {
		if l.board.at(starting) {
			since = time.Now()
		}
		if time.Since(since) > 800*time.Millisecond {
			break
		}
	}
	time.Sleep(a.then)
	l.end(cmd, syscall.SIGKILL)
	met := l.board.met()
	if l.reached(backingUp, 1) {
		met = backingUp
	}
	l.met[met]++
}

func (l *lab) reached(w work, nth int) bool {
	switch w {
	case starting:
		return true
	case backingUp:
		begun := l.copyBegun()
		return !begun.IsZero() && !begun.Equal(l.copied)
	case waiting:
		return l.board.met() == waiting
	}
	return l.board.at(w) && l.board.times(w) >= nth
}

// copyBegun is when the night's copy was last written to, before it had its name;
// zero where there is none such.
func (l *lab) copyBegun() time.Time {
	half, _ := filepath.Glob(filepath.Join(filepath.Dir(l.db), "backups", "*.part"))
	for _, name := range half {
		if info, err := os.Stat(name); err == nil {
			return info.ModTime()
		}
	}
	return time.Time{}
}

// begin starts the real program.
func (l *lab) begin() *exec.Cmd {
	exe, err := os.Executable()
	if err != nil {
		l.t.Fatal(err)
	}
	l.board.startsAnew()
	cmd := exec.Command(exe)
	cmd.Env = append(os.Environ(), "GOGC=off", "STUBBLED_TEST_CHILD=1", "STUBBLED_TEST_FARM="+l.farm,
		"STUBBLED_TEST_CLOCK="+l.clock.file, "STUBBLED_TEST_BOARD="+filepath.Join(filepath.Dir(l.clock.file), "board"))
	cmd.Stderr = &l.stderr
	if err := cmd.Start(); err != nil {
		l.t.Fatal(err)
	}
	return cmd
}

// end kills it, or asks it to end; it may not have done so by itself.
func (l *lab) end(cmd *exec.Cmd, how syscall.Signal) {
	failed := cmd.Process.Signal(how)
	err := cmd.Wait()
	exit, killed := err.(*exec.ExitError)
	if failed != nil || killed && exit.ExitCode() > 0 || !killed && how == syscall.SIGKILL {
		l.t.Fatalf("the daemon ended by itself: %v\n%s", err, l.stderr.String())
	}
}

// mend makes everything well, and lets the daemon live until every text is heard
// and nothing is on its way any more.
func (l *lab) mend() {
	l.script.mends(true)
	for range 40 {
		l.clock.set(l.now, true)
		cmd := l.begin()
		left := l.untilNothingMoves()
		l.end(cmd, syscall.SIGTERM)
		if left == 0 {
			return
		}
		l.now = l.now.Add(2 * time.Hour)
	}
}

// untilNothingMoves waits while a daemon that is well gets on, and gives how much is
// left to do: what comes back only hours later.
func (l *lab) untilNothingMoves() (left int) {
	for l.board.at(starting) {
		time.Sleep(time.Millisecond)
	}
	for still, since := 0, time.Now(); still < 12 && time.Since(since) < 20*time.Second; still++ {
		time.Sleep(60 * time.Millisecond)
		now := l.unheard() + l.onItsWay()
		if now != left || l.board.met() != waiting {
			still = 0
		}
		if left = now; left == 0 && still > 2 {
			break
		}
	}
	return left
}

// onItsWay counts what is heard or said in part.
func (l *lab) onItsWay() int {
	return number(l.t, l.db, `SELECT (SELECT count(*) FROM inbox WHERE done_at IS NULL) +
		(SELECT count(*) FROM outbox WHERE state IN ('queued', 'sending') AND medium IN ('text', 'call'))`)
}

// unheard counts the texts that people wrote and nobody has.
func (l *lab) unheard() int {
	return len(l.said) - number(l.t, l.db, `SELECT count(DISTINCT words) FROM inbox WHERE carrier = 'sms' AND `+toBeAnswered)
}

// toBeAnswered are the texts of the inbox that people of the farm wrote.
const toBeAnswered = `(words LIKE 'creek%' OR words LIKE 'estado%' OR words LIKE 'vaca%' OR words LIKE 'clear%')`

func (c tally) add(other tally) {
	for what, n := range other {
		c[what] += n
	}
}

// took are the texts and calls that left.
func (l *lab) took() []labText {
	all := l.net.texts()
	if l.modem != nil {
		l.modem.catchesUp()
		all = append(all, l.modem.texts()...)
	}
	return all
}

// repeated reports whether a text says of itself that it may be one.
func (t labText) repeated() bool {
	return strings.Contains(t.Text, "May be a repeat") || strings.Contains(t.Text, "Puede ser repet")
}
