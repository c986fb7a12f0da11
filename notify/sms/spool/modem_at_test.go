package spool

import (
	"bufio"
	"fmt"
	"os"
	"strings"
)

// endOfPDU ends a message that is entered, the escape breaks it off
// (TS 27.005 section 3.5.1).
const endOfPDU = 0x1A

// serve answers commands until the cable is pulled.
func (m *Modem) serve(port *os.File) {
	in := bufio.NewReader(port)
	echo := true
	var line []byte
	for {
		c, err := in.ReadByte()
		if err != nil {
			return
		}
		m.mu.Lock()
		deaf := m.deaf
		m.mu.Unlock()
		if deaf {
			line = line[:0]
			continue
		}
		if echo {
			port.Write([]byte{c})
		}
		switch c {
		case '\r':
			command := strings.TrimSpace(string(line))
			line = line[:0]
			if command != "" && !m.command(port, in, command, &echo) {
				return
			}
		case '\n', endOfPDU, escape:
		default:
			line = append(line, c)
		}
	}
}

// command answers one line, which may hold several commands. It reports false
// where the port is gone.
func (m *Modem) command(port *os.File, in *bufio.Reader, line string, echo *bool) bool {
	line = strings.ToUpper(line[:min(2, len(line))]) + line[min(2, len(line)):]
	body, ok := strings.CutPrefix(line, "AT")
	if !ok {
		return m.final(port, "", -1)
	}
	for len(body) >= 2 && body[0] == 'E' {
		*echo = body[1] == '1'
		body = body[2:]
	}
	var answers []string
	for one := range strings.SplitSeq(body, ";") {
		if one == "" || one == "Z" || one == "H" || strings.HasPrefix(one, "&") {
			continue
		}
		name, arg := one, ""
		if i := strings.IndexAny(one, "=?"); i >= 0 {
			name, arg = one[:i], one[i:]
		}
		if name == "+CMGS" {
			return m.submit(port, in)
		}
		m.mu.Lock()
		answer, fault := m.answer(name, arg)
		m.mu.Unlock()
		if fault != 0 {
			return m.final(port, strings.Join(answers, "\r\n"), fault)
		}
		if answer != "" {
			answers = append(answers, answer)
		}
	}
	return m.final(port, strings.Join(answers, "\r\n"), 0)
}

// final writes an answer and its result: OK, ERROR (-1), +CME above 10000,
// +CMS otherwise.
func (m *Modem) final(port *os.File, answer string, fault int) bool {
	var out strings.Builder
	if answer != "" {
		fmt.Fprintf(&out, "\r\n%s\r\n", answer)
	}
	switch {
	case fault == 0:
		out.WriteString("\r\nOK\r\n")
	case fault < 0:
		out.WriteString("\r\nERROR\r\n")
	case fault > 10000:
		fmt.Fprintf(&out, "\r\n+CME ERROR: %d\r\n", fault-10000)
	default:
		fmt.Fprintf(&out, "\r\n+CMS ERROR: %d\r\n", fault)
	}
	_, err := port.WriteString(out.String())
	return err == nil
}

// answer is one command of TS 27.007 or 27.005; the lock is held.
func (m *Modem) answer(name, arg string) (string, int) {
	switch name {
	case "+CPIN":
		return m.answerPIN(arg)
	case "+CREG":
		if arg == "?" {
			return fmt.Sprintf("+CREG: 0,%d", m.registered), 0
		}
	case "+CSQ":
		return fmt.Sprintf("+CSQ: %d,99", m.signal), 0
	case "+CSCA":
		if arg == "?" {
			return fmt.Sprintf("+CSCA: %q,145", serviceCentre), 0
		}
	case "+CPMS":
		return m.preferred(arg)
	case "+CMGL":
		return m.list(arg), 0
	case "+CMGR":
		return m.read(arg)
	case "+CMGD":
		return "", m.drop(arg)
	case "+CNMI":
		if values := strings.Split(strings.TrimPrefix(arg, "="), ","); arg[:1] == "=" && len(values) > 1 {
			m.notify = values[1] == "1"
		}
	case "+CMGF", "+CSMS", "+CMMS", "+CMEE", "+CRSL", "+CLIP":
		return m.setting(name, arg), 0
	case "+CFUN":
		if arg == "?" {
			return "+CFUN: 1", 0
		}
	case "+CGMI", "+CGMM", "+CGMR", "+CGSN", "+CIMI", "I":
		return identity[name], 0
	default:
		return "", -1
	}
	return "", 0
}

// identity is invented; 00101 is the network of test SIMs (ITU-T E.212).
var identity = map[string]string{
	"+CGMI": "Simulated", "+CGMM": "Pseudo terminal", "+CGMR": "1.0", "I": "Simulated modem",
	"+CGSN": "004999010640000", "+CIMI": "001010123456789",
}

// setting answers a question about a setting that the simulator need not keep.
func (m *Modem) setting(name, arg string) string {
	switch arg {
	case "=?":
		return name + ": (0,1)"
	case "?":
		return name + ": 0"
	}
	if name == "+CSMS" {
		return "+CSMS: 1,1,1"
	}
	return ""
}

func (m *Modem) answerPIN(arg string) (string, int) {
	switch {
	case m.pin == "":
		return "", 10010 // SIM not inserted
	case arg == "?":
		return "+CPIN: " + m.pin, 0
	case m.pin == "SIM PIN" && strings.Trim(arg, `="`) == "1234":
		m.pin = "READY"
		return "", 0
	}
	return "", 10016 // incorrect password
}

// submit takes a message after its prompt (TS 27.005 section 4.3).
func (m *Modem) submit(port *os.File, in *bufio.Reader) bool {
	if _, err := port.WriteString("\r\n> "); err != nil {
		return false
	}
	var pdu []byte
	for {
		c, err := in.ReadByte()
		if err != nil {
			return false
		}
		if c == escape {
			return m.final(port, "", 0)
		}
		if c == endOfPDU {
			break
		}
		pdu = append(pdu, c)
	}
	answer, fault := m.take(string(pdu))
	return m.final(port, answer, fault)
}

// take sends one part, and lets its delivery report come in where asked for.
func (m *Modem) take(pdu string) (answer string, fault int) {
	part, err := decodeSubmit(pdu)
	if err != nil {
		return "", 304 // invalid PDU mode parameter
	}
	m.set(func() {
		switch {
		case m.pin != "READY":
			fault = 310 // SIM not inserted
		case m.registered != 1 && m.registered != 5:
			fault = 331 // no network service
		case m.refuse != 0:
			fault = m.refuse
		default:
			m.reference++
			part.Reference = m.reference
			m.sent = append(m.sent, part)
			answer = fmt.Sprintf("+CMGS: %d", part.Reference)
			if part.Report && m.reports {
				m.put(encodeReport(part.Reference, part.To, m.now(), m.now(), 0))
			}
		}
	})
	return answer, fault
}
