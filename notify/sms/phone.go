// Package sms is in charge of what every way of texting shares: phone numbers
// as they are sent, heard and logged. The ways themselves are below it: spool
// hands texts to a modem in the machine, provider to a texting service over
// HTTP; signature proves who called a webhook.
//
// None of them decides what is said, to whom or when, none keeps anything but
// its own files, and no body and no secret reaches a log.
package sms

import (
	"strings"

	"github.com/nyaruka/phonenumbers"
)

// PhoneShort is a number as it may stand in a log: its last two digits.
func PhoneShort(number string) string {
	digits := Digits(number)
	if len(digits) < 7 {
		return "..."
	}
	return "..." + digits[len(digits)-2:]
}

// Digits drops everything but the digits 0-9.
func Digits(number string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, number)
}

// IsE164 reports whether the number is a plus and 7 to 15 digits, the first of
// them not 0 (ITU-T E.164 section 6).
func IsE164(number string) bool {
	digits, plus := strings.CutPrefix(number, "+")
	return plus && len(digits) >= 7 && len(digits) <= 15 && digits[0] != '0' && Digits(digits) == digits
}

// Normal reads a sender's number as networks and services write it: with or
// without a plus, or national, which is read in the region (US, GB ...). What
// is no number of a person (a short code, a name) comes back as it is, and so
// matches nobody.
func Normal(number, region string) string {
	number = strings.TrimSpace(number)
	digits := Digits(number)
	if strings.Trim(number, "0123456789+-(). ") != "" || len(digits) < 7 {
		return number // a name, or a short code
	}
	if strings.HasPrefix(number, "+") {
		return "+" + digits
	}
	if rest, ok := strings.CutPrefix(digits, "00"); ok && IsE164("+"+rest) {
		return "+" + rest
	}
	if n, err := phonenumbers.Parse(digits, region); err == nil && phonenumbers.IsPossibleNumber(n) {
		return phonenumbers.Format(n, phonenumbers.E164)
	}
	return "+" + digits
}
