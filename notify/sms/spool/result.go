package spool

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"stubbled/notify"
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
		entries, err := os.ReadDir(s.path(folder))
		if err != nil {
			errs = append(errs, mend(err))
			continue
		}
		for _, e := range entries {
			if !e.Type().IsRegular() || !goodName(e.Name()) {
				continue
			}
			file := s.path(folder, e.Name())
			m, err := readMessage(file)
			if err != nil || m.header(ownHeader) != e.Name() {
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
	it.then = func() { s.ledger.add(id, m) }
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
