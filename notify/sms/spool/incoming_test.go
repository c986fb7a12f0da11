package spool

import (
	"context"
	"errors"
	"os"
	"strings"
	"syscall"
	"testing"
	"time"

	"stubbled/notify"
)

const textFile = "From: 15555550142\nFrom_TOA: 91 international, ISDN/telephone\nFrom_SMSC: 15555550199\n" +
	"Sent: 26-08-22 06:12:01\nReceived: 26-08-22 06:12:09\nSubject: GSM1\nAlphabet: UTF-8\nLength: 14\n\ncreek 14 8 6 8"

// hear runs one pass and gives what was accepted.
func hear(t *testing.T, s *Spool) []notify.Received {
	t.Helper()
	in := newInbox()
	if _, err := s.pass(t.Context(), in.accept); err != nil {
		t.Fatalf("pass: %v", err)
	}
	return in.got
}

func TestATextIsHeardThenMovedAway(t *testing.T) {
	s, c := newSpool(t, func(o *Options) { o.Zone = time.FixedZone("CDT", -5*3600) })
	c.put(t, textFile, s.path("incoming", "GSM1.abc123"))
	got := hear(t, s)
	want := time.Date(2026, 8, 22, 11, 12, 1, 0, time.UTC)
	if len(got) != 1 || got[0].From != ana || got[0].Text != "creek 14 8 6 8" || !got[0].Sent.Equal(want) {
		t.Fatalf("got %+v", got)
	}
	if left := entries(t, s.path("incoming")); len(left) != 0 {
		t.Errorf("left: %v", left)
	}
	if kept := entries(t, s.path("done", "heard")); len(kept) != 1 {
		t.Errorf("kept: %v", kept)
	}
}

func TestATextThatIsNotRecordedStays(t *testing.T) {
	s, c := newSpool(t)
	c.put(t, textFile, s.path("incoming", "GSM1.abc123"))
	var id string
	for range 2 {
		_, err := s.pass(t.Context(), func(_ context.Context, got []notify.Received, _ string) error {
			if id != "" && id != got[0].ID {
				t.Errorf("another id for the same text: %q, then %q", id, got[0].ID)
			}
			id = got[0].ID
			return errors.New("disk full")
		})
		if err == nil || !strings.Contains(err.Error(), "disk full") {
			t.Errorf("the trouble is not told: %v", err)
		}
	}
	if left := entries(t, s.path("incoming")); len(left) != 1 {
		t.Errorf("left: %v", left)
	}
	if got := hear(t, s); len(got) != 1 || got[0].ID != id {
		t.Errorf("afterwards: %+v", got)
	}
}

// smsd reads a message from the SIM again where it died before it deleted it.
func TestOneTextReadTwiceIsOneAndTwoAreTwo(t *testing.T) {
	s, c := newSpool(t)
	c.put(t, textFile, s.path("incoming", "GSM1.aaaaaa"))
	c.put(t, strings.Replace(textFile, "Received: 26-08-22 06:12:09", "Received: 26-08-22 06:14:00", 1), s.path("incoming", "GSM1.bbbbbb"))
	c.put(t, strings.Replace(textFile, "Sent: 26-08-22 06:12:01", "Sent: 26-08-22 06:13:30", 1), s.path("incoming", "GSM1.cccccc"))
	if got := hear(t, s); len(got) != 2 {
		t.Errorf("heard %d, want the one that was read twice and the one sent again: %+v", len(got), got)
	}
	// Without the network's stamp the file tells them apart.
	bare := "From: 15555550142\n\ncreek 9"
	c.put(t, bare, s.path("incoming", "GSM1.dddddd"))
	c.put(t, bare, s.path("incoming", "GSM1.eeeeee"))
	if got := hear(t, s); len(got) != 2 {
		t.Errorf("heard %d of 2 without a stamp", len(got))
	}
	if got := entries(t, s.path("done", "heard")); len(got) != 5 {
		t.Errorf("kept %v", got)
	}
}

func TestFilesThatAreNoWholeTextOfSmsds(t *testing.T) {
	const stays, odd, heard = "stays", "set aside", "heard"
	for name, c := range map[string]struct {
		file, data string
		young, old string // at once, and a minute later
	}{
		"half written":                      {"GSM1.a", textFile[:len(textFile)-4], stays, odd},
		"cut within its headers":            {"GSM1.a", textFile[:60], stays, odd},
		"empty":                             {"GSM1.a", "", stays, odd},
		"hidden":                            {".GSM1.a", textFile, stays, stays},
		"smsd's parts of a long text":       {"GSM1-concatenated", "\x00\x01" + textFile, stays, stays},
		"a lock itself":                     {"GSM1.a.LOCK", "1234", stays, stays},
		"huge":                              {"GSM1.a", textFile + strings.Repeat("x", maxFile), stays, odd},
		"somebody's photograph":             {"IMG_0042.jpg", "\xff\xd8\xff\xe0" + strings.Repeat("\x00\n", 500), stays, odd},
		"no sender":                         {"note.txt", "To: somebody\n\nhello", stays, odd},
		"binary":                            {"GSM1.a", "From: 15555550142\nAlphabet: binary\n\n\x00\x01\x02", stays, odd},
		"an alphabet nobody knows":          {"GSM1.a", "From: 15555550142\nAlphabet: KOI8\n\nx", stays, odd},
		"longer than it says":               {"GSM1.a", textFile + " 9", heard, ""},
		"a length that is no number":        {"GSM1.a", strings.Replace(textFile, "Length: 14", "Length: many", 1), heard, ""},
		"no alphabet, and Latin letters":    {"GSM1.a", "From: 15555550142\n\npastizal ca\xf1ada 9", heard, ""},
		"UTF-8 that is broken":              {"GSM1.a", "From: 15555550142\nAlphabet: UTF-8\n\ncreek 9 \xff\xfe", heard, ""},
		"UCS-2 with half a character":       {"GSM1.a", "From: 15555550142\nAlphabet: UCS2\n\n\x009\x00", heard, ""},
		"headers with carriage returns":     {"GSM1.a", "From: 15555550142\r\n\r\ncreek 9", heard, ""},
		"an empty text":                     {"GSM1.a", "From: 15555550142\nLength: 0\n\n", heard, ""},
		"a body with what looks a header":   {"GSM1.a", "From: 15555550142\n\nFrom: 15555550143\n\n9", heard, ""},
		"two senders":                       {"GSM1.a", "From: 15555550142\nFrom: 15555550143\n\n9", heard, ""},
		"a report that speaks of no text":   {"GSM1.a", "From: 15555550142\n\nSMS STATUS REPORT\nMessage_id: 7\nStatus: 0,Ok\n", stays, stays},
		"a delivery report that is no such": {"GSM1.a", "From: 15555550142\n\nSMS STATUS REPORT ha ha", stays, stays},
	} {
		t.Run(name, func(t *testing.T) {
			s, clk := newSpool(t)
			clk.put(t, c.data, s.path("incoming", c.file))
			look := func() string {
				got := hear(t, s)
				switch {
				case len(got) == 1 && got[0].From == ana:
					return heard
				case len(got) > 0:
					t.Errorf("heard %+v", got)
				case len(entries(t, s.path("done", "odd"))) > 0:
					return odd
				}
				return stays
			}
			if got := look(); got != c.young {
				t.Errorf("at once it is %s, want %s", got, c.young)
			}
			clk.t = clk.t.Add(2 * time.Minute)
			if got := look(); c.old != "" && got != c.old {
				t.Errorf("later it is %s, want %s", got, c.old)
			}
		})
	}
}

func TestALockedFileWaitsForItsLock(t *testing.T) {
	s, c := newSpool(t)
	c.put(t, textFile, s.path("incoming", "GSM1.a"))
	lock := c.put(t, "99", s.path("incoming", "GSM1.a.LOCK"))
	c.t = c.t.Add(time.Hour)
	if got := hear(t, s); len(got) != 0 {
		t.Errorf("heard behind a lock: %+v", got)
	}
	os.Remove(lock)
	if got := hear(t, s); len(got) != 1 {
		t.Errorf("the lock is gone, heard %+v", got)
	}
}

func TestWhatIsNoOrdinaryFileIsNeverOpened(t *testing.T) {
	s, c := newSpool(t)
	secret := c.put(t, textFile, t.TempDir(), "secret")
	for name, make := range map[string]func(string) error{
		"a.link":   func(n string) error { return os.Symlink(secret, n) },
		"a.pipe":   func(n string) error { return syscall.Mkfifo(n, 0o600) },
		"a.folder": func(n string) error { return os.Mkdir(n, 0o700) },
	} {
		if err := make(s.path("incoming", name)); err != nil {
			t.Fatal(err)
		}
	}
	for range 2 {
		if got := hear(t, s); len(got) != 0 {
			t.Errorf("heard %+v", got)
		}
		c.t = c.t.Add(24 * 365 * time.Hour)
	}
}

func TestAnUnreadableFileIsToldAndHoldsNothingUp(t *testing.T) {
	s, c := newSpool(t)
	it, err := s.oddFile(s.path("incoming", "GSM1.a"), &os.PathError{Op: "open", Path: "x", Err: syscall.EACCES})
	if len(it) != 0 || err == nil || !strings.Contains(err.Error(), "umask = 0007") {
		t.Errorf("got %v, %v", it, err)
	}
	c.put(t, textFile, s.path("incoming", "GSM1.b"))
	if got := hear(t, s); len(got) != 1 {
		t.Errorf("got %+v", got)
	}
}

func TestAFileThatCannotBeMovedAwayIsAcceptedOnce(t *testing.T) {
	s, c := newSpool(t)
	c.put(t, textFile, s.path("incoming", "GSM1.a"))
	os.MkdirAll(s.path("done"), 0o770)
	in := newInbox()
	// done/heard becomes a file between the look and the move.
	broken := func(ctx context.Context, got []notify.Received, cursor string) error {
		os.RemoveAll(s.path("done", "heard"))
		os.WriteFile(s.path("done", "heard"), nil, 0o600)
		return in.accept(ctx, got, cursor)
	}
	if _, err := s.pass(t.Context(), broken); err == nil {
		t.Error("the trouble is not told")
	}
	os.Remove(s.path("done", "heard"))
	if _, err := s.pass(t.Context(), in.accept); err != nil {
		t.Errorf("mended, but %v", err)
	}
	for id, n := range in.ids {
		if n != 1 {
			t.Errorf("%s was accepted %d times", id, n)
		}
	}
	if left := entries(t, s.path("incoming")); len(left) > 0 {
		t.Errorf("left: %v", left)
	}
}

func TestWhoSentIt(t *testing.T) {
	s, _ := newSpool(t)
	for name, c := range map[string]struct{ from, toa, want string }{
		"international":                 {"15555550142", "91 international, ISDN/telephone", ana},
		"national":                      {"5555550142", "A1 national, ISDN/telephone", ana},
		"of a kind that is not told":    {"5555550142", "81 unknown, ISDN/telephone", ana},
		"no kind at all":                {"15555550142", "", ana},
		"a short code":                  {"72345", "81 unknown, ISDN/telephone", "72345"},
		"a short code that claims more": {"72345", "91 international, ISDN/telephone", "72345"},
		"a name":                        {"MYBANK", "D0 alphanumeric, unknown", "MYBANK"},
		"a name made of our digits":     {"15555550142", "D0 alphanumeric, unknown", "15555550142"},
	} {
		t.Run(name, func(t *testing.T) {
			if got := s.sender(message{headers: map[string]string{"From": c.from, "From_TOA": c.toa}}); got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}
