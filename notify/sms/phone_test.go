package sms

import (
	"testing"

	"pgregory.net/rapid"
)

func TestASendersNumberIsRead(t *testing.T) {
	for name, c := range map[string]struct{ number, region, want string }{
		"international with a plus":            {"+15555550142", "US", "+15555550142"},
		"international without a plus":         {"15555550142", "US", "+15555550142"},
		"national":                             {"5555550142", "US", "+15555550142"},
		"as a person writes it":                {"(555) 555-0142", "US", "+15555550142"},
		"with the international prefix":        {"0015555550142", "US", "+15555550142"},
		"abroad, heard without a plus":         {"447700900123", "US", "+447700900123"},
		"national elsewhere":                   {"07700900123", "GB", "+447700900123"},
		"a short code is nobody's number":      {"72345", "US", "72345"},
		"a service's name is nobody's number":  {"MYBANK", "US", "MYBANK"},
		"a name that has digits stays a name":  {"AREA51 5550142", "US", "AREA51 5550142"},
		"nothing":                              {"", "US", ""},
		"a plus and too little behind it":      {"+123", "US", "+123"},
		"no region, and no plus":               {"15555550142", "", "+15555550142"},
		"spaces around it":                     {" +15555550142\t", "US", "+15555550142"},
		"national, but the region is not told": {"5555550142", "", "+5555550142"},
	} {
		t.Run(name, func(t *testing.T) {
			if got := Normal(c.number, c.region); got != c.want {
				t.Errorf("Normal(%q, %q) = %q, want %q", c.number, c.region, got, c.want)
			}
		})
	}
}

func TestANumberInALogCannotBeDialled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.StringMatching(`\+?[0-9]{0,15}`).Draw(t, "number")
		if got := Digits(PhoneShort(number)); len(got) > 2 {
			t.Fatalf("PhoneShort(%q) keeps %d digits", number, len(got))
		}
	})
	if got := PhoneShort("+15555550142"); got != "...42" {
		t.Errorf("got %q", got)
	}
}

func TestE164(t *testing.T) {
	for number, want := range map[string]bool{
		"+15555550142": true, "15555550142": false, "+0555": false, "+1555555014212345": false, "+1555\n0142": false, "": false, "+": false,
	} {
		if IsE164(number) != want {
			t.Errorf("IsE164(%q) = %v", number, !want)
		}
	}
}
