package store

import (
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"
	"time"

	"stubbled/scheduler/diary"
)

func record(t *testing.T, s *Store, f diary.Fact) (id int64, fresh bool) {
	t.Helper()
	update(t, s, sep1, func(x *Tx) (err error) { id, fresh, err = x.Record(f); return err })
	return id, fresh
}

func facts(t *testing.T, s *Store) []diary.Fact {
	t.Helper()
	f, err := s.factsAfter(0)
	must(t, err)
	return f
}

func TestAFactComesBackAsItWasWritten(t *testing.T) {
	s := fresh(t)
	in := heard(t, s, "1", "Ana", "creek 14 8.5", sep1)
	cold := -2.2
	want := []diary.Fact{
		{At: sep1, Day: day("2026-08-31"), Kind: diary.Reading, Paddock: "creek", Heights: []float64{14, 8.5, 120}, Adds: true, By: "Ana", Source: diary.FromText, Inbox: in.Row, Words: "creek 14 8.5"},
		{At: sep1, Day: day("2028-02-29"), Kind: diary.Later, Paddock: "hill", Wait: 36 * time.Hour, By: "Ana", Source: diary.FromText},
		{At: sep1, Day: day("2026-10-14"), Kind: diary.Frost, TempC: &cold, By: "quail-fork.csv", Source: diary.FromRecord},
		{At: sep1, Day: day("2026-09-01"), Kind: diary.On, Paddock: "creek", Herd: "cows", Source: diary.FromKeyboard},
	}
	for i := range want {
		want[i].ID, _ = record(t, s, want[i])
	}
	if got := facts(t, s); !reflect.DeepEqual(got, want) {
		t.Errorf("got  %+v\nwant %+v", got, want)
	}
	after, err := s.factsAfter(want[1].ID)
	must(t, err)
	if !reflect.DeepEqual(after, want[2:]) {
		t.Errorf("after %d: %+v", want[1].ID, after)
	}
	var each []diary.Fact
	must(t, s.EachFact(ctx, 0, func(f diary.Fact) error { each = append(each, f); return nil }))
	if !reflect.DeepEqual(each, want) {
		t.Errorf("one by one: %+v", each)
	}
	if err := s.EachFact(ctx, 0, func(diary.Fact) error { return errors.ErrUnsupported }); !errors.Is(err, errors.ErrUnsupported) {
		t.Errorf("stopped with %v", err)
	}
}

func TestAMeasuredFrostOfOneDayIsOneFactEvenWhenTakenBack(t *testing.T) {
	s := fresh(t)
	cold := -3.0
	frost := diary.Fact{At: sep1, Day: day("2026-10-14"), Kind: diary.Frost, TempC: &cold, Source: diary.FromService}
	first, fresh := record(t, s, frost)
	if !fresh {
		t.Fatal("the first is not fresh")
	}
	update(t, s, sep1, func(x *Tx) error {
		_, fresh, err := x.TakeBack(first, diary.Fact{At: sep1, Day: day("2026-10-14"), By: "Ana", Source: diary.FromText})
		if !fresh {
			t.Error("not taken back")
		}
		return err
	})
	colder := -4.0
	frost.TempC = &colder
	if id, fresh := record(t, s, frost); fresh || id != first {
		t.Errorf("it fired again: %d, %v", id, fresh)
	}
	for name, change := range map[string]func(*diary.Fact){
		"another source":  func(f *diary.Fact) { f.Source = diary.FromThermometer },
		"another day":     func(f *diary.Fact) { f.Day = day("2026-10-15") },
		"another paddock": func(f *diary.Fact) { f.Paddock = "creek" },
		"a person":        func(f *diary.Fact) { f.Source, f.TempC = diary.FromText, nil },
	} {
		other := frost
		change(&other)
		if _, fresh := record(t, s, other); !fresh {
			t.Errorf("%s is another fact", name)
		}
	}
	person := frost
	person.Source = diary.FromText
	if _, fresh := record(t, s, person); !fresh {
		t.Error("a person may report a frost as often as they like")
	}
}

func TestAFactIsTakenBackOnceAndAVoidNever(t *testing.T) {
	s := fresh(t)
	id, _ := record(t, s, reading("creek", 14))
	how := diary.Fact{At: sep1, Day: day("2026-09-01"), By: "Ana", Source: diary.FromText, Words: "undo"}
	update(t, s, sep1, func(x *Tx) error {
		void, fresh, err := x.TakeBack(id, how)
		if !fresh || err != nil {
			t.Errorf("first: %v, %v", fresh, err)
		}
		again, fresh, err := x.TakeBack(id, how)
		if fresh || again != void || err != nil {
			t.Errorf("again: %d, %v, %v", again, fresh, err)
		}
		if _, _, err := x.TakeBack(void, how); err == nil {
			t.Error("a void was taken back")
		}
		if _, _, err := x.TakeBack(9999, how); err == nil {
			t.Error("a fact that is not there was taken back")
		}
		return nil
	})
	got := facts(t, s)
	if len(got) != 2 || got[1].Voids != id || got[1].Paddock != "creek" || got[1].By != "Ana" || got[1].Words != "undo" {
		t.Errorf("got %+v", got)
	}
}

func TestNoFactIsEverChangedOrDeleted(t *testing.T) {
	s := fresh(t)
	record(t, s, reading("creek", 14))
	record(t, s, diary.Fact{At: sep1, Day: day("2026-10-14"), Kind: diary.Frost, Source: diary.FromRecord})
	for _, q := range []string{`UPDATE facts SET paddock = 'hill'`, `DELETE FROM facts`, `INSERT OR REPLACE INTO facts (id, at, day, kind, recorded_at) VALUES (1, 0, '2026-01-01', 'off', 0)`,
		`INSERT OR REPLACE INTO facts (at, day, kind, source, paddock, recorded_at) VALUES (0, '2026-10-14', 'frost', 'record', '', 0)`} {
		if _, err := s.db.Write.ExecContext(ctx, q); err == nil || !strings.Contains(err.Error(), "void") && !strings.Contains(err.Error(), "UNIQUE") {
			t.Errorf("%s: %v", q, err)
		}
	}
	if got := facts(t, s); len(got) != 2 || got[0].Paddock != "creek" || got[1].At.Unix() == 0 {
		t.Errorf("got %+v", got)
	}
}

func TestWhatIsNoFactIsRefused(t *testing.T) {
	s := fresh(t)
	for name, f := range map[string]diary.Fact{
		"a request":             {At: sep1, Day: day("2026-09-01"), Kind: diary.Status},
		"no day":                {At: sep1, Kind: diary.Off},
		"Feb 30":                {At: sep1, Day: func() (d diary.Fact) { d.Day.Year, d.Day.Month, d.Day.Day = 2026, 2, 30; return }().Day, Kind: diary.Off},
		"a void of nothing":     {At: sep1, Day: day("2026-09-01"), Kind: diary.Void},
		"an off that voids":     {At: sep1, Day: day("2026-09-01"), Kind: diary.Off, Voids: 1},
		"a text that is unread": {At: sep1, Day: day("2026-09-01"), Kind: diary.Off, Inbox: 77},
	} {
		if err := s.Update(ctx, sep1, func(x *Tx) error { _, _, err := x.Record(f); return err }); err == nil {
			t.Errorf("%s was recorded", name)
		}
	}
	if got := facts(t, s); len(got) != 0 {
		t.Errorf("recorded: %+v", got)
	}
}

// A text's facts are taken up in the transaction that wrote them, without asking the
// file: nothing may be another then than it is ever after.
func TestAFactReadWhereItWasRecordedIsTheFactAsItIsKept(t *testing.T) {
	s := fresh(t)
	in := heard(t, s, "1", "Ana", "creek 14", sep1)
	cold, zero := -2.75, math.Copysign(0, -1)
	odd := diary.Fact{
		At: sep1.Add(1500 * time.Millisecond).In(time.FixedZone("", -5*3600)), Day: day("2026-09-01"), Kind: diary.Reading, Paddock: "creek", Herd: "cows",
		Heights: []float64{14.25, 8, 1e-3}, Adds: true, Wait: 90*time.Minute + time.Millisecond, By: "Ana", Source: diary.FromText, Inbox: in.Row,
		Words: "creek 14\xff", Plant: "johnsongrass", Amount: zero,
	}
	bare := diary.Fact{At: sep1, Day: day("2026-09-02"), Kind: diary.Off, Heights: []float64{}}
	night := diary.Fact{At: sep1, Day: day("2026-09-02"), Kind: diary.Frost, TempC: &cold, Source: diary.FromRecord, Amount: 0.1}
	var inside, behind []diary.Fact
	update(t, s, sep1, func(x *Tx) error {
		id, _, err := x.Record(bare)
		must(t, err)
		for _, f := range []diary.Fact{odd, night, {At: sep1, Day: day("2026-09-02"), Kind: diary.Void, Voids: id}} {
			_, _, err := x.Record(f)
			must(t, err)
		}
		_, fresh, err := x.Record(night) // it is there
		if must(t, err); fresh {
			t.Error("a measurement was recorded twice")
		}
		if inside, err = x.FactsAfter(0); err == nil {
			behind, err = x.FactsAfter(id)
		}
		return err
	})
	if kept := facts(t, s); !reflect.DeepEqual(inside, kept) || !reflect.DeepEqual(behind, kept[1:]) {
		t.Errorf("in its transaction:\n%+v\n%+v\nafterwards:\n%+v", inside, behind, kept)
	}
}

func TestObservationsAreKeptOnceAndTheLatestForecastCounts(t *testing.T) {
	s := fresh(t)
	at, warm, rain := sep1, 20.0, 3.5
	obs := func(min float64, issued time.Time) diary.Observation {
		return diary.Observation{Source: "service", Place: "KAAA", At: at, Day: day("2026-09-01"), MinC: min, MaxC: &warm, RainMM: &rain, Forecast: !issued.IsZero(), Issued: issued}
	}
	must(t, s.Observe(ctx, nil, sep1))
	must(t, s.Observe(ctx, []diary.Observation{obs(1, time.Time{}), obs(2, time.Time{}), obs(5, sep1), obs(4, sep1.Add(-time.Hour))}, sep1))
	other := obs(-1, time.Time{})
	other.Place, other.MaxC, other.RainMM = "creek", nil, nil
	must(t, s.Observe(ctx, []diary.Observation{other}, sep1))
	got, err := s.observations(day("2026-09-01"), day("2026-09-01"))
	must(t, err)
	want := []diary.Observation{obs(2, time.Time{}), obs(5, sep1), other}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got  %+v\nwant %+v", got, want)
	}
	if got, _ := s.observations(day("2026-09-02"), day("2026-12-31")); len(got) != 0 {
		t.Errorf("other days: %v", got)
	}
	if err := s.Observe(ctx, []diary.Observation{{Source: "service"}}, sep1); err == nil {
		t.Error("an observation of no time was kept")
	}
}
