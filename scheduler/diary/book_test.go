package diary

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/golang-sql/civil"
	"pgregory.net/rapid"
)

func on(day int) civil.Date { return civil.Date{Year: 2026, Month: time.September, Day: day} }

func fact(id int64, day int, kind Kind, paddock string) Fact {
	return Fact{ID: id, At: time.Date(2026, 9, day, 12, 0, 0, 0, time.UTC), Day: on(day), Kind: kind, Paddock: paddock}
}

func TestAFactTakenBackNoLongerStands(t *testing.T) {
	b := NewBook(fact(1, 1, Off, "creek"), fact(2, 1, On, "hill"))
	b.Add(Fact{ID: 3, Kind: Void, Voids: 1, At: time.Date(2026, 9, 1, 13, 0, 0, 0, time.UTC), Day: on(1), By: "Ana"})
	if len(b.Of("creek")) != 0 || len(b.Moves()) != 1 {
		t.Errorf("creek has %v, the moves are %v", b.Of("creek"), b.Moves())
	}
	facts, voids := b.TakenBack(time.Date(2026, 9, 1, 0, 0, 0, 0, time.UTC))
	if len(facts) != 1 || facts[0].ID != 1 || voids[0].By != "Ana" {
		t.Errorf("taken back: %v by %v", facts, voids)
	}
}

func TestAFrostTakenBackIsStillOneThatOnceWas(t *testing.T) {
	b := NewBook(fact(1, 20, Frost, ""))
	b.Add(Fact{ID: 2, Kind: Void, Voids: 1})
	if len(b.Every(Frost)) != 0 || len(b.FrostsEver()) != 1 {
		t.Error("what may have turned poisonous was argued away")
	}
}

func TestYesterdaysNewsStandsBeforeTodays(t *testing.T) {
	b := NewBook(fact(1, 3, On, "creek"))
	late := fact(2, 2, Off, "creek") // 'off creek yesterday'
	late.At = late.At.AddDate(0, 0, 1)
	b.Add(late)
	if got := b.Of("creek"); got[0].Kind != Off || got[1].Kind != On {
		t.Errorf("order: %s, %s", got[0].Kind, got[1].Kind)
	}
}

func TestWhatIsSaidOfAPaddockIsItsOwnOrTheWholeFarms(t *testing.T) {
	b := NewBook(fact(1, 1, Brown, "creek"), fact(2, 5, Brown, ""))
	about := func(paddock string, from int) (ids []int64) {
		for f := range b.About(paddock, Brown, on(from)) {
			ids = append(ids, f.ID)
		}
		return ids
	}
	if got := about("creek", 1); !slices.Equal(got, []int64{1, 2}) {
		t.Errorf("of creek %v", got)
	}
	if got := about("creek", 2); !slices.Equal(got, []int64{2}) {
		t.Errorf("from the 2nd on %v", got)
	}
	if got := about("hill", 1); !slices.Equal(got, []int64{2}) {
		t.Errorf("creek's tops browned hill: %v", got)
	}
}

func TestTheDiaryAsItStoodOnADay(t *testing.T) {
	b := NewBook(fact(1, 1, Off, "creek"), fact(2, 9, On, "creek"))
	if got := b.Until(on(5)).Of("creek"); len(got) != 1 || got[0].ID != 1 {
		t.Errorf("on the 5th it holds %v", got)
	}
}

// However facts come in, each paddock's stand in the order of the days, and
// what was voided is nowhere.
func TestTheOrderOfAnyDiary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := NewBook()
		gone := map[int64]bool{}
		for id := int64(1); id <= int64(rapid.IntRange(1, 60).Draw(t, "facts")); id++ {
			if id > 1 && rapid.IntRange(0, 4).Draw(t, "void") == 0 {
				v := rapid.Int64Range(1, id-1).Draw(t, "which")
				b.Add(Fact{ID: id, Kind: Void, Voids: v})
				gone[v] = true
				continue
			}
			f := fact(id, rapid.IntRange(1, 28).Draw(t, "day"), rapid.SampledFrom([]Kind{On, Off, Reading, Frost}).Draw(t, "kind"),
				rapid.SampledFrom([]string{"", "creek", "hill"}).Draw(t, "paddock"))
			b.Add(f)
		}
		for _, facts := range [][]*Fact{b.Of("creek"), b.Of("hill"), b.Farm(), b.Moves(), b.Every(Frost)} {
			for i, f := range facts {
				if gone[f.ID] {
					t.Fatalf("fact %d was taken back", f.ID)
				}
				if i > 0 && f.Day.Before(facts[i-1].Day) {
					t.Fatalf("%s stands behind %s", f.Day, facts[i-1].Day)
				}
			}
		}
	})
}

// However late some were told, and wherever their days put them.
func TestWhatWasSaidSinceAMomentIsFoundInAnyDiary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := NewBook()
		for id := int64(1); id <= int64(rapid.IntRange(1, 60).Draw(t, "facts")); id++ {
			f := fact(id, rapid.IntRange(1, 28).Draw(t, "day"), Reading, rapid.SampledFrom([]string{"", "creek", "hill"}).Draw(t, "paddock"))
			f.At = f.At.Add(time.Duration(rapid.IntRange(-30, 300).Draw(t, "hours later")) * time.Hour)
			b.Add(f)
		}
		since := on(1).In(time.UTC).Add(time.Duration(rapid.IntRange(-48, 900).Draw(t, "since")) * time.Hour)
		more := b.With(Fact{At: since, Day: on(1), Kind: Off, Paddock: "creek"})
		for _, book := range []*Book{b, more} {
			for of, facts := range map[string][]*Fact{"": book.Farm(), "creek": slices.Concat(book.Of("creek"), book.Farm())} {
				var want []*Fact
				for _, f := range facts {
					if !f.At.Before(since) {
						want = append(want, f)
					}
				}
				if got := slices.Collect(book.Since(of, since)); !slices.Equal(got, want) {
					t.Fatalf("of %q: %d facts, want %d", of, len(got), len(want))
				}
			}
		}
	})
}

func TestWhatSomebodyTextedIsFoundBackwardsByWhenTheySaidIt(t *testing.T) {
	said := func(id int64, by string, hour int, inbox int64) Fact {
		return Fact{ID: id, Day: on(1), At: on(1).In(time.UTC).Add(time.Duration(hour) * time.Hour), Kind: Reading, Paddock: "creek", By: by, Inbox: inbox}
	}
	b := NewBook(said(1, "Ana", 8, 1), said(2, "Luis", 9, 2), said(3, "Ana", 11, 3), said(4, "Ana", 10, 4), said(5, "Ana", 10, 4), said(6, "Ana", 12, 0),
		Fact{ID: 7, Kind: Void, Voids: 3})
	for _, book := range []*Book{b, b.Until(on(1))} {
		for since, want := range map[int]string{0: "[5 4 1]", 9: "[5 4]", 11: "[]"} {
			ids := []int64{}
			for f := range book.Texted("Ana", on(1).In(time.UTC).Add(time.Duration(since)*time.Hour)) {
				ids = append(ids, f.ID)
			}
			if got := fmt.Sprint(ids); got != want {
				t.Errorf("since %d o'clock Ana texted %s, want %s", since, got, want)
			}
		}
	}
}

// What is only supposed is seen in the copy alone, and what it does not touch is the
// same list: whatever was worked out from that is still good.
func TestACopyWithMoreFactsLeavesTheDiaryAsItIs(t *testing.T) {
	b := NewBook(fact(1, 1, Reading, "creek"), fact(2, 2, Reading, "hill"), fact(3, 3, On, "hill"), fact(4, 4, Frost, ""))
	day := on(20)
	was := map[string]Version{"creek": b.Version("creek", day), "hill": b.Version("hill", day), "": b.Version("", day)}
	moved := b.VersionOf(On, day)

	c := b.With(Fact{Day: day, Kind: Off, Paddock: "hill"}, Fact{Day: day, Kind: Reading, Paddock: "mill"}, Fact{Day: day, Kind: Sold, Amount: 8})
	if n := len(c.Of("hill")); n != 3 || len(c.Moves()) != 2 || len(c.Of("mill")) != 1 || len(c.Every(Head)) != 1 || len(c.Farm()) != 2 {
		t.Errorf("the copy has %d facts of hill, moves %v", n, c.Moves())
	}
	if c.Version("creek", day) != was["creek"] {
		t.Error("nothing was supposed of creek, and it is another list")
	}
	if c.Version("hill", day) == was["hill"] || c.Version("", day) == was[""] || c.VersionOf(On, day) == moved {
		t.Error("what was supposed changes no version")
	}
	for paddock, v := range was {
		if b.Version(paddock, day) != v {
			t.Errorf("the diary of %q changed", paddock)
		}
	}
	if len(b.Moves()) != 1 || len(b.Of("mill")) != 0 || len(b.Every(Head)) != 0 || b.Last() != 4 || b.VersionOf(On, day) != moved {
		t.Error("what was supposed stands in the diary")
	}
	if _, stands := c.Standing(1); !stands {
		t.Error("what stood does not stand in the copy")
	}
	if got := c.Until(day.AddDays(-1)); len(got.Of("hill")) != 2 || len(got.Farm()) != 1 {
		t.Errorf("as it stood the day before: %v", got.Of("hill"))
	}
}

// A fact told late goes between those of its paddock, and each is still found by its id.
func TestWhatStandsIsFoundWhereverItsDayPutsIt(t *testing.T) {
	day := civil.Date{Year: 2026, Month: 8, Day: 20}
	b := NewBook(
		Fact{ID: 1, Day: day, Kind: Reading, Paddock: "creek"},
		Fact{ID: 2, Day: day.AddDays(-3), Kind: Reading, Paddock: "creek"},
		Fact{ID: 3, Day: day, Kind: Frost},
		Fact{ID: 4, Kind: Void, Voids: 1},
	)
	beside := b.With(Fact{Day: day, Kind: Off, Paddock: "creek"})
	for id, want := range map[int64]Kind{1: "", 2: Reading, 3: Frost, 4: "", 5: Off} {
		if f, stands := beside.Standing(id); f.Kind != want || stands != (want != "") {
			t.Errorf("fact %d: %q stands %v, want %q", id, f.Kind, stands, want)
		}
	}
}
