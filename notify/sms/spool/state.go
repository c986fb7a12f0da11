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
		switch {
		case strings.Contains(answer, "READY"):
			st.pin = "READY"
		case strings.Contains(answer, "SIM PUK"):
			st.pin = "SIM PUK"
		case strings.Contains(answer, "SIM PIN"):
			st.pin = "SIM PIN"
		case strings.Contains(answer, "ERROR"):
			st.pin = "no SIM"
		}
	case "+CREG":
		st.registered = number(creg, answer, 1, -1)
	case "+CSQ":
		st.signal = number(csq, answer, 1, -1)
	case "+CPMS":
		st.used, st.room = number(cpms, answer, 1, 0), number(cpms, answer, 2, 0)
	}
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
	if name == "" {
		return nil
	}
	f, err := os.Open(name)
	if err != nil {
		return nil
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil && info.Size() > most {
		if _, err := f.Seek(-most, io.SeekEnd); err != nil {
			return nil
		}
	}
	data, err := io.ReadAll(io.LimitReader(f, most))
	if err != nil {
		return nil
	}
	return data
}
