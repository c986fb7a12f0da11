package email

import (
	"cmp"
	"net"
	"regexp"
	"strings"

	"github.com/emersion/go-msgauth/authres"
	"golang.org/x/net/publicsuffix"
)

// An authenticity is what the mailbox's own server found out about the sender.
type authenticity int

const (
	unchecked authenticity = iota // it says nothing
	passed
	failed
)

// authentic reads the Authentication-Results (RFC 8601) of one server, the
// mailbox's own, and of no other: they must stand above the first Received
// line of a foreign server, because everything below was there when the mail
// came in and may be forged.
func authentic(l *letter, servID string) authenticity {
	if servID == "" {
		return unchecked
	}
	var found []authres.Result
	for f := l.entity.Header.Fields(); f.Next(); {
		switch strings.ToLower(f.Key()) {
		case "received":
			if !ours(f.Value(), servID) {
				return weigh(found, l.from)
			}
		case "authentication-results":
			id, results, err := authres.Parse(f.Value())
			id, _, _ = strings.Cut(strings.TrimSpace(id), " ") // a version may follow
			if strings.EqualFold(id, servID) && err == nil {
				found = append(found, results...)
			}
		}
	}
	return weigh(found, l.from)
}

var receivedBy = regexp.MustCompile(`(?i)(?:^|\s)by\s+([^\s;()]+)`)

// ours reports whether a Received line was written inside the mailbox's
// house: by a host of the same organisation, or by one without a public name,
// as servers name themselves inside.
func ours(received, servID string) bool {
	m := receivedBy.FindStringSubmatch(received)
	if m == nil {
		return false
	}
	host := strings.Trim(strings.ToLower(m[1]), "[].")
	if !strings.Contains(host, ".") || net.ParseIP(strings.TrimPrefix(host, "ipv6:")) != nil {
		return true
	}
	return organisation(host) == organisation(strings.ToLower(servID))
}

// weigh: the result of DMARC decides; without one, an aligned pass of DKIM or
// SPF is enough (RFC 7489 section 3.1), and a plain fail without any is a fail.
func weigh(results []authres.Result, from string) authenticity {
	domain := from[strings.LastIndexByte(from, '@')+1:]
	verdict, pass, fail := unchecked, false, false
	for _, r := range results {
		switch r := r.(type) {
		case *authres.DMARCResult:
			switch r.Value {
			case authres.ResultFail:
				return failed
			case authres.ResultPass:
				verdict = passed
			}
		case *authres.DKIMResult:
			signer := cmp.Or(r.Domain, r.Identifier[strings.LastIndexByte(r.Identifier, '@')+1:])
			pass = pass || r.Value == authres.ResultPass && aligned(signer, domain)
			fail = fail || r.Value == authres.ResultFail
		case *authres.SPFResult:
			pass = pass || r.Value == authres.ResultPass && aligned(r.From[strings.LastIndexByte(r.From, '@')+1:], domain)
			fail = fail || r.Value == authres.ResultFail || r.Value == authres.ResultHardFail
		}
	}
	switch {
	case verdict == passed, pass:
		return passed
	case fail:
		return failed
	}
	return unchecked
}

func aligned(a, b string) bool {
	return a != "" && b != "" && organisation(strings.ToLower(a)) == organisation(strings.ToLower(b))
}

// organisation is the domain that somebody registered.
func organisation(host string) string {
	if d, err := publicsuffix.EffectiveTLDPlusOne(strings.TrimSuffix(host, ".")); err == nil {
		return d
	}
	return host
}
