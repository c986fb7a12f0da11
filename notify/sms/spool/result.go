package spool

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"stubbled/notify"
	"stubbled/scheduler/spell"
)

// reportMark opens a delivery report (examples/received_report.sms).
const reportMark = "SMS STATUS REPORT"

// results reads what smsd made of our messages: given to the network, which is
// progress and neither delivered nor permanent; or refused, which is permanent
// whatever the reason, since smsd does not try that file again.
func (s *Spool) results() ([]item, error) {
	if err := s.ledger.load(s.path("done", "sent")); err != nil {
		return nil, mend(err)
	}
	var items []item
	var errs []error
	for _, folder := range []string{"sent", "failed"} {
		names, err := ours(s.path(folder))
		errs = append(errs, err)
		for _, name := range names {
			file := s.path(folder, name)
			m, err := readMessage(file)
			if err != nil || m.header(ownHeader) != name {
				continue // locked, unfinished, or somebody else's
			}
			items = append(items, s.result(file, folder, m))
		}
	}
	return items, errors.Join(errs...)
}

func (s *Spool) result(file, folder string, m message) item {
	id := filepath.Base(file)
	rep := &notify.Report{EnvelopeID: id}
	it := item{file: file, to: folder, got: &notify.Received{ID: folder + "/" + id, Report: rep}}
	if folder == "failed" {
		f := failure(m.header("Fail_reason"))
		rep.Permanent, rep.Detail = true, f.detail
		return it
	}
	rep.Ref = strings.TrimSuffix(m.header("Message_id"), " .")
	it.then = func() { s.ledger.put(id, m) }
	return it
}

// deliveryReport reads the network's word on a message. wait is set where the
// message that it speaks of may still be on its way to sent.
func (s *Spool) deliveryReport(m message, file string) (rep *notify.Report, wait bool) {
	body := fields(m.text)
	id, last := s.ledger.find(m.header("From"), body["Message_id"])
	if id == "" {
		info, err := os.Lstat(file)
		return nil, err == nil && s.now().Sub(info.ModTime()) < 10*time.Minute
	}
	status, words, _ := strings.Cut(body["Status"], ",")
	code, err := strconv.Atoi(strings.TrimSpace(status))
	if err != nil {
		return nil, false
	}
	rep = &notify.Report{EnvelopeID: id, Ref: body["Message_id"]}
	// 3GPP TS 23.040 section 9.2.3.15.
	switch {
	case code < 0x20:
		if !last {
			return nil, false // another part of a long message
		}
		rep.Delivered = true
	case code < 0x40:
		return nil, false // the network is still trying
	case code == 0x46:
		rep.Permanent = true
		rep.Detail = "the phone was off or out of reach for too long, and the network gave up"
	case code < 0x60:
		rep.Permanent = true
		rep.Detail = fmt.Sprintf("the network could not deliver it (%d %s)", code, cut(words, 80))
	default:
		rep.Permanent = true
		rep.Detail = fmt.Sprintf("the network gave up (%d %s)", code, cut(words, 80))
	}
	return rep, false
}

// fields reads the lines of a delivery report.
func fields(text string) map[string]string {
	out := map[string]string{}
	for line := range strings.Lines(text) {
		if name, value, ok := strings.Cut(line, ":"); ok {
			out[name] = strings.TrimSpace(value)
		}
	}
	return out
}

// fault is why the network or the modem refused a message.
type fault struct {
	code   string // "+CMS ERROR: 38"
	detail string
	modem  bool // the modem or its SIM is at fault, not this message
}

var cmsCode = regexp.MustCompile(`\+CM([SE]) ERROR: (\d+)`)

// failure reads smsd's Fail_reason: the message service failure codes of 3GPP
// TS 27.005 section 3.2.5, of which 1-127 are the network's causes (TS 24.011
// annex E-2).
func failure(reason string) fault {
	reason = strings.TrimSpace(reason)
	match := cmsCode.FindStringSubmatch(reason)
	if match == nil {
		return fault{detail: "the modem did not send it: " + cut(cmp.Or(reason, "smsd gave no reason"), 120)}
	}
	n, _ := strconv.Atoi(match[2])
	f := fault{code: match[0]}
	if match[1] == "E" { // equipment errors, TS 27.007 section 9.2
		f.modem = true
		f.detail = "the modem or its SIM failed: " + cut(reason, 120)
		return f
	}
	switch n {
	case 1, 28:
		f.detail = "the network does not know this number"
	case 8, 10:
		f.detail = "the network bars texts to this number, or from this SIM: ask its operator"
	case 29, 30, 304:
		f.detail = "the network refuses the message as it is"
	case 38, 41, 42, 47, 332:
		f.detail = "the network is busy or out of order"
	case 331:
		f.detail = "there is no network"
	case 310, 311, 312, 313, 314, 315, 316, 317, 318, 320, 322, 330:
		f.modem, f.detail = true, "the modem's SIM is missing, locked, full or without a service centre"
	default:
		f.detail = "the modem did not send it"
	}
	f.detail += " (" + cut(reason, 80) + ")"
	return f
}

// cut bounds words that come from outside.
func cut(s string, n int) string { return spell.Clip(notify.OneLine(s), n) }

// A ledger knows which message a delivery report speaks of: the network gives
// numbers of 0-255, which come again, and tells the recipient.
type ledger struct {
	loaded bool
	sent   []entry // oldest first
}

type entry struct {
	id, to string
	refs   []string // the network's numbers, one a part
}

// keepEntries bounds the ledger; a report comes within the validity period.
const keepEntries = 2000

// load reads the messages that done keeps, once.
func (l *ledger) load(folder string) error {
	if l.loaded {
		return nil
	}
	entries, err := os.ReadDir(folder)
	if err != nil {
		return err
	}
	slices.SortFunc(entries, func(a, b fs.DirEntry) int {
		x, errX := a.Info()
		y, errY := b.Info()
		if errX != nil || errY != nil {
			return 0
		}
		return x.ModTime().Compare(y.ModTime())
	})
	for _, e := range entries[max(0, len(entries)-keepEntries):] {
		m, err := readMessage(filepath.Join(folder, e.Name()))
		if err != nil {
			if errors.Is(err, fs.ErrPermission) {
				return err
			}
			continue
		}
		l.put(e.Name(), m)
	}
	l.loaded = true
	return nil
}

// put notes a message and the numbers that the network gave it.
func (l *ledger) put(id string, m message) {
	refs := strings.Fields(strings.TrimSuffix(m.header("Message_id"), "."))
	if len(refs) == 0 || slices.ContainsFunc(l.sent, func(e entry) bool { return e.id == id }) {
		return
	}
	l.sent = append(l.sent, entry{id: id, to: m.header("To"), refs: refs})
	if len(l.sent) > keepEntries {
		l.sent = slices.Delete(l.sent, 0, len(l.sent)-keepEntries)
	}
}

// find names the latest message to a number that has this reference, and
// whether it is that of its last part.
func (l *ledger) find(to, ref string) (id string, last bool) {
	for _, e := range slices.Backward(l.sent) {
		if e.to == to && slices.Contains(e.refs, ref) {
			return e.id, e.refs[len(e.refs)-1] == ref
		}
	}
	return "", false
}
