package spool

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"
	"time"
)

func stateFile(pin, creg, csq, cpms string) string {
	const at = "2026-08-22 06:30:00,5, GSM1: CMD: "
	return at + "AT+CPIN?: " + pin + "\n" + at + "AT+CREG?: " + creg + "\n" + at + "AT+CSQ: " + csq + "\n" + at + "AT+CPMS?: " + cpms + "\n"
}

const (
	ready, home, strong = "+CPIN: READY OK", "+CREG: 0,1 OK", "+CSQ: 21,99 OK"
	roomy               = `+CPMS: "SM",2,20,"SM",2,20,"SM",2,20 OK`
)

// The lines are smsd 3.1.21's own.
func TestTheModemsOwnAnswersTellWhatIsWrong(t *testing.T) {
	for name, c := range map[string]struct {
		file    string
		trouble trouble
	}{
		"all is well":          {stateFile(ready, home, strong, roomy), ""},
		"roaming is well":      {stateFile(ready, "+CREG: 2,5,\"00C3\",\"0000\" OK", strong, roomy), ""},
		"the SIM wants a PIN":  {stateFile("+CPIN: SIM PIN OK", home, strong, roomy), wantsPIN},
		"the SIM wants a PUK":  {stateFile("+CPIN: SIM PUK OK", home, strong, roomy), wantsPUK},
		"no SIM":               {stateFile("+CME ERROR: 10 (SIM not inserted)", home, strong, roomy), noSIM},
		"searching":            {stateFile(ready, "+CREG: 0,2 OK", "+CSQ: 99,99 OK", roomy), noNetwork},
		"let in nowhere":       {stateFile(ready, "+CREG: 0,3 OK", strong, roomy), refused},
		"the SIM is full":      {stateFile(ready, home, strong, `+CPMS: "SM",20,20,"SM",20,20,"SM",20,20 OK`), full},
		"no store is told":     {stateFile(ready, home, strong, "ERROR"), ""},
		"nothing, as yet":      {"", ""},
		"something else":       {"hello\x00\n\n", ""},
		"a number off the map": {stateFile(ready, "+CREG: 0,9 OK", "+CSQ: 99999999999999999999,99", "+CPMS: \"SM\",9999999999999999999999,1"), ""},
	} {
		t.Run(name, func(t *testing.T) {
			if got := parseState([]byte(c.file)).trouble(); got != c.trouble {
				t.Errorf("got %q, want %q", got, c.trouble)
			}
		})
	}
}

func TestSmsdsLogTellsWhatIsWrong(t *testing.T) {
	const at = "2026-11-25 13:05:03,5, GSM1: "
	well := at + "CMD: AT+CREG?: +CREG: 0,1 OK\n"
	for name, c := range map[string]struct {
		log  string
		want verdict
	}{
		"well": {well, verdict{}},
		"no network": {well + at + "MODEM IS NOT REGISTERED, WAITING 1 SEC. BEFORE RETRYING 2. TIME\n",
			verdict{trouble: noNetwork}},
		"found again": {at + "MODEM IS NOT REGISTERED, WAITING 1 SEC. BEFORE RETRYING 2. TIME\n" + well, verdict{}},
		"pulled out": {well + at + "write_to_modem: error 5: Input/output error\n",
			verdict{trouble: unplugged}},
		"never there": {at + "Couldn't open serial port /dev/x, error: No such file or directory, waiting 30 sec.\n",
			verdict{trouble: unplugged}},
		"locked, and given up": {at + "Your SIM is locked. Unlock it manually\n" +
			at + "Modem handler 0 terminated abnormally. PID: 20429, was started 26-11-25 13:09:03, up 0 min.\n" +
			"2026-11-25 13:09:04,2, smsd: Modem handler 0 (GSM1) terminated while mainprocess is still running. Exited, status 1.\n",
			verdict{trouble: wantsPUK, gaveUp: true}},
		"given up, nobody knows why": {well + "2026-11-25 13:09:04,2, smsd: Modem handler 0 (GSM1) terminated while mainprocess is still running. Exited, status 1.\n",
			verdict{trouble: handlerOut, gaveUp: true}},
		"started again": {"2026-11-25 13:09:04,2, smsd: Modem handler 0 (GSM1) terminated while mainprocess is still running. Exited, status 1.\n" +
			"2026-11-25 13:10:04,2, smsd: Smsd v3.1.21 started.\n", verdict{}},
		"our files are not readable": {"2026-11-25 13:09:52,3, smsd: Cannot handle /x/outgoing/m1: Access denied. Check the file and directory permissions.\n",
			verdict{trouble: unreadable}},
		"no SIM at the start": {at + "PIN handling: expected READY or OK, modem answered +CME ERROR: 10  (SIM not inserted), SIM not inserted\n",
			verdict{trouble: noSIM}},
	} {
		t.Run(name, func(t *testing.T) {
			if got := readLog([]byte(c.log)); got != c.want {
				t.Errorf("got %+v, want %+v", got, c.want)
			}
		})
	}
}

func TestTroubleIsToldWithinMinutesAndNotTooSoon(t *testing.T) {
	const stale = 5 * time.Minute
	wellState := parseState([]byte(stateFile(ready, home, strong, roomy)))
	searching := parseState([]byte(stateFile(ready, "+CREG: 0,2 OK", "+CSQ: 99,99 OK", roomy)))
	wantsPIN := parseState([]byte(stateFile("+CPIN: SIM PIN OK", home, strong, roomy)))
	network := verdict{trouble: noNetwork}
	for name, c := range map[string]struct {
		signs signs
		want  string
	}{
		"well":                                     {signs{running: true, state: wellState}, ""},
		"a text waits, but not for long":           {signs{running: true, waiting: 4 * time.Minute}, ""},
		"a text waits, and nobody knows why":       {signs{running: true, waiting: stale, folder: "checked"}, "look at the end of smsd's log"},
		"a text waits for the network":             {signs{running: true, waiting: stale, log: network}, "finds no network"},
		"nothing waits, smsd is dead":              {signs{running: false}, "does not run"},
		"the signal is gone for a moment":          {signs{running: true, state: searching, badFor: time.Minute}, ""},
		"the signal is gone":                       {signs{running: true, state: searching, badFor: stale}, "finds no network"},
		"a PIN is wanted: it will not mend itself": {signs{running: true, state: wantsPIN}, "pin = "},
		"the modem has not been asked for long":    {signs{running: true, state: wellState, stateAge: stale}, "has not spoken"},
		"not asked for long, and the log says why": {signs{running: true, state: wellState, stateAge: stale, log: verdict{trouble: mute}}, "does not answer"},
		"a line in the log, but all moves":         {signs{running: true, state: wellState, log: network}, ""},
		"smsd gave the modem up":                   {signs{running: true, log: verdict{trouble: noSIM, gaveUp: true}}, "restart smstools"},
	} {
		t.Run(name, func(t *testing.T) {
			got := ""
			if err := diagnose(c.signs, stale); err != nil {
				got = err.Error()
			}
			if (c.want == "") != (got == "") || !strings.Contains(got, c.want) {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

func TestEveryTroubleHasItsMend(t *testing.T) {
	seen := map[trouble]bool{}
	for _, tr := range []trouble{stuck, dead, silent, unplugged, mute, noSIM, wantsPIN, wantsPUK, noNetwork, refused, full, blocked, handlerOut, unreadable} {
		if len(tr) < 30 || len(tr) > 220 || seen[tr] {
			t.Errorf("%q", tr)
		}
		seen[tr] = true
	}
}

func TestAWaitingTextIsNoticedAndTheMendForgotten(t *testing.T) {
	s, c := newSpool(t)
	if out := s.Deliver(t.Context(), shut); out.Down {
		t.Fatal(out)
	}
	health := func(after time.Duration) error {
		c.t = c.t.Add(after)
		_, err := s.pass(t.Context(), newInbox().accept)
		return err
	}
	switch err := health(0); {
	case err != nil:
		t.Errorf("at once: %v", err)
	case health(4*time.Minute) != nil:
		t.Error("after four minutes")
	case !errors.Is(health(2*time.Minute), stuck):
		t.Error("it was not noticed after six minutes")
	}
	os.Rename(s.path("outgoing", shut.ID), s.path("sent", shut.ID))
	if err := health(time.Minute); err != nil {
		t.Errorf("it is sent: %v", err)
	}
}

// A machine that was off over night is not in trouble when it starts.
func TestAnOldTextAtTheStartIsGivenItsTime(t *testing.T) {
	s, c := newSpool(t)
	c.put(t, "To: 15555550142\nStubbled: m-1\n\nx", s.path("outgoing", "m-1"))
	c.t = c.t.Add(5 * time.Hour)
	if _, err := s.pass(t.Context(), newInbox().accept); err != nil {
		t.Error(err)
	}
}

func TestAPidfileTellsWhetherSmsdRuns(t *testing.T) {
	dir := t.TempDir()
	for content, want := range map[string]bool{
		fmt.Sprint(os.Getpid()): true, " 4194304\n": false, "": true, "junk": true, "-1": true, "0": true, "1": true,
	} {
		name := dir + "/pid"
		os.WriteFile(name, []byte(content), 0o600)
		if got := alive(name); got != want {
			t.Errorf("%q: got %v", content, got)
		}
	}
	if alive(dir+"/missing") || !alive("") {
		t.Error("a missing pidfile is a dead smsd, an unnamed one is not looked at")
	}
}

func TestHalfAStateFileLeavesTheOldStateStanding(t *testing.T) {
	file := t.TempDir() + "/state"
	s, c := newSpool(t, func(o *Options) { o.StateFile = file })
	step := func(data string) trouble {
		if data == "" {
			os.Remove(file)
		} else {
			c.put(t, data, file)
		}
		c.t = c.t.Add(lookEvery)
		s.pass(t.Context(), newInbox().accept)
		return s.watch.state.trouble()
	}
	step(stateFile("+CPIN: SIM PIN OK", home, strong, roomy))
	if got := step(""); got != wantsPIN {
		t.Errorf("the file is being written: %v", got)
	}
	if step(stateFile(ready, home, strong, roomy)) != "" {
		t.Error("mended")
	}
}

func TestATroubleThatLastsIsToldOnce(t *testing.T) {
	if gist(stuck.with("for 5 min")) != gist(errors.Join(nil, stuck.with("for 6 min"))) {
		t.Error("it is told again each minute")
	}
	if gist(stuck.with("")) == gist(dead.with("")) || gist(nil) == gist(stuck.with("")) {
		t.Error("another trouble is not told")
	}
}
