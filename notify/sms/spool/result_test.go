package spool

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"stubbled/notify"
)

func sentFile(id, refs string) string {
	return "To: 15555550142\nStubbled: " + id + "\nAlphabet: ISO\nSent: 26-08-22 06:30:00\nMessage_id: " + refs + "\n\nx"
}

func reportFile(ref, status string) string {
	return "From: 15555550142\nSent: 26-08-22 06:31:00\nReceived: 26-08-22 06:31:02\nAlphabet: UTF-8\n\n" +
		"SMS STATUS REPORT\nMessage_id: " + ref + "\nDischarge_timestamp: 26-08-22 06:31:00\nStatus: " + status
}

func reports(got []notify.Received) (out []notify.Report) {
	for _, g := range got {
		if g.Report != nil {
			out = append(out, *g.Report)
		}
	}
	return out
}

func TestWhatBecameOfAMessage(t *testing.T) {
	s, c := newSpool(t)
	c.put(t, sentFile("m-1", "17 ."), s.path("sent", "m-1"))
	c.put(t, "To: 15555550142\n\nsomebody else's", s.path("sent", "theirs"))
	c.put(t, "To: 15555550142\nStubbled: m-2\nFail_reason: +CMS ERROR: 1 (Unassigned number)\n\nx", s.path("failed", "m-2"))
	c.put(t, sentFile("m-3", "18 ."), s.path("sent", "m-3"))
	c.put(t, "", s.path("sent", "m-3.LOCK"))
	got := reports(hear(t, s))
	want := []notify.Report{
		{EnvelopeID: "m-1", Ref: "17"},
		{EnvelopeID: "m-2", Permanent: true, Detail: "the network does not know this number (+CMS ERROR: 1 (Unassigned number))"},
	}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("got  %+v\nwant %+v", got, want)
	}
	if left := entries(t, s.path("sent")); len(left) != 3 {
		t.Errorf("what is locked or not ours must stay: %v", left)
	}
}

func TestADeliveryReportFindsItsMessage(t *testing.T) {
	delivered := "0,Ok,short message received by the SME"
	for name, c := range map[string]struct {
		refs, ref, status string
		want              string
	}{
		"delivered":                         {"17 .", "17", delivered, "delivered"},
		"the last part of a long one":       {"17 18 .", "18", delivered, "delivered"},
		"the first part only":               {"17 18 .", "17", delivered, ""},
		"still trying":                      {"17 .", "17", "32,Still trying,congestion", ""},
		"the number does not exist":         {"17 .", "17", "65,Error,incompatible destination", "permanent"},
		"phone off until the validity ends": {"17 .", "17", "70,Error,SM validity period expired", "permanent"},
		"the network gave up":               {"17 .", "17", "99,Error,service rejected", "permanent"},
		"a status that is no number":        {"17 .", "17", "Ok", ""},
	} {
		t.Run(name, func(t *testing.T) {
			s, clk := newSpool(t)
			clk.put(t, sentFile("m-1", c.refs), s.path("sent", "m-1"))
			hear(t, s)
			clk.put(t, reportFile(c.ref, c.status), s.path("incoming", "GSM1.r"))
			got := ""
			for _, r := range reports(hear(t, s)) {
				switch {
				case r.EnvelopeID != "m-1":
					t.Errorf("of another message: %+v", r)
				case r.Delivered:
					got = "delivered"
				case r.Permanent:
					got = "permanent"
				default:
					got = "progress"
				}
			}
			if got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
			if left := entries(t, s.path("incoming")); len(left) != 0 {
				t.Errorf("left %v", left)
			}
		})
	}
}

// The network's numbers come again after 256 messages, and a restart forgets
// what was not on the disk.
func TestADeliveryReportSpeaksOfTheLatestAlsoAfterARestart(t *testing.T) {
	s, c := newSpool(t)
	for _, id := range []string{"m-1", "m-2"} {
		c.put(t, sentFile(id, "17 ."), s.path("sent", id))
		hear(t, s)
		c.t = c.t.Add(time.Hour)
	}
	again := New(s.o, c.now)
	c.put(t, reportFile("17", "0,Ok"), s.path("incoming", "GSM1.r"))
	if got := reports(hear(t, again)); len(got) != 1 || got[0].EnvelopeID != "m-2" || !got[0].Delivered {
		t.Errorf("got %+v", got)
	}
}

func TestADeliveryReportWaitsForItsMessageAWhile(t *testing.T) {
	s, c := newSpool(t)
	c.put(t, reportFile("17", "0,Ok"), s.path("incoming", "GSM1.r"))
	if got := hear(t, s); len(got) != 0 || len(entries(t, s.path("incoming"))) != 1 {
		t.Errorf("not kept: %v", got)
	}
	c.put(t, sentFile("m-1", "17 ."), s.path("sent", "m-1"))
	got := reports(hear(t, s))
	if len(got) != 2 || !got[1].Delivered {
		t.Errorf("got %+v", got)
	}
	c.put(t, reportFile("99", "0,Ok"), s.path("incoming", "GSM1.s"))
	c.t = c.t.Add(time.Hour)
	if got := hear(t, s); len(got) != 0 || len(entries(t, s.path("incoming"))) != 0 {
		t.Errorf("nobody's report must go in the end: %v", got)
	}
}

func TestWhatWaitedTooLongIsTakenBackUnsent(t *testing.T) {
	for _, folder := range []string{"outgoing", "checked"} {
		t.Run("from "+folder, func(t *testing.T) {
			s, c := newSpool(t, func(o *Options) { o.TakeBack = time.Hour })
			file := c.put(t, "To: 15555550142\nStubbled: m-1\n\nx", s.path(folder, "m-1"))
			c.put(t, "To: 15555550142\n\nsomebody else's", s.path(folder, "theirs"))
			c.put(t, "To: 15555550142\nStubbled: m-2\n\nx", s.path(folder, "m-2"))
			lock := c.put(t, "", s.path(folder, "m-2.LOCK")) // smsd is sending it
			c.t = c.t.Add(59 * time.Minute)
			pass(t, s)
			if _, err := os.Stat(file); err != nil {
				t.Fatal("too early")
			}
			c.t = c.t.Add(2 * time.Minute)
			in := pass(t, s)
			if got := reports(in.got); len(got) != 1 || got[0].EnvelopeID != "m-1" || !strings.Contains(got[0].Detail, "taken back") || !got[0].Permanent {
				t.Errorf("got %+v", got)
			}
			if left := entries(t, s.path(folder)); len(left) != 3 {
				t.Errorf("left %v, want theirs, m-2 and its lock", left)
			}
			os.Remove(lock)
			e := shut
			e.ID = "m-1"
			if out := s.Deliver(t.Context(), e); out.State != notify.Permanent {
				t.Errorf("handed over again after it was taken back: %+v", out)
			}
			if got := pass(t, s).got; len(got) != 1 || got[0].Report.EnvelopeID != "m-2" {
				t.Errorf("told twice, or m-2 is stuck: %+v", got)
			}
		})
	}
}

// pass runs one pass whatever it says of smsd.
func pass(t *testing.T, s *Spool) *inbox {
	t.Helper()
	in := newInbox()
	s.pass(t.Context(), in.accept)
	return in
}

// A machine begins in 1970, or shows a year too many for an hour: what waits is not
// taken back by it, and what was handed over is not forgotten, by either clock.
func TestAWildClockTakesNothingBackAndForgetsNothing(t *testing.T) {
	for name, wrong := range map[string]time.Time{"in 1970": time.Unix(1000, 0), "a year ahead": time.Date(2026, 8, 22, 6, 30, 0, 0, time.UTC).AddDate(1, 0, 0)} {
		t.Run(name, func(t *testing.T) {
			s, c := newSpool(t)
			right := c.t
			ours := "To: 15555550142\nStubbled: %s\n\nx"
			c.put(t, fmt.Sprintf(ours, "m-1"), s.path("checked", "m-1"))
			c.put(t, fmt.Sprintf(ours, "m-2"), s.path("sent", "m-2"))
			pass(t, s)
			c.t = wrong
			c.put(t, fmt.Sprintf(ours, "m-3"), s.path("checked", "m-3"))
			c.put(t, fmt.Sprintf(ours, "m-4"), s.path("sent", "m-4"))
			pass(t, s)
			c.t = right.Add(2 * time.Hour)
			pass(t, s)
			e := shut
			for _, e.ID = range []string{"m-1", "m-2", "m-3", "m-4"} {
				if out := s.Deliver(t.Context(), e); out.State != notify.Sent || out.Detail == "" {
					t.Errorf("%s: %+v, want that it was handed over before", e.ID, out)
				}
			}
			c.t = c.t.Add(7 * time.Hour)
			if back := reports(pass(t, s).got); len(back) != 2 {
				t.Errorf("what waits in the end is taken back: %+v", back)
			}
		})
	}
}

func TestDoneIsEmptiedInTheEnd(t *testing.T) {
	s, c := newSpool(t)
	pass(t, s)
	for _, folder := range doneFolders {
		c.put(t, "x", s.path("done", folder, "f"))
	}
	c.t = c.t.Add(25 * time.Hour)
	pass(t, s)
	if _, err := os.Stat(s.path("done", "new", "f")); err == nil {
		t.Error("a handover that was cut short stays for ever")
	}
	if _, err := os.Stat(s.path("done", "sent", "f")); err != nil {
		t.Error("a name that was handed over is forgotten after a day")
	}
	c.t = c.t.Add(31 * 24 * time.Hour)
	pass(t, s)
	for _, folder := range doneFolders {
		if left := entries(t, s.path("done", folder)); len(left) > 0 {
			t.Errorf("%s keeps %v", folder, left)
		}
	}
}

func TestWhyAMessageFailed(t *testing.T) {
	for reason, want := range map[string]fault{
		"+CMS ERROR: 38 (Network out of order)":      {code: "+CMS ERROR: 38"},
		"+CMS ERROR: 28 (Unidentified subscriber)":   {code: "+CMS ERROR: 28"},
		"+CMS ERROR: 310 (SIM not inserted)":         {code: "+CMS ERROR: 310", modem: true},
		"+CMS ERROR: 330 (SMSC address unknown)":     {code: "+CMS ERROR: 330", modem: true},
		"+CMS ERROR: 500 (Unknown error)":            {code: "+CMS ERROR: 500"},
		"+CME ERROR: 10 (SIM not inserted)":          {code: "+CME ERROR: 10", modem: true},
		"+CMS ERROR: 99999999999999999999 (invalid)": {code: "+CMS ERROR: 99999999999999999999"},
		"": {},
		"not sent \x1b[2J" + strings.Repeat("x", 500): {},
	} {
		got := failure(reason)
		if got.detail == "" || len(got.detail) > 200 || strings.ContainsRune(got.detail, 0x1b) {
			t.Errorf("%q: said as %q", reason, got.detail)
		}
		got.detail = ""
		if got != want {
			t.Errorf("%q: got %+v, want %+v", reason, got, want)
		}
	}
}
