package spool

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// serveMachine is the modem of another machine, whose tests cannot hold one in
// their own process. It lies in a folder there as the device modem; what it sent
// stands in sent, and each file in in, a number and a text in one line, comes in as
// a text.
func serveMachine(dir string) error {
	m, err := newModem(filepath.Join(dir, "modem"), time.Now)
	if err != nil {
		return err
	}
	if err := os.Chmod(filepath.Join(dir, "modem"), 0o666); err != nil { // smsd is no root
		return err
	}
	for ; ; time.Sleep(100 * time.Millisecond) {
		var sent strings.Builder
		for _, s := range m.Sent() {
			fmt.Fprintf(&sent, "%s %s\n", s.To, s.Text)
		}
		if err := os.WriteFile(filepath.Join(dir, "sent"), []byte(sent.String()), 0o644); err != nil {
			return err
		}
		texts, _ := filepath.Glob(filepath.Join(dir, "in", "*"))
		for _, name := range texts {
			data, err := os.ReadFile(name)
			if err != nil {
				return err
			}
			from, text, _ := strings.Cut(strings.TrimSpace(string(data)), " ")
			if text == "" {
				continue // half written
			}
			m.Receive(from, text, time.Now())
			if err := os.Remove(name); err != nil {
				return err
			}
		}
	}
}
