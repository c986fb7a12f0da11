package spool

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"stubbled/notify/gsm"
)

// The PDUs were made by smsd 3.1.21 and gammu 1.42, which are not ours; only the
// numbers in them are others, reserved ones.
func TestWhatOtherEncodersMadeIsReadBack(t *testing.T) {
	long1 := "07915155550591F951000B915155550541F20000FFA00500031F02019A6F7B197496BFEB7010FD0D8287C9E4F7780DBA81E8EFF65B2E7FDF41309B6E067381A465383B0F223E9D45D01D5D7683CC69777A8E2E935D202A3A3D07BDDD65507A0E62BFDD6750D9FDAE9FD120FA1BE42E97C920FAFD0D8287E5F439485C1E87EBF332284D079DDFE539E8ED0685DD64D0DB0D0ABBC9A0B71B744FD3D1A0F65B5E06DDDF"
	long2 := "07915155550591F951000B915155550541F20000FF480500031F0202E4E43968FE06D1D1613A888E2E83D8E9769A0E7A9B416F771984AEBBC9F2321914769341F3349E9E07CDCB707A993E07A5E72078783E2F935D"
	for name, c := range map[string]struct {
		pdu  string
		want Submit
	}{
		"a short text without a service centre": {"0011000B915155550541F20000FF13C8329BFD0699E5EF3668DE9ED3DF6FF61C",
			Submit{To: "+15555550142", Text: "Hello from smstools"}},
		"the first of two parts": {long1, Submit{To: "+15555550142", Concat: 0x1F, Total: 2, Part: 1,
			Text: "Move group to paddock 7 tomorrow 06:30. Reply DONE when finished. This one is long enough to need two parts because it goes on and on and on with more wo"}},
		"the second of two parts": {long2, Submit{To: "+15555550142", Concat: 0x1F, Total: 2, Part: 2,
			Text: "rds so that the limit of one hundred and sixty septets is passed."}},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := decodeSubmit(c.pdu)
			if err != nil || got != c.want {
				t.Errorf("got  %+v, %v\nwant %+v", got, err, c.want)
			}
		})
	}
}

// The DELIVER of a worked example that is widely published: from +31641600986,
// "How are you?", 2002-08-26 19:37:41. The service centre is the example's own,
// so only what follows it is compared; the example's zone octet says minus
// zero, which no encoder makes, so another zone stands here.
func TestADeliverIsMadeAsTheWorkedExample(t *testing.T) {
	at := time.Date(2002, 8, 26, 19, 37, 41, 0, time.FixedZone("", 20*900))
	got, length := encodeDeliver("+31641600986", "How are you?", at, nil)
	want := "040B911346610089F6000020806291731402" + "0CC8F71D14969741F977FD07"
	if got[len(got)-len(want):] != want || length != len(want)/2 {
		t.Errorf("got  %s (%d)\nwant ...%s (%d)", got, length, want, len(want)/2)
	}
}

func TestPackingLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOfN(rapid.SampledFrom([]rune(Alphabet)), 0, 80, -1).Draw(t, "text")
		septets, ok := septetsOf(text)
		if !ok {
			t.Fatalf("the alphabet lacks something of %q", text)
		}
		if got := gsm.Decode(unpack(pack(septets), len(septets))); got != text {
			t.Fatalf("got %q, want %q", got, text)
		}
	})
}
