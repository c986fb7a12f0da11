package spool

import (
	"fmt"
	"strings"
)

// store puts a PDU in the SIM's first free place.
func (m *Modem) store(pdu string, length int) bool {
	stored := false
	m.set(func() { stored = m.put(pdu, length) })
	return stored
}

// put is store with the lock held.
func (m *Modem) put(pdu string, length int) bool {
	for i := range m.stores["SM"] {
		if m.stores["SM"][i].pdu == "" {
			m.stores["SM"][i] = slot{pdu: pdu, length: length}
			if m.notify && m.master != nil {
				fmt.Fprintf(m.master, "\r\n+CMTI: \"SM\",%d\r\n", i+1)
			}
			return true
		}
	}
	return false
}

// used counts the messages in a store and its places.
func (m *Modem) used(memory string) (used, places int) {
	for _, s := range m.stores[memory] {
		if s.pdu != "" {
			used++
		}
	}
	return used, len(m.stores[memory])
}

// preferred answers +CPMS (TS 27.005 section 3.2.2).
func (m *Modem) preferred(arg string) (string, int) {
	switch {
	case arg == "=?":
		return `+CPMS: ("SM","ME"),("SM","ME"),("SM","ME")`, 0
	case arg == "?":
		var parts []string
		for range 3 {
			used, places := m.used(m.memory)
			parts = append(parts, fmt.Sprintf("%q,%d,%d", m.memory, used, places))
		}
		return "+CPMS: " + strings.Join(parts, ","), 0
	}
	wanted, _, _ := strings.Cut(strings.TrimPrefix(arg, "="), ",")
	wanted = strings.Trim(wanted, `"`)
	if _, ok := m.stores[wanted]; !ok {
		return "", 302 // operation not allowed
	}
	m.memory = wanted
	used, places := m.used(wanted)
	one := fmt.Sprintf("%d,%d", used, places)
	return "+CPMS: " + strings.Join([]string{one, one, one}, ","), 0
}

// place finds a message by the number that a command names, from 1.
func (m *Modem) place(arg string) *slot {
	var n int
	if _, err := fmt.Sscanf(arg, "=%d", &n); err != nil || n < 1 || n > len(m.stores[m.memory]) {
		return nil
	}
	return &m.stores[m.memory][n-1]
}

// list answers +CMGL (TS 27.005 section 4.1); stat 0 is unread, 4 everything.
func (m *Modem) list(arg string) string {
	var lines []string
	for i := range m.stores[m.memory] {
		s := &m.stores[m.memory][i]
		if s.pdu == "" || (s.read && arg == "=0") {
			continue
		}
		lines = append(lines, fmt.Sprintf("+CMGL: %d,%d,,%d\r\n%s", i+1, status(s), s.length, s.pdu))
		s.read = true
	}
	return strings.Join(lines, "\r\n")
}

// read answers +CMGR (section 4.2).
func (m *Modem) read(arg string) (string, int) {
	s := m.place(arg)
	if s == nil {
		return "", 321 // invalid memory index
	}
	if s.pdu == "" {
		return "+CMGR: 0,,0\r\n", 0
	}
	was := status(s)
	s.read = true
	return fmt.Sprintf("+CMGR: %d,,%d\r\n%s", was, s.length, s.pdu), 0
}

// drop answers +CMGD (section 3.5.4).
func (m *Modem) drop(arg string) int {
	s := m.place(arg)
	if s == nil {
		return 321
	}
	*s = slot{}
	return 0
}

func status(s *slot) int {
	if s.read {
		return 1
	}
	return 0
}
