package frost_test

import (
	"os"
	"strings"
	"testing"

	"stubbled/scheduler/frost"
)

// fuzzReader throws text at one form's reader. Whatever comes: no panic, a
// message that names the file, only temperatures that can be, and the same
// record when the text is read twice over.
func fuzzReader(f *testing.F, format frost.Format) {
	f.Fuzz(func(t *testing.T, text string) {
		r, err := frost.Read("station", strings.NewReader(text), frost.Options{Format: format})
		if err != nil {
			if r != nil || !strings.HasPrefix(err.Error(), "station:") {
				t.Fatalf("error %v", err)
			}
			return
		}
		checkRead(t, text, r)
		twice, err := frost.Read("station", strings.NewReader(text+"\n"+text), frost.Options{Format: format})
		if err == nil && twice.Minima() != r.Minima() {
			t.Fatalf("%d minima, and %d when read twice over", r.Minima(), twice.Minima())
		}
	})
}

func checkRead(t *testing.T, text string, r *frost.Record) {
	t.Helper()
	first, last := r.First(), r.Last()
	if first.IsZero() || last.Before(first) || !first.IsValid() || !last.IsValid() || r.Minima() == 0 {
		t.Fatalf("from %v to %v with %d minima", first, last, r.Minima())
	}
	for _, d := range []frost.Day{r.Day(first), r.Day(last)} {
		if c := d.Min.C(); !(c >= -95 && c <= 65) {
			t.Fatalf("minimum %v", d.Min)
		}
	}
	if lines := strings.Count(text, "\n") + 1; r.Problems.BadLines+r.Problems.Repeated > lines || len(r.Problems.Named) > 10 {
		t.Fatalf("%+v in %d lines", r.Problems, lines)
	}
	for _, s := range r.Seasons(frost.Freeze32F) {
		if s.Missing >= s.Span || s.Span < 1 || s.Span > frost.LastOffset+1 || s.Came() && !frost.Freeze32F.Reached(s.Min) {
			t.Fatalf("%+v", s)
		}
	}
}

func FuzzReadDly(f *testing.F) {
	oct := dlyMonth(2012, 10, "TMIN", 50)
	for _, seed := range []string{
		oct, oct + "\r\n" + dlyMonth(2012, 11, "PRCP", 12) + "\n", oct[:100], oct + "  -20   ", strings.TrimRight(oct, " "),
		withDay(oct, 3, "  -60 G0"), withDay(oct, 3, " - 60"), withDay(oct, 3, "     "), withDay(oct, 3, "99999"), "\n\n" + oct,
	} {
		f.Add(seed)
	}
	fuzzReader(f, frost.GHCNDaily)
}

func FuzzReadByStation(f *testing.F) {
	const row = "USW00094728,20121007,TMIN,-6,,,Z,\n"
	for _, seed := range []string{row, "ID,DATE,ELEMENT,DATA_VALUE,M_FLAG,Q_FLAG,S_FLAG,OBS_TIME\n" + row, row[:30], strings.Replace(row, ",,,", ",,X,", 1), "USW00094728,20121007,TMIN,"} {
		f.Add(seed)
	}
	fuzzReader(f, frost.GHCNByStation)
}

func FuzzReadUSCRN(f *testing.F) {
	row := uscrnDay("20121007", "12.0", "-0.6", "0.0")
	for _, seed := range []string{row, row + "\n" + row, row[:100], strings.Replace(row, "-0.6", "  . ", 1), strings.Replace(row, " ", "", 1), uscrnDay("20120230", "-9999.0", "-9999.0", "-9999.0")} {
		f.Add(seed)
	}
	fuzzReader(f, frost.USCRNDaily)
}

func FuzzReadCSV(f *testing.F) {
	for _, seed := range []string{
		"date,tmin_c\n2012-10-07,-0.6\n", "date;tmin_f;rain_in\n2012-10-07;30,92;T\n", "\"date\",\"tmin_c\"\n\"2012-10-07\",\"-0.6\"", "date\ttmin_c\n2012-10-07\t.\n",
		"date,tmin_c,tmax_c\n2012-10-07,,\n,,\n2012-10-07,1,\"", "station,date,tmin_c\nA,2012-10-07,1\nB,2012-10-08,1\n", "date,precipitation,temp_max,temp_min,wind,weather\n2012-10-07,1,2,3,4,rain\n",
	} {
		f.Add(seed)
	}
	fuzzReader(f, frost.PlainCSV)
}

func FuzzReadAnything(f *testing.F) {
	head, err := os.ReadFile("testdata/seattle-weather.csv")
	if err != nil {
		f.Fatal(err)
	}
	for _, seed := range []string{"", "PK\x03\x04", "\x1f\x8b", "\x1f\x8b\x08\x00", "\ufeffdate,tmin_c\n", string(head[:2000]), dlyMonth(2012, 10, "TMIN", 50), uscrnDay("20121007", "12.0", "-0.6", "0.0")} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if r, err := frost.Read("station", strings.NewReader(text), frost.Options{}); err == nil {
			checkRead(t, text, r)
		}
	})
}

func FuzzParseThreshold(f *testing.F) {
	for _, seed := range []string{"32F", "-2.2C", " 28 °f", "+0c", "F", "3.14159265F", "-.5C", "5.C", "1e3F", "99999999999999F"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		th, err := frost.ParseThreshold(text)
		if err != nil {
			return
		}
		again, err := frost.ParseThreshold(th.String())
		if err != nil || again != th {
			t.Fatalf("%q is %v and reads back as %v (%v)", text, th, again, err)
		}
		if !th.Reached(th.Limit()) || th.Reached(th.Limit()+1) {
			t.Fatalf("%v does not end at %v", th, th.Limit())
		}
	})
}
