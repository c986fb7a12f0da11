package spool

import (
	"bufio"
	"bytes"
	"io"
	"os"
	"regexp"
	"strconv"
	"strings"
)

// state is the modem as it last answered smsd's regular questions, which the
// README's smsd.conf asks: AT+CPIN?, AT+CREG?, AT+CSQ and AT+CPMS? (3GPP
// TS 27.007 and 27.005).
type state struct {
	pin        string // READY, SIM PIN, SIM PUK, no SIM; empty: unknown
	registered int    // 1 home, 5 roaming, 0 and 2 searching, 3 denied; -1 unknown
	signal     int    // 0-31; 99 or -1 unknown
	used, room int    // messages on the SIM; 0, 0 unknown
}

var (
	stateLine = regexp.MustCompile(`CMD: AT(\+[A-Z]+)\?*: (.*)$`)
	creg      = regexp.MustCompile(`\+CREG: \d,(\d)`)
	csq       = regexp.MustCompile(`\+CSQ: (\d+),`)
	cpms      = regexp.MustCompile(`\+CPMS: "[A-Z]+",(\d+),(\d+)`)
)

// parseState reads a regular_run_statfile, whose lines are as in smsd's log.
func parseState(data []byte) state {
	st := state{registered: -1, signal: -1}
	lines := bufio.NewScanner(bytes.NewReader(data))
	for lines.Scan() {
		f := stateLine.FindStringSubmatch(strings.TrimSpace(lines.Text()))
		if f == nil {
			continue
		}
		st.answer(f[1], f[2])
	}
	return st
}

func (st *state) answer(command, answer string) {
	switch command {
	case "+CPIN":
		for _, says := range [][2]string{{"READY", "READY"}, {"SIM PUK", "SIM PUK"}, {"SIM PIN", "SIM PIN"}, {"ERROR", "no SIM"}} {
			if strings.Contains(answer, says[0]) {
				st.pin = says[1]
				break
			}
		}
	case "+CREG":
		st.registered = number(creg, answer, 1, -1)
	case "+CSQ":
		st.signal = number(csq, answer, 1, -1)
	case "+CPMS":
		st.used, st.room = number(cpms, answer, 1, 0), number(cpms, answer, 2, 0)
	}
}

// trouble is what is wrong by the modem's own answers.
func (st state) trouble() trouble {
	switch {
	case st.pin == "SIM PIN":
		return wantsPIN
	case st.pin == "SIM PUK":
		return wantsPUK
	case st.pin == "no SIM":
		return noSIM
	case st.pin == "": // nothing is known
		return ""
	case st.registered == 3:
		return refused
	case st.registered == 0 || st.registered == 2:
		return noNetwork
	case st.room > 0 && st.used*10 >= st.room*9:
		return full
	}
	return ""
}

func number(re *regexp.Regexp, s string, group, other int) int {
	if m := re.FindStringSubmatch(s); m != nil {
		if n, err := strconv.Atoi(m[group]); err == nil {
			return n
		}
	}
	return other
}

// tail reads the last part of a file; nil where it cannot be read.
func tail(name string, most int64) []byte {
	f, err := os.Open(name)
	if err != nil {
		return nil
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil
	}
	data, err := io.ReadAll(io.NewSectionReader(f, max(0, info.Size()-most), most))
	if err != nil {
		return nil
	}
	return data
}

// sayings are lines of smsd's log and what they tell: none, that the trouble
// before is over. They are smsd 3.1.21's own words, each seen by running it.
var sayings = []struct {
	line    *regexp.Regexp
	trouble trouble
}{
	{regexp.MustCompile(`terminated while mainprocess is still running`), handlerOut},
	{regexp.MustCompile(`Your SIM is locked`), wantsPUK},
	{regexp.MustCompile(`needs PIN, but it's not defined|did not accept this PIN`), wantsPIN},
	{regexp.MustCompile(`SIM not inserted|\(SIM failure\)`), noSIM},
	{regexp.MustCompile(`(Couldn't|Cannot) open serial port|write_to_modem: error|device not found|Cannot open device`), unplugged},
	{regexp.MustCompile(`not ready to answer commands|[Mm]odem did not answer|Unable to talk with modem|Command failed`), mute},
	{regexp.MustCompile(`MODEM IS NOT REGISTERED|Modem is not registered`), noNetwork},
	{regexp.MustCompile(`Blocking \d+ sec`), blocked},
	{regexp.MustCompile(`Access denied\. Check the file`), unreadable},
	{regexp.MustCompile(`Smsd v\S+ started|Modem is registered|SMS sent|SMS received|CMD: AT\+CREG\?: \+CREG: \d,[15]`), ""},
}

// A verdict is the last thing that smsd's log tells.
type verdict struct {
	trouble trouble // empty: nothing is wrong by the log
	gaveUp  bool    // smsd will not try the modem again before it is restarted
}

// readLog reads the end of smsd's log. What made smsd give a modem up stands
// before the line that says so.
func readLog(data []byte) verdict {
	var v verdict
	for line := range bytes.Lines(data) {
		for _, s := range sayings {
			if !s.line.Match(line) {
				continue
			}
			if s.trouble == handlerOut && v.trouble != "" {
				v.gaveUp = true
			} else {
				v = verdict{s.trouble, s.trouble == handlerOut}
			}
			break
		}
	}
	return v
}
