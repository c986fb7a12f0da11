package spool

import (
	"context"
	"fmt"
	"os"
	"sync"
	"time"

	"github.com/creack/pty"
	"golang.org/x/sys/unix"
)

// serviceCentre is the invented number of the service centre.
const serviceCentre = "+15555550199"

// A Modem is a small simulated cellular modem on a pseudo terminal: it speaks as
// much of 3GPP TS 27.005 and 27.007 as a message service needs, holds a SIM's
// message store, and can lose its SIM, its signal or its cable. That it speaks
// the standard and not a dialect of our own is proved by two programs none of us
// wrote: smsd and gammu-smsd.
//
// Its fields are set through its methods;
// they may be called at any time.
type Modem struct {
	link string // what the device is called: stays while the cable is out
	now  func() time.Time

	mu         sync.Mutex
	master     *os.File
	slave      *os.File // held open, so that a client may close and open again
	pin        string   // the answer to +CPIN?; empty where no SIM is in
	registered int      // the answer to +CREG?: 1 home, 2 searching, 5 roaming
	signal     int      // the answer to +CSQ: 0-31, 99 unknown
	refuse     int      // a +CMS error for every message; 0 sends
	deaf       bool
	stores     map[string][]slot
	memory     string // the store that is read
	notify     bool   // +CMTI for what comes in
	reports    bool   // a delivery report for what is sent and asks for one
	reference  byte
	sent       []Submit
	changed    chan struct{} // closed and made anew at each change
	done       sync.WaitGroup
}

// A slot of a store holds one PDU.
type slot struct {
	pdu    string
	length int // octets without the service centre
	read   bool
}

// newModem plugs a modem in; its device is reached by the name link, which must
// not exist yet. It has a SIM without a PIN with room for 20 messages, and is
// registered at home with a good signal.
func newModem(link string, now func() time.Time) (*Modem, error) {
	m := &Modem{
		link: link, now: now, pin: "READY", registered: 1, signal: 21, memory: "SM",
		stores: map[string][]slot{"SM": make([]slot, 20), "ME": make([]slot, 5)}, reports: true,
		changed: make(chan struct{}),
	}
	return m, m.Plug()
}

// Plug puts the cable in.
func (m *Modem) Plug() error {
	master, slave, err := pty.Open()
	if err != nil {
		return fmt.Errorf("open a pseudo terminal: %w", err)
	}
	if err := raw(slave); err != nil {
		return fmt.Errorf("set the pseudo terminal raw: %w", err)
	}
	if err := os.Symlink(slave.Name(), m.link); err != nil {
		return err
	}
	m.mu.Lock()
	m.master, m.slave = master, slave
	m.mu.Unlock()
	if err := slave.Chmod(0o666); err != nil { // for an smsd of another user
		return err
	}
	m.done.Go(func() { m.serve(master) })
	return nil
}

// Unplug pulls the cable: the device is gone, and whoever holds it open is
// hung up on.
func (m *Modem) Unplug() {
	os.Remove(m.link)
	m.mu.Lock()
	master, slave := m.master, m.slave
	m.master, m.slave = nil, nil
	m.mu.Unlock()
	if master != nil {
		slave.Close()
		master.Close()
	}
	m.done.Wait()
}

// raw takes echo and line editing off, which are the modem's own affair.
func raw(f *os.File) error {
	t, err := unix.IoctlGetTermios(int(f.Fd()), unix.TCGETS)
	if err != nil {
		return err
	}
	t.Iflag, t.Oflag, t.Lflag = 0, 0, 0
	t.Cflag = unix.CS8 | unix.CREAD | unix.CLOCAL | unix.B115200
	t.Cc[unix.VMIN], t.Cc[unix.VTIME] = 1, 0
	return unix.IoctlSetTermios(int(f.Fd()), unix.TCSETS, t)
}

// SIM sets the answer to +CPIN?: READY, SIM PIN, SIM PUK, or empty for no SIM.
func (m *Modem) SIM(state string) { m.set(func() { m.pin = state }) }

// Network sets the registration (1 home, 2 searching, 5 roaming) and the
// signal (0-31, 99 unknown).
func (m *Modem) Network(registered, signal int) {
	m.set(func() { m.registered, m.signal = registered, signal })
}

// Refuse makes every message fail with this +CMS error; 0 sends again.
func (m *Modem) Refuse(code int) { m.set(func() { m.refuse = code }) }

// Deaf makes the modem answer nothing.
func (m *Modem) Deaf(deaf bool) { m.set(func() { m.deaf = deaf }) }

func (m *Modem) set(change func()) {
	m.mu.Lock()
	defer m.mu.Unlock()
	change()
	close(m.changed)
	m.changed = make(chan struct{})
}

// Fill takes up the SIM's free places with messages that nobody can read, and
// Stored counts what is on the SIM.
func (m *Modem) Fill() {
	m.set(func() {
		for i := range m.stores["SM"] {
			if m.stores["SM"][i].pdu == "" {
				m.stores["SM"][i] = slot{pdu: "00", length: 0}
			}
		}
	})
}

// Stored counts the messages on the SIM.
func (m *Modem) Stored() int {
	m.mu.Lock()
	defer m.mu.Unlock()
	n, _ := m.used("SM")
	return n
}

// Receive lets a text come in; it reports false where the SIM is full.
func (m *Modem) Receive(from, text string, at time.Time) bool {
	return m.store(encodeDeliver(from, text, at, nil))
}

// ReceivePart lets one part of a long text come in.
func (m *Modem) ReceivePart(from, text string, at time.Time, reference, total, part byte) bool {
	return m.store(encodeDeliver(from, text, at, []byte{0, 3, reference, total, part}))
}

// Report lets a status report come in: status 0 is delivered, 0x46 is expired
// (TS 23.040 section 9.2.3.15).
func (m *Modem) Report(reference byte, to string, sent time.Time, status byte) bool {
	return m.store(encodeReport(reference, to, sent, m.now(), status))
}

// Sent is what was sent so far, part by part.
func (m *Modem) Sent() []Submit {
	m.mu.Lock()
	defer m.mu.Unlock()
	return append([]Submit(nil), m.sent...)
}

// WaitSent waits until n parts were sent.
func (m *Modem) WaitSent(ctx context.Context, n int) ([]Submit, error) {
	for {
		m.mu.Lock()
		sent, changed := append([]Submit(nil), m.sent...), m.changed
		m.mu.Unlock()
		if len(sent) >= n {
			return sent, nil
		}
		select {
		case <-changed:
		case <-ctx.Done():
			return sent, fmt.Errorf("%d of %d parts were sent: %w", len(sent), n, ctx.Err())
		}
	}
}

// Empty clears the SIM.
func (m *Modem) Empty() {
	m.set(func() {
		for i := range m.stores["SM"] {
			m.stores["SM"][i] = slot{}
		}
	})
}
