package frost_test

import (
	"strings"
	"testing"

	"stubbled/scheduler/frost"
)

func TestAPlainCSVWithFaultsGivesWhatIsSoundInIt(t *testing.T) {
	const head = "date,tmin_c\n"
	const good = "2012-10-07,-0.6\n"
	for _, n := range []nasty{
		{name: "Windows line ends", text: "date,tmin_c\r\n2012-10-07,-0.6\r\n", minima: 1},
		{name: "a byte order mark", text: "\ufeff" + head + good, minima: 1},
		{name: "every way to write a missing day", text: head + good + "2012-10-08,\n2012-10-09,NA\n2012-10-10,.\n2012-10-11,-9999\n2012-10-12,-9999.0\n2012-10-13,NaN\n2012-10-14,\"\"\n2012-10-15,M\n", minima: 1},
		{name: "blank columns at the line's end", text: "date,tmin_c,tmax_c,rain_mm,,\n2012-10-07,-0.6,,,,\n2012-10-08,-0.6\n", minima: 2},
		{name: "two rows for one day", text: head + good + "2012-10-07,-5.0\n", minima: 1, repeated: 1, names: "station:3: a second row for 2012-10-07; the first one stays"},
		{name: "the header once more", text: head + good + head + "2012-10-08,1.0\n", minima: 2},
		{name: "a comment", text: "# from the shed\n" + head + "# quiet night\n" + good, minima: 1},
		{name: "semicolons and decimal commas", text: "date;tmin_c\n2012-10-07;-0,6\n2012-10-08;1,0\n", minima: 2},
		{name: "tabs", text: "date\ttmin_c\n2012-10-07\t-0.6\n", minima: 1},
		{name: "quotes", text: "\"date\",\"tmin_c\"\n\"2012-10-07\",\"-0.6\"\n", minima: 1},
		{name: "a quote that is not closed", text: head + good + "\"2012-10-08,1.0\n", minima: 1, bad: 1, names: "station:3: a quote is not closed"},
		{name: "capitals and blanks in the header", text: "Date , TMIN_C\n2012-10-07 , -0.6\n", minima: 1},
		{name: "dates as a spreadsheet saves them", text: head + good + "10/8/2012,1.0\n9/30/2012,2\n12/31/2012,2\n", minima: 4},
		{name: "a day with its midnight", text: head + good + "2012-10-08 00:00,1.0\n2012-10-09T00:00:00,2\n", minima: 3},
		{name: "a year of two digits", text: head + good + "10/8/12,1.0\n", minima: 1, bad: 1, names: "no date such as 2012-10-07 or 10/7/2012: \"10/8/12\""},
		{name: "Feb 29 of a common year", text: head + good + "2013-02-29,1.0\n", minima: 1, bad: 1, names: "station:3"},
		{name: "a line cut short", text: head + good + "2012-10-08\n", minima: 1, bad: 1, names: "station:3: cut short"},
		{name: "words for a number", text: head + good + "2012-10-08,cold\n", minima: 1, bad: 1, names: "no minimum: \"cold\""},
		{name: "a decimal comma between commas", text: head + good + "2012-10-08,1,5\n", minima: 2},
		{name: "-99.9 for missing", text: head + good + "2012-10-08,-99.9\n", minima: 1, impossible: 1, names: "minimum -99.9 C is beyond any on earth"},
		{name: "rows out of order", text: head + "2012-10-09,1.0\n" + good + "2012-10-08,1.0\n", minima: 3},
		{name: "one station all through", text: "station,date,tmin_c\nA,2012-10-07,-0.6\nA,2012-10-08,1\n", minima: 2},
		{name: "other names by option", text: "when,low\n2012-10-07,31\n", opt: frost.Options{Columns: frost.Columns{Date: "when", Min: "low", Unit: frost.Fahrenheit}}, minima: 1},
	} {
		t.Run(n.name, n.check)
	}
}

func TestMinimaInFComeToTheTenthOfADegreeCTheyWereMeasuredIn(t *testing.T) {
	r := read(t, "date,tmin_f,tmax_f,rain_in\n2012-10-01,31.82,50.0,0.10\n2012-10-02,28.04,,T\n2012-10-03,28,40,\n2012-10-04,36,86.36,-9999\n", frost.Options{})
	for _, c := range []struct {
		date string
		want frost.Temp
	}{
		{"2012-10-01", -100},  // 31.82 F is -0.1 C
		{"2012-10-02", -2200}, // 28.04 F is -2.2 C
		{"2012-10-03", -2222}, // 28 F itself, which no tenth of a degree C makes
		{"2012-10-04", 2222},
	} {
		if got := r.Day(day(t, c.date)).Min; got != c.want {
			t.Errorf("%s: minimum %d thousandths of a degree C, want %d", c.date, got, c.want)
		}
	}
	if d := r.Day(day(t, "2012-10-04")); d.Max != 30_200 || d.Rain.Known() {
		t.Errorf("Oct 4: %v, %v; want 30.2 C and no rain known", d.Max, d.Rain)
	}
	if d := r.Day(day(t, "2012-10-01")); d.Rain != 2540 {
		t.Errorf("a tenth of an inch is %d thousandths of a millimetre, want 2540", d.Rain)
	}
	if d := r.Day(day(t, "2012-10-02")); d.Rain != 0 || d.Max.Known() {
		t.Errorf("Oct 2: %v and rain %v; want no maximum and a trace, 0", d.Max, d.Rain)
	}
}

func TestTheSeattleSeriesNeedsNoColumnNames(t *testing.T) {
	named, err := frost.ReadFile("testdata/seattle-weather.csv", frost.Options{Columns: seattleColumns})
	if err != nil {
		t.Fatal(err)
	}
	plain, err := frost.ReadFile("testdata/seattle-weather.csv", frost.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for d := plain.First(); !d.After(plain.Last()); d = d.AddDays(1) {
		if plain.Day(d) != named.Day(d) {
			t.Fatalf("%v: %v without names, %v with them", d, plain.Day(d), named.Day(d))
		}
	}
	if plain.Minima() != 1461 {
		t.Errorf("%d minima, want 1461", plain.Minima())
	}
}

func TestAHeaderThatCannotBeUsedSaysWhichNameIsMissing(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"no minimum", "date,tmax_c\n2012-10-07,1\n", "station:1: no column tmin_c or tmin_f or tmin in the header; it has date, tmax_c"},
		{"a unit nobody named", "date,low\n2012-10-07,1\n", "no column tmin_c or tmin_f"},
		{"two units", "date,tmin_c,tmax_f\n2012-10-07,1,40\n", `columns "tmin_c" and "tmax_f" are not in the same unit`},
	} {
		t.Run(c.name, func(t *testing.T) { wantReadError(t, c.text, frost.Options{}, c.want) })
	}
	wantReadError(t, "date,low\n2012-10-07,1\n", frost.Options{Columns: frost.Columns{Min: "low"}}, `column "low" does not say its unit, and there is no maximum to tell it by; say it with --units C, F or tenths`)
	wantReadError(t, "date,tmin_c\n2012-10-07,1\n", frost.Options{Columns: frost.Columns{Max: "high"}}, `no column "high" in the header; it has date, tmin_c`)
	wantReadError(t, "date,tmin_c\n2012-10-07,1\n", frost.Options{Columns: frost.Columns{Date: "day"}, Format: frost.PlainCSV}, `no column "day" in the header`)
}

func wantReadError(t *testing.T, text string, opt frost.Options, want string) {
	t.Helper()
	_, err := frost.Read("station", strings.NewReader(text), opt)
	if err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("error %v, want one with %q", err, want)
	}
}
