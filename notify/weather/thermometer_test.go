package weather

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"stubbled/notify/terms"
	"stubbled/scheduler/diary"
)

var chicago = func() *time.Location {
	z, err := time.LoadLocation("America/Chicago")
	if err != nil {
		panic(err)
	}
	return z
}()

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// A barn is a thermometer's log on disk and somebody who watches it.
type barn struct {
	t    testing.TB
	path string
	now  time.Time
	w    *watch
	got  []diary.Observation
	said []error
	fail error // of the store
}

func newBarn(t testing.TB, tweak func(*Log)) *barn {
	t.Helper()
	b := &barn{t: t, path: filepath.Join(t.TempDir(), "barn.csv"), now: time.Date(2026, 10, 14, 6, 30, 0, 0, chicago)}
	l := Log{Thermometer: terms.Thermometer{File: b.path, Every: 30 * time.Second, Silence: 6 * time.Hour}, Zone: chicago}
	if tweak != nil {
		tweak(&l)
	}
	th := NewThermometer(l, func() time.Time { return b.now })
	b.w = th.watch(func(err error) { b.said = append(b.said, err) })
	t.Cleanup(b.w.tail.close)
	return b
}

func (b *barn) write(text string) {
	b.t.Helper()
	f, err := os.OpenFile(b.path, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o644)
	must(b.t, err)
	_, err = f.WriteString(text)
	must(b.t, err)
	must(b.t, f.Close())
}

func (b *barn) look() []diary.Observation {
	b.got = nil
	b.w.look(context.Background(), func(_ context.Context, got []diary.Observation) error {
		if b.fail != nil {
			return b.fail
		}
		b.got = append(b.got, got...)
		return nil
	})
	return b.got
}

func (b *barn) lastSaid() string {
	if len(b.said) == 0 || b.said[len(b.said)-1] == nil {
		return "well"
	}
	return b.said[len(b.said)-1].Error()
}

func TestLogsAsLoggersWriteThem(t *testing.T) {
	at := time.Date(2026, 10, 14, 5, 30, 0, 0, chicago)
	for _, c := range []struct {
		name, text string
		tweak      func(*Log)
		want       float64
	}{
		{"a header with the unit in brackets", "time,temperature (F)\n2026-10-14 05:30,28.4\n", nil, -2},
		{"degrees C", "Date/Time,Temp °C\n2026-10-14T05:30:00,-2\n", nil, -2},
		{"an offset in the time", "timestamp,temp_c\n2026-10-14T10:30:00Z,-2.0\n", nil, -2},
		{"seconds since 1970", "unixtime,temp_f\n" + fmt.Sprint(at.Unix()) + ",28.4\n", nil, -2},
		{"day and time in two columns, and others beside", "#,Date,Time,RH %,Outside Temp (F),Inside Temp (F)\n7,10/14/2026,5:30:00 AM,88,28.4,61\n", nil, -2},
		{"semicolons and a decimal comma, in Spanish", "Fecha;Hora;Temperatura (°C)\n14/10/2026;05:30;-2,0\n", func(l *Log) { l.DayFirst = true }, -2},
		{"tabs", "Time\tTemp(C)\n2026/10/14 05:30\t-2\n", nil, -2},
		{"no header, the unit from the farm file", "2026-10-14 05:30,28.4\n", func(l *Log) { l.Unit = "F" }, -2},
		{"no header, the unit in each line", "2026-10-14 05:30,28.4F\n", nil, -2},
		{"no header, day and time apart", "10/14/26,05:30,-2\n", func(l *Log) { l.Unit = "C" }, -2},
		{"the farm file overrules the header", "time,temp (C)\n2026-10-14 05:30,28.4\n", func(l *Log) { l.Unit = "F" }, -2},
		{"a column by name", "time,Probe 1 temp (F),Probe 2 temp (F)\n2026-10-14 05:30,99,28.4\n", func(l *Log) { l.Column = "probe 2 temp (F)" }, -2},
		{"a logger's name above the header", "Plot Title: Barn\n\"Serial: 12\"\n\"Date Time, GMT-05:00\",\"Temp, °F\"\n2026-10-14 05:30,28.4\n", nil, -2},
		{"a mark at the beginning, and lines that end as on Windows", "\ufefftime,temp (F)\r\n2026-10-14 05:30,28.4\r\n", nil, -2},
		{"quotes", "\"time\",\"temp (F)\"\n\"2026-10-14 05:30\",\"28.4\"\n", nil, -2},
		{"a typeset minus", "time,temp (C)\n2026-10-14 05:30,−2\n", nil, -2},
		{"dew point beside the air", "time,Dew Point (F),Temp (F)\n2026-10-14 05:30,20,28.4\n", nil, -2},
		{"zeros from a power cut", "time,temp (F)\n\x00\x00\x00\x002026-10-14 05:30,28.4\n", nil, -2},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := newBarn(t, c.tweak)
			b.write(c.text)
			got := b.look()
			if len(got) != 1 || !got[0].At.Equal(at) || math.Abs(got[0].MinC-c.want) > 1e-9 || got[0].Source != diary.FromThermometer || got[0].Forecast || got[0].Place != "barn.csv" {
				t.Errorf("got %+v, said %v", got, b.lastSaid())
			}
			if b.lastSaid() != "well" {
				t.Errorf("said %s", b.lastSaid())
			}
		})
	}
}

func TestLogsThatCannotBeRead(t *testing.T) {
	for _, c := range []struct {
		name, text, says string
		tweak            func(*Log)
	}{
		{"no unit anywhere", "time,temperature\n2026-10-14 05:30,28.4\n", "F or C", nil},
		{"no unit and no header", "2026-10-14 05:30,28.4\n", "F or C", nil},
		{"two temperatures", "time,Temp A (F),Temp B (F)\n2026-10-14 05:30,28.4,30\n", "name the one to take", nil},
		{"a column that is not there", "time,temp (F)\n2026-10-14 05:30,28.4\n", `no column is called "attic"`, func(l *Log) { l.Column = "attic" }},
		{"no temperature", "time,wind\n2026-10-14 05:30,4\n", "names a temperature", nil},
		{"no time", "cow,weight\nbess,1300\n", "names a time", nil},
		{"UTF-16", "\xff\xfet\x00i\x00m\x00e\x00\n\x00", "UTF-8", nil},
		{"ten lines of junk", "time,temp (F)\n" + strings.Repeat("2026-10-14 05:30,ERR\n", 10), "want a number", nil},
		{"a sensor torn off", "time,temp (F)\n" + strings.Repeat("2026-10-14 05:30,-196.6\n", 10), "no air is that cold", nil},
		{"a logger's clock that is wrong", "time,temp (F)\n" + strings.Repeat("2036-10-14 05:30,28\n", 10), "logger's clock", nil},
		{"not there", "", "is not there", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := newBarn(t, c.tweak)
			if c.text != "" {
				b.write(c.text)
			}
			if got := b.look(); len(got) != 0 || !strings.Contains(b.lastSaid(), c.says) {
				t.Errorf("got %+v, said %q, want %q", got, b.lastSaid(), c.says)
			}
			err := b.w.Check(t.Context())
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("check says %v", err)
			}
		})
	}
}

func TestALogIsFollowedAsItGrows(t *testing.T) {
	b := newBarn(t, nil)
	b.write("time,temp (F)\n2026-10-14 05:00,30\n2026-10-14 05:10,3")
	if got := b.look(); len(got) != 1 {
		t.Fatalf("a line still being written was read: %+v", got)
	}
	b.write("1.5\n")
	if got := b.look(); len(got) != 1 || math.Abs(got[0].MinC-fromF(31.5)) > 1e-9 {
		t.Fatalf("got %+v", got)
	}
	if got := b.look(); len(got) != 0 {
		t.Fatalf("read twice: %+v", got)
	}
	// replaced by a new file, after the old one got one more line
	b.write("2026-10-14 05:20,29\n")
	must(t, os.Rename(b.path, b.path+".1"))
	b.write("time,temp (C)\n2026-10-14 05:30,-3\n")
	if got := b.look(); len(got) != 2 || got[1].MinC != -3 {
		t.Fatalf("got %+v", got)
	}
	// cut back and begun anew, with other columns
	must(t, os.Truncate(b.path, 0))
	b.write("temp (C),time\n-4,2026-10-14 06:00\n")
	if got := b.look(); len(got) != 1 || got[0].MinC != -4 {
		t.Fatalf("got %+v, said %s", got, b.lastSaid())
	}
	// gone for a while
	must(t, os.Remove(b.path))
	if got := b.look(); len(got) != 0 {
		t.Fatalf("got %+v", got)
	}
	b.write("time,temp (C)\n2026-10-14 06:20,-5\n")
	if got := b.look(); len(got) != 1 || got[0].MinC != -5 {
		t.Fatalf("got %+v", got)
	}
}

func TestJunkLinesDoNotStandInTheWay(t *testing.T) {
	b := newBarn(t, nil)
	b.write("time,temp (F)\n\n###\n2026-10-14 05:00,NaN\n2026-10-14 05:00,0x10\n2026-10-14 05:00,Inf\n2026-10-14 25:00,31\n2026-10-14 05:00\n,,,\n" +
		strings.Repeat("9", 10_000) + "\n2026-10-14 05:30,28.4\n")
	if got := b.look(); len(got) != 1 || b.lastSaid() != "well" {
		t.Errorf("got %+v, said %s", got, b.lastSaid())
	}
	b.write(strings.Repeat("x", 1<<20)) // a line that never ends
	if got := b.look(); len(got) != 0 || !b.w.tail.long {
		t.Errorf("it is kept to be read again, and %+v", got)
	}
	b.write("\n2026-10-14 05:40,27\n")
	if got := b.look(); len(got) != 1 {
		t.Errorf("got %+v", got)
	}
}

func TestAMinimumIsNeverLostHoweverOftenALoggerWrites(t *testing.T) {
	b := newBarn(t, func(l *Log) { l.Unit = "C" })
	b.now = b.now.AddDate(1, 0, 0)
	at := time.Date(2026, 10, 14, 0, 0, 0, 0, time.UTC)
	rapid.Check(t, func(t *rapid.T) {
		b.now = at.Add(time.Hour)
		low, n := map[time.Time]float64{}, rapid.IntRange(1, 60).Draw(t, "lines")
		var text strings.Builder
		for range n {
			c := float64(rapid.IntRange(-80, 80).Draw(t, "tenths")) / 10
			at = at.Add(time.Duration(rapid.IntRange(1, 400).Draw(t, "seconds")) * time.Second)
			fmt.Fprintf(&text, "%s,%.1f\n", at.Format(time.RFC3339), c)
			if was, ok := low[at.Truncate(10*time.Minute)]; !ok || c < was {
				low[at.Truncate(10*time.Minute)] = c
			}
		}
		at = at.Truncate(10 * time.Minute).Add(10 * time.Minute)
		b.now = at.Add(time.Hour)
		b.write(text.String())
		got := map[time.Time]float64{}
		for _, o := range b.look() {
			if was, ok := got[o.At.UTC().Truncate(10*time.Minute)]; !ok || o.MinC < was {
				got[o.At.UTC().Truncate(10*time.Minute)] = o.MinC
			}
		}
		for k, v := range low {
			if got[k] != v {
				t.Fatalf("ten minutes of %v: got %v, want %v", k, got[k], v)
			}
		}
	})
}

func TestSilenceIsToldOnceAndWhenItIsOver(t *testing.T) {
	b := newBarn(t, nil)
	b.write("time,temp (F)\n2026-10-14 06:00,31\n")
	b.look()
	for range 7 * 24 { // a week
		b.now = b.now.Add(time.Hour)
		b.look()
	}
	if len(b.said) != 2 || b.said[0] != nil || !strings.Contains(b.lastSaid(), "no reading since Oct 14 06:00") || !strings.Contains(b.lastSaid(), "does not mean no frost") {
		t.Fatalf("said %v", b.said)
	}
	b.write(b.now.Format("2006-01-02 15:04") + ",40\n")
	b.look()
	if len(b.said) != 3 || b.said[2] != nil {
		t.Errorf("said %v", b.said)
	}
}

func TestOldReadingsAreLeftAndWhatTheStoreRefusedIsKept(t *testing.T) {
	b := newBarn(t, nil)
	b.write("time,temp (F)\n2026-09-14 05:30,28\n2026-10-14 05:30,28\n")
	b.fail = errors.New("disk full")
	if got := b.look(); len(got) != 0 || !strings.Contains(b.lastSaid(), "cannot be stored") {
		t.Errorf("got %+v, said %s", got, b.lastSaid())
	}
	b.fail = nil
	if got := b.look(); len(got) != 1 || got[0].At.Month() != time.October {
		t.Errorf("got %+v", got)
	}
}

func TestTheNightOfTwentyFiveHours(t *testing.T) {
	b := newBarn(t, nil)
	b.now = time.Date(2026, 11, 1, 8, 0, 0, 0, chicago)
	b.write("time,temp (F)\n2026-11-01 00:50,40\n2026-11-01 01:20,38\n2026-11-01 01:50,36\n2026-11-01 01:20,34\n2026-11-01 01:50,32\n2026-11-01 02:20,30\n")
	got := b.look()
	for i, o := range got {
		if i > 0 && o.At.Sub(got[i-1].At) != 30*time.Minute {
			t.Errorf("%v after %v", o.At, got[i-1].At)
		}
	}
	if len(got) != 6 {
		t.Errorf("got %+v", got)
	}
}

func TestALogOfHundredsOfMegabytesIsReadFromItsEnd(t *testing.T) {
	b := newBarn(t, nil)
	b.write("time,temp (F)\n")
	f, err := os.OpenFile(b.path, os.O_WRONLY, 0)
	must(t, err)
	_, err = f.WriteAt([]byte("\n2026-10-14 05:30,28.4\n"), 300<<20) // the rest is a hole
	must(t, err)
	must(t, f.Close())
	begin := time.Now()
	if got := b.look(); len(got) != 1 {
		t.Errorf("got %+v, said %s", got, b.lastSaid())
	}
	t.Logf("in %v", time.Since(begin))
}

func TestRunEndsWithItsContext(t *testing.T) {
	b := newBarn(t, nil)
	b.write("time,temp (F)\n2026-10-14 05:30,28.4\n")
	ctx, cancel := context.WithCancel(t.Context())
	n := 0
	err := b.w.Run(ctx, func(_ context.Context, got []diary.Observation) error {
		n += len(got)
		cancel()
		return nil
	}, func(error) {})
	if n != 1 || !errors.Is(err, context.Canceled) {
		t.Errorf("%d %v", n, err)
	}
}

func FuzzLog(f *testing.F) {
	f.Add([]byte("time,temp (F)\n2026-10-14 05:30,28.4\n"), "")
	f.Add([]byte("Fecha;Hora;Temperatura (°C)\n14/10/2026;05:30;-2,0\n\x00\xff\"\n"), "C")
	f.Add([]byte("1760437800,28.4\n"), "F")
	f.Fuzz(func(t *testing.T, text []byte, unit string) {
		if unit != "" && unit != "F" && unit != "C" {
			return
		}
		path := filepath.Join(t.TempDir(), "log")
		must(t, os.WriteFile(path, text, 0o644))
		now := time.Date(2026, 10, 14, 6, 30, 0, 0, chicago)
		th := NewThermometer(Log{Thermometer: terms.Thermometer{File: path, Unit: unit}, Zone: chicago}, func() time.Time { return now })
		w := th.watch(func(error) {})
		defer w.tail.close()
		w.look(t.Context(), func(_ context.Context, got []diary.Observation) error {
			for _, o := range got {
				if !possible(o.MinC) || o.At.After(now.Add(time.Hour)) || now.Sub(o.At) > lookBack {
					t.Errorf("got %+v", o)
				}
			}
			return nil
		})
	})
}
