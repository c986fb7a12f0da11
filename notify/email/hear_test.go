package email

import (
	"strings"
	"testing"
)

const servID = "mx.example.org"

func testEars(t *testing.T) Incoming {
	t.Helper()
	listed := []string{"ana@example.org", "luis@example.org"}
	return Incoming{
		Replies: tokensWith(t, newKey, oldKey),
		Known: func(a string) bool {
			for _, l := range listed {
				if a == l {
					return true
				}
			}
			return false
		},
		Everyone:   func() []string { return listed },
		AuthServID: servID,
	}
}

func TestWhoIsHeardForWhat(t *testing.T) {
	e := testEars(t)
	anas := "To: " + e.Replies.ReplyTo("o-17", "ana@example.org")
	inReply := "In-Reply-To: <" + e.Replies.MessageID("o-17", "ana@example.org") + ">"
	oldToken := "To: " + tokensWith(t, oldKey).ReplyTo("o-16", "ana@example.org")
	const trusted, stopOnly, nobody = "trusted", "stop only", "nobody"
	for _, c := range []struct {
		name   string
		fields []string
		want   string
		from   string
	}{
		{"a listed address with its token", []string{"From: ana@example.org", anas}, trusted, "ana@example.org"},
		{"the token in the address it was delivered to", []string{"Delivered-To: " + anas[4:], "From: ana@example.org", "To: farm@example.org"}, trusted, "ana@example.org"},
		{"the plus part stripped, the token in In-Reply-To", []string{"From: ana@example.org", "To: farm@example.org", inReply}, trusted, "ana@example.org"},
		{"or in References", []string{"From: ana@example.org", "To: farm@example.org", "References: <other@example.org>\r\n " + inReply[13:]}, trusted, "ana@example.org"},
		{"a token of last year's key", []string{"From: ana@example.org", oldToken}, trusted, "ana@example.org"},
		{"a listed address without any token", []string{"From: ana@example.org", "To: farm@example.org"}, stopOnly, "ana@example.org"},
		{"a forged From with somebody else's token", []string{"From: luis@example.org", anas}, stopOnly, "luis@example.org"},
		{"a token with one letter changed", []string{"From: ana@example.org", strings.Replace(anas, "o-17", "o-18", 1)}, stopOnly, "ana@example.org"},
		{"a stranger", []string{"From: eve@example.com", "To: farm@example.org"}, nobody, ""},
		{"somebody who reads Ana's mail elsewhere", []string{"From: ana.r@example.com", anas}, stopOnly, "ana@example.org"},
		{"two senders", []string{"From: ana@example.org, luis@example.org", anas}, nobody, ""},
		{"our own address", []string{"From: farm@example.org", anas}, nobody, ""},
		{"our own address with a token", []string{"From: " + anas[4:], anas}, nobody, ""},

		{"its own server says dmarc failed", []string{"Authentication-Results: mx.example.org; dmarc=fail header.from=example.org", "From: ana@example.org", anas}, stopOnly, "ana@example.org"},
		{"its own server says dmarc passed", []string{"Authentication-Results: mx.example.org; dmarc=pass header.from=example.org", "From: ana@example.org", anas}, trusted, "ana@example.org"},
		{"dmarc passed though spf failed, as on a list of addresses", []string{"Authentication-Results: mx.example.org; spf=fail smtp.mailfrom=example.org; dkim=pass header.d=example.org; dmarc=pass", "From: ana@example.org", anas}, trusted, "ana@example.org"},
		{"no dmarc, dkim passed for the sender's domain", []string{"Authentication-Results: mx.example.org; spf=softfail smtp.mailfrom=x.com; dkim=pass header.d=mail.example.org", "From: ana@example.org", anas}, trusted, "ana@example.org"},
		{"no dmarc, dkim failed and passed only for another domain", []string{"Authentication-Results: mx.example.org; dkim=fail header.d=example.org; dkim=pass header.d=evil.test", "From: ana@example.org", anas}, stopOnly, "ana@example.org"},
		{"no dmarc, spf failed", []string{"Authentication-Results: mx.example.org 1; spf=fail smtp.mailfrom=example.org", "From: ana@example.org", anas}, stopOnly, "ana@example.org"},
		{"a result by another server is not believed", []string{"Authentication-Results: mx.evil.test; dmarc=fail", "From: ana@example.org", anas}, trusted, "ana@example.org"},
		{"a forged pass below does not undo the fail above", []string{"Authentication-Results: mx.example.org; dmarc=fail", "Received: from evil.test by mx.example.org; Sat, 22 Aug 2026 06:30:00 -0500", "Received: from a by relay.evil.test; Sat", "Authentication-Results: mx.example.org; dmarc=pass", "From: ana@example.org", anas}, stopOnly, "ana@example.org"},
		{"the result below its own server's Received line", []string{"Delivered-To: farm@example.org", "Received: by 2001:db8::1 with SMTP id x; Sat", "Received: from evil.test by mx.example.org with ESMTPS; Sat", "Authentication-Results: mx.example.org; dmarc=fail", "From: ana@example.org", anas}, stopOnly, "ana@example.org"},
		{"a result below a foreign Received line is not read", []string{"Received: from a by relay.evil.test; Sat", "Authentication-Results: mx.example.org; dmarc=fail", "From: ana@example.org", anas}, trusted, "ana@example.org"},

		{"a vacation notice", []string{"Auto-Submitted: auto-replied (vacation)", "From: ana@example.org", anas}, nobody, ""},
		{"Auto-Submitted: no is a person", []string{"Auto-Submitted: no", "From: ana@example.org", anas}, trusted, "ana@example.org"},
		{"an empty return path", []string{"Return-Path: <>", "From: ana@example.org", anas}, nobody, ""},
		{"a return path", []string{"Return-Path: <ana@example.org>", "From: ana@example.org", anas}, trusted, "ana@example.org"},
		{"a mailing list", []string{"List-Id: <graziers.example.org>", "From: ana@example.org", anas}, nobody, ""},
		{"a newsletter", []string{"List-Unsubscribe: <mailto:x@example.org>", "From: ana@example.org", anas}, nobody, ""},
		{"bulk mail", []string{"Precedence: bulk", "From: ana@example.org", anas}, nobody, ""},
		{"an office's away notice", []string{"X-Auto-Response-Suppress: All", "From: ana@example.org", anas}, nobody, ""},
		{"an away notice known by its subject alone", []string{"Subject: Respuesta automática: Creek", "From: ana@example.org", anas}, nobody, ""},
		{"a read receipt", []string{"Content-Type: multipart/report; report-type=disposition-notification; boundary=b", "From: ana@example.org", anas}, nobody, ""},
		{"a daemon", []string{"From: MAILER-DAEMON@example.org", anas}, nobody, ""},
		{"no-reply", []string{"From: no-reply@example.org", anas}, nobody, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			l, err := readLetter(mailOf(c.fields...))
			must(t, err)
			got, why := e.hear(l)
			is := trusted
			switch {
			case why != "":
				is = nobody
			case got.StopOnly:
				is = stopOnly
			}
			if is != c.want || is != nobody && got.From != c.from {
				t.Fatalf("got %s from %q (%s), want %s from %q", is, got.From, why, c.want, c.from)
			}
			if is == trusted && (got.InReplyTo == "" || got.Text != "creek 9") || is == nobody && got.InReplyTo != "" {
				t.Errorf("got %+v", got)
			}
			if is != nobody && !e.curious(l) {
				t.Error("its body would not have been fetched")
			}
		})
	}
}

func TestStopCountsFromWhomeverWeWriteTo(t *testing.T) {
	e := testEars(t)
	for _, from := range []string{"ana@example.org", "someone.else@example.com"} {
		l, err := readLetter([]byte("From: " + from + "\r\nTo: " + e.Replies.ReplyTo("o-1", "ana@example.org") +
			"\r\nAuthentication-Results: mx.example.org; dmarc=fail\r\nSubject: Re: Creek\r\n\r\nSTOP\r\n"))
		must(t, err)
		got, why := e.hear(l)
		if why != "" || !got.StopOnly || got.From != "ana@example.org" || got.InReplyTo != "o-1" || got.Text != "STOP" {
			t.Errorf("from %s: %+v %s", from, got, why)
		}
	}
}

func TestOneMailHasOneIDWhereverItIsRead(t *testing.T) {
	a, err := readLetter(mailOf("Delivered-To: farm@example.org", "From: ana@example.org", "Message-ID: <1@x.org>", "Subject: Re: a"))
	must(t, err)
	b, err := readLetter(mailOf("From: ana@example.org", "Subject: Re: a", "Message-ID: <1@x.org>"))
	must(t, err)
	c, err := readLetter(mailOf("From: ana@example.org", "Subject: Re: a", "Message-ID: <2@x.org>"))
	must(t, err)
	if a.key() != b.key() || a.key() == c.key() {
		t.Errorf("%s %s %s", a.key(), b.key(), c.key())
	}
}
