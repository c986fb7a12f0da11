package spool

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// A trouble is what is wrong with the modem or smsd, in words that say what to
// do about it. They are told apart because each has its own mend.
type trouble string

const (
	stuck      trouble = "texts wait in the spool and smsd does not send them: look at the end of smsd's log"
	dead       trouble = "smsd does not run: start it with 'systemctl restart smstools', then look at its log if it ends again"
	silent     trouble = "smsd has not spoken with the modem for too long: restart it with 'systemctl restart smstools'; if that does not help pull the modem out and put it back"
	unplugged  trouble = "the modem is unplugged, or its device has another name: plug it in, name it by its /dev/serial/by-id/ name in smsd.conf, then 'systemctl restart smstools'"
	mute       trouble = "the modem does not answer: pull it out, count to ten, put it back; if that does not help try another USB port with more power"
	noSIM      trouble = "the modem has no SIM, or cannot read it: put the SIM in"
	wantsPIN   trouble = "the SIM wants a PIN: write 'pin = ' and the PIN under the modem in smsd.conf, or take the PIN off in a phone; three wrong ones lock the SIM"
	wantsPUK   trouble = "the SIM is locked: put it in a phone and enter the PUK from its papers"
	noNetwork  trouble = "the modem finds no network: move it to a window or give it an outdoor antenna, and see that the SIM is paid for"
	refused    trouble = "the network does not let the SIM in: see that it is paid for and its operator still serves this kind of modem"
	full       trouble = "the SIM is full and hears nothing more: set 'incoming = yes' and 'receive_before_send = yes' under the modem in smsd.conf, or empty the SIM in a phone"
	blocked    trouble = "smsd stopped sending for a while after failures: see its log for the reason, and set 'blocktime = 300' in smsd.conf"
	handlerOut trouble = "smsd gave the modem up and will not try again by itself: mend what its log says, then 'systemctl restart smstools'"
	unreadable trouble = "smsd may not read the texts we hand over: its folders must belong to the user smsd, mode 2770"
)

func (t trouble) Error() string { return string(t) }

// with adds what was seen.
func (t trouble) with(detail string) error {
	if detail == "" {
		return t
	}
	return fmt.Errorf("%w (%s)", t, detail)
}

// signs is everything that health can see.
type signs struct {
	running  bool // false only where that is known
	waiting  time.Duration
	folder   string // where the longest-waiting message stands
	state    state
	stateAge time.Duration // 0 where no state is kept
	badFor   time.Duration // how long the state has been bad
	log      verdict
}

// lookEvery is how often smsd's own files are read, at most.
const lookEvery = 10 * time.Second

// health looks at smsd and its modem; nil where nothing is wrong.
func (s *Spool) health() error {
	s.looking.Lock()
	defer s.looking.Unlock()
	now := s.now()
	if since := now.Sub(s.watch.looked); since >= 0 && since < min(lookEvery, s.o.Stale/4) {
		return s.watch.last
	}
	sg, err := s.look(now)
	if err == nil {
		err = diagnose(sg, s.o.Stale)
	}
	s.watch.looked, s.watch.last = now, err
	return err
}

// look gathers the signs.
func (s *Spool) look(now time.Time) (signs, error) {
	files, err := s.waiting()
	if err != nil {
		return signs{}, err
	}
	sg := signs{running: alive(s.o.PIDFile), log: readLog(tail(s.o.LogFile, 64<<10))}
	sg.waiting, sg.folder = s.longest(files, now)
	if s.o.StateFile != "" {
		s.readState(now)
		if !s.watch.stateAt.IsZero() { // smsd writes one at all
			sg.state, sg.stateAge = s.watch.state, max(0, now.Sub(s.watch.stateAt))
		}
	}
	if sg.state.trouble() == "" {
		s.watch.bad = time.Time{}
	} else if s.watch.bad.IsZero() || s.watch.bad.After(now) {
		s.watch.bad = now
	}
	if !s.watch.bad.IsZero() {
		sg.badFor = now.Sub(s.watch.bad)
	}
	return sg, nil
}

// readState takes the modem's newest answers. smsd drops the file and writes
// it anew line by line, so an old answer stands until a newer one is whole.
func (s *Spool) readState(now time.Time) {
	info, err := os.Stat(s.o.StateFile)
	if err != nil {
		return
	}
	st := parseState(tail(s.o.StateFile, 16<<10))
	whole := st.room > 0 || now.Sub(info.ModTime()) > 5*time.Second
	if st.pin != "" && (whole || st.trouble() != "") {
		s.watch.state, s.watch.stateAt = st, info.ModTime()
	}
}

// diagnose tells the troubles apart; nil is well. The surest sign comes first.
func diagnose(sg signs, stale time.Duration) error {
	state := sg.state.trouble()
	switch old, waits := sg.stateAge >= stale, sg.waiting >= stale; {
	case !sg.running:
		return dead
	case sg.log.gaveUp && sg.log.trouble != handlerOut:
		return sg.log.trouble.with("then 'systemctl restart smstools', since smsd has given the modem up")
	case sg.log.gaveUp:
		return handlerOut
	case state != "" && (sg.badFor >= stale || state == wantsPIN || state == wantsPUK):
		return state.with(signalWords(sg.state))
	case sg.log.trouble != "" && (old || waits):
		return sg.log.trouble
	case old:
		return silent.with("for " + inWords(sg.stateAge) + " by its regular_run_statfile")
	case state != "" && waits:
		return state.with(signalWords(sg.state))
	case waits:
		return stuck.with(fmt.Sprintf("one has been in %s for %s", sg.folder, inWords(sg.waiting)))
	}
	return nil
}

func signalWords(st state) string {
	if st.signal < 0 || st.signal == 99 {
		return ""
	}
	return "signal " + strconv.Itoa(st.signal) + " of 31"
}

// alive reports whether the process of a pidfile runs, or nobody can tell.
func alive(pidfile string) bool {
	if pidfile == "" {
		return true
	}
	data, err := os.ReadFile(pidfile)
	if err != nil {
		return !errors.Is(err, fs.ErrNotExist)
	}
	pid, err := strconv.Atoi(strings.TrimSpace(string(data)))
	if err != nil || pid <= 1 {
		return true
	}
	err = syscall.Kill(pid, 0)
	return err == nil || errors.Is(err, syscall.EPERM)
}
