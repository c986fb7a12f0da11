package email

import (
	"strings"
	"testing"
)

// bounceFor is a report shaped after RFC 3464 appendix E.1, about a mail of
// ours.
func bounceFor(k *Tokens, action, status string) []byte {
	return []byte(strings.NewReplacer("\n", "\r\n", "ACTION", action, "STATUS", status,
		"MESSAGEID", k.MessageID("o-17", "ana@example.org")).Replace(`Return-Path: <>
From: Mail Delivery Subsystem <MAILER-DAEMON@cs.example.org>
To: farm@example.org
Subject: Returned mail: Cannot send message for 5 days
MIME-Version: 1.0
Content-Type: multipart/report; report-type=delivery-status; boundary="RAA14128.773615765/CS.EXAMPLE.ORG"

--RAA14128.773615765/CS.EXAMPLE.ORG

The original message was received at Sat, 9 Jul 1994 17:10:28 -0400

--RAA14128.773615765/CS.EXAMPLE.ORG
Content-Type: message/delivery-status

Reporting-MTA: dns; cs.example.org

Original-Recipient: rfc822;ana@example.org
Final-Recipient: rfc822; Ana.R@example.com
Action: ACTION
Status: STATUS
Diagnostic-Code: smtp; 550 5.1.1 <Ana.R@example.com>: nobody
 of that name

--RAA14128.773615765/CS.EXAMPLE.ORG
Content-Type: message/rfc822

From: farm@example.org
To: "Ana" <ana@example.org>
Message-ID: <MESSAGEID>
Subject: Creek shuts

Creek shuts Sep 1
--RAA14128.773615765/CS.EXAMPLE.ORG--
`))
}

func TestReportsOnDelivery(t *testing.T) {
	e := testEars(t)
	for _, c := range []struct {
		name, action, status string
		heard                bool
		permanent, delivered bool
		says                 string
	}{
		{"an address that is not there", "failed", "5.1.1", true, true, false, "could not be delivered: 5.1.1 550 5.1.1 <A***@example.com>: nobody of that name"},
		{"given up after five days", "failed", "4.4.7", true, true, false, "4.4.7"},
		{"held up", "delayed", "4.0.0", true, false, false, "held up"},
		{"delivered", "delivered", "2.0.0", true, false, true, ""},
		{"gone on to where nobody reports", "relayed", "2.0.0", false, false, false, ""},
	} {
		l, err := readLetter(bounceFor(e.Replies, c.action, c.status))
		must(t, err)
		got, why := e.hear(l)
		if (why == "") != c.heard {
			t.Errorf("%s: heard %t (%s)", c.name, why == "", why)
			continue
		}
		if !c.heard {
			continue
		}
		if r := got.Report; got.From != "ana@example.org" || r.EnvelopeID != "o-17" || r.Permanent != c.permanent || r.Delivered != c.delivered || !strings.Contains(r.Detail, c.says) {
			t.Errorf("%s: %+v %+v", c.name, got, r)
		}
	}
}

func TestAForgedReportDoesNotKillAnAddress(t *testing.T) {
	e := testEars(t)
	forged := strings.Replace(string(bounceFor(e.Replies, "failed", "5.1.1")), "r.o-17", "r.o-18", 1)
	l, err := readLetter([]byte(forged))
	must(t, err)
	if got, why := e.hear(l); why == "" {
		t.Errorf("believed: %+v", got)
	}
}
