package spool

import (
	"regexp"
	"strconv"
	"strings"
)

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
		if reason == "" {
			reason = "smsd gave no reason"
		}
		return fault{detail: "the modem did not send it: " + cut(reason, 120)}
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
func cut(s string, n int) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7F {
			return ' '
		}
		return r
	}, s)
	if r := []rune(s); len(r) > n {
		return string(r[:n]) + "..."
	}
	return s
}
