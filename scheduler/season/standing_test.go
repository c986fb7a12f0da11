package season

import (
	"slices"
	"strings"
	"testing"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/herd"
)

func TestWhoStandsWhere(t *testing.T) {
	for _, tc := range []struct {
		name      string
		write     func(*play)
		paddock   string
		occupancy Occupancy
		herds     []string
		since     string
		lastOff   string
	}{
		{"where the farm file put them, as long as nobody says otherwise", func(p *play) { p.farm.Herds[0].Paddock = "creek" }, "creek", Grazed, []string{"cows"}, "", ""},
		{"the rest of a farm with herds is empty", func(p *play) { p.farm.Herds[0].Paddock = "creek" }, "hill", Empty, nil, "", ""},
		{"without a herd on file nobody knows", func(p *play) { p.farm.Herds = nil }, "creek", Unknown, nil, "", ""},
		{"until somebody says off", func(p *play) {
			p.farm.Herds = nil
			p.moves("2026-08-30", diary.Off, "creek", "")
		}, "creek", Empty, nil, "", "2026-08-30"},
		{"or on", func(p *play) {
			p.farm.Herds = nil
			p.moves("2026-08-30", diary.On, "creek", "")
		}, "creek", Grazed, nil, "2026-08-30", ""},
		{"an on without a name means the only herd", func(p *play) { p.moves("2026-05-01", diary.On, "creek", "") }, "creek", Grazed, []string{"cows"}, "2026-05-01", ""},
		{"off empties it", func(p *play) {
			p.moves("2026-05-01", diary.On, "creek", "cows")
			p.moves("2026-05-09", diary.Off, "creek", "cows")
		}, "creek", Empty, nil, "", "2026-05-09"},
		{"heifers that leave do not empty what a herd went into that nobody named", func(p *play) {
			p.farm.Herds = append(p.farm.Herds, herd.Herd{ID: "heifers"})
			p.moves("2026-05-01", diary.On, "creek", "")
			p.moves("2026-05-09", diary.Off, "creek", "heifers")
		}, "creek", Unknown, nil, "", ""},
		{"nor does one herd's off end another's stay", func(p *play) {
			p.farm.Herds = append(p.farm.Herds, herd.Herd{ID: "heifers"})
			p.moves("2026-05-01", diary.On, "creek", "cows")
			p.moves("2026-05-02", diary.On, "creek", "heifers")
			p.moves("2026-05-09", diary.Off, "creek", "heifers")
		}, "creek", Grazed, []string{"cows"}, "2026-05-01", ""},
		{"a herd that turns up elsewhere may have left a gate open: only off empties a paddock", func(p *play) {
			p.moves("2026-05-01", diary.On, "creek", "cows")
			p.moves("2026-05-09", diary.On, "hill", "cows")
		}, "creek", Unknown, nil, "", ""},
		{"a late off settles it", func(p *play) {
			p.moves("2026-05-01", diary.On, "creek", "cows")
			p.moves("2026-05-09", diary.On, "hill", "cows")
			p.moves("2026-05-11", diary.Off, "creek", "")
		}, "creek", Empty, nil, "", "2026-05-11"},
		{"an off that was taken back was never said", func(p *play) {
			p.moves("2026-05-01", diary.On, "creek", "cows")
			p.takesBack(p.moves("2026-05-09", diary.Off, "creek", "cows"))
		}, "creek", Grazed, []string{"cows"}, "2026-05-01", ""},
		{"an on that was taken back leaves them where they were", func(p *play) {
			p.moves("2026-05-01", diary.On, "creek", "cows")
			p.takesBack(p.moves("2026-05-09", diary.On, "hill", "cows"))
		}, "creek", Grazed, []string{"cows"}, "2026-05-01", ""},
		{"a herd reported where it stands already has not come anew", func(p *play) {
			p.moves("2026-05-01", diary.On, "creek", "cows")
			p.moves("2026-05-05", diary.On, "creek", "cows")
		}, "creek", Grazed, []string{"cows"}, "2026-05-01", ""},
		{"two herds in one paddock are both there, since the first came", func(p *play) {
			p.farm.Herds = append(p.farm.Herds, cows("bulls", ""))
			p.moves("2026-05-01", diary.On, "creek", "cows")
			p.moves("2026-05-04", diary.On, "creek", "bulls")
		}, "creek", Grazed, []string{"bulls", "cows"}, "2026-05-01", ""},
		{"off of one of them leaves the other", func(p *play) {
			p.farm.Herds = append(p.farm.Herds, cows("bulls", ""))
			p.moves("2026-05-01", diary.On, "creek", "cows")
			p.moves("2026-05-04", diary.On, "creek", "bulls")
			p.moves("2026-05-06", diary.Off, "creek", "cows")
		}, "creek", Grazed, []string{"bulls"}, "2026-05-04", ""},
		{"one of them gone elsewhere is no doubt, as long as the other is in", func(p *play) {
			p.farm.Herds = append(p.farm.Herds, cows("bulls", ""))
			p.moves("2026-05-01", diary.On, "creek", "cows")
			p.moves("2026-05-04", diary.On, "creek", "bulls")
			p.moves("2026-05-06", diary.On, "hill", "cows")
		}, "creek", Grazed, []string{"bulls"}, "2026-05-04", ""},
		{"a move told late is put on its own day", func(p *play) {
			p.moves("2026-05-09", diary.Off, "creek", "cows")
			p.moves("2026-05-01", diary.On, "creek", "cows")
		}, "creek", Empty, nil, "", "2026-05-09"},
		{"what is planned for tomorrow has not happened", func(p *play) {
			p.moves("2026-05-01", diary.On, "creek", "cows")
			p.moves("2026-12-24", diary.Off, "creek", "cows")
		}, "creek", Grazed, []string{"cows"}, "2026-05-01", ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			tc.write(p)
			got := p.view("2026-09-20", tc.paddock).Herds
			if got.Occupancy != tc.occupancy || !slices.Equal(got.Herds, tc.herds) {
				t.Errorf("%s %v, want %s %v", got.Occupancy, got.Herds, tc.occupancy, tc.herds)
			}
			if orEmpty(got.Since) != tc.since || orEmpty(got.LastOff) != tc.lastOff {
				t.Errorf("since %q, last off %q; want %q, %q", orEmpty(got.Since), orEmpty(got.LastOff), tc.since, tc.lastOff)
			}
		})
	}
}

func orEmpty(d civil.Date) string {
	if d.IsZero() {
		return ""
	}
	return d.String()
}

func TestRealRestCountsFromTheLastOff(t *testing.T) {
	for _, tc := range []struct {
		name  string
		write func(*play)
		rest  int
	}{
		// The freeze is on Nov 3 throughout.
		{"shut on time: Sep 1 to Nov 3 is 63 days", func(p *play) {
			p.moves("2026-08-20", diary.On, "creek", "cows")
			p.moves("2026-09-01", diary.Off, "creek", "cows")
		}, 63},
		{"a herd put back for four days starts the rest anew", func(p *play) {
			p.moves("2026-08-20", diary.On, "creek", "cows")
			p.moves("2026-09-01", diary.Off, "creek", "cows")
			p.moves("2026-09-20", diary.On, "creek", "cows")
			p.moves("2026-09-24", diary.Off, "creek", "cows")
		}, 40},
		{"a long unmoved herd leaves it 14 days", func(p *play) {
			p.moves("2026-07-01", diary.On, "creek", "cows")
			p.moves("2026-10-20", diary.Off, "creek", "cows")
		}, 14},
		{"with two herds it is the later off", func(p *play) {
			p.farm.Herds = append(p.farm.Herds, cows("bulls", ""))
			p.moves("2026-08-20", diary.On, "creek", "cows")
			p.moves("2026-08-22", diary.On, "creek", "bulls")
			p.moves("2026-09-01", diary.Off, "creek", "cows")
			p.moves("2026-09-10", diary.Off, "creek", "bulls")
		}, 54},
		{"a neighbour's cattle that nobody saw come in count from the day they were off", func(p *play) { p.moves("2026-09-30", diary.Off, "creek", "") }, 34},
		{"never taken off, there was none", func(p *play) { p.moves("2026-08-20", diary.On, "creek", "cows") }, 0},
		{"never said to be off, nobody knows", func(p *play) {
			p.moves("2026-08-20", diary.On, "creek", "cows")
			p.moves("2026-09-01", diary.On, "hill", "cows")
		}, 0},
		{"turned in on the day of the freeze is no break of the rest", func(p *play) {
			p.moves("2026-08-20", diary.On, "creek", "cows")
			p.moves("2026-09-01", diary.Off, "creek", "cows")
			p.moves("2026-11-03", diary.On, "creek", "cows")
		}, 63},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			tc.write(p)
			p.freeze("2026-11-03", 27)
			if got := p.view("2026-11-20", "creek").Finished.RealRest; got != tc.rest {
				t.Errorf("rested %d days, want %d", got, tc.rest)
			}
		})
	}
	t.Run("with no herd on file and nothing said, nobody knows", func(t *testing.T) {
		p := newPlay(t)
		p.farm.Herds = nil
		p.freeze("2026-11-03", 27)
		if got := p.view("2026-11-20", "creek").Finished.RealRest; got != 0 {
			t.Errorf("rested %d days: nobody said when they left", got)
		}
	})
}

func TestAPaddockIsEmptyOnlyWhereThatIsKnown(t *testing.T) {
	p := newPlay(t)
	p.moves("2026-05-01", diary.On, "creek", "cows")
	p.moves("2026-05-09", diary.On, "hill", "cows") // nobody knows of the creek
	p.moves("2026-05-12", diary.Off, "creek", "")
	p.moves("2026-06-20", diary.Off, "hill", "cows")
	m := p.look("2026-12-01").moves
	for _, tc := range []struct {
		from, to string
		want     bool
	}{
		{"2026-04-01", "2026-04-30", true},
		{"2026-04-01", "2026-05-01", false},
		{"2026-05-08", "2026-05-08", false},
		{"2026-05-09", "2026-05-11", false}, // in doubt
		{"2026-05-12", "2026-12-01", true},  // the day they left does not count as grazed
	} {
		if got := m.emptyFrom("creek", day(tc.from), day(tc.to)); got != tc.want {
			t.Errorf("empty from %s to %s: %v, want %v", tc.from, tc.to, got, tc.want)
		}
	}
}

// What is in doubt today says nothing of last year: else a gate that may stand
// open this June would take every lesson of the falls before.
func TestADoubtOfTodayLeavesOldSeasonsAlone(t *testing.T) {
	p := newPlay(t)
	p.moves("2025-08-20", diary.On, "creek", "cows")
	p.moves("2025-09-01", diary.Off, "creek", "cows")
	p.moves("2026-05-01", diary.On, "creek", "cows")
	p.moves("2026-05-09", diary.On, "hill", "cows")
	m := p.look("2026-06-01").moves
	if m.Standing("creek").Occupancy != Unknown {
		t.Error("the creek is known today")
	}
	if !m.emptyFrom("creek", day("2025-09-01"), day("2025-11-03")) {
		t.Error("the rest of 2025 is in doubt because of a gate in 2026")
	}
}

// A stay whose end was told by turning up elsewhere ended there, even where the
// paddock is told empty much later, after another stay.
func TestALaterOffDoesNotStretchAnEarlierStay(t *testing.T) {
	p := newPlay(t)
	p.moves("2026-05-01", diary.On, "creek", "cows")
	p.moves("2026-05-09", diary.On, "hill", "cows")
	p.moves("2026-06-01", diary.On, "creek", "cows")
	p.moves("2026-06-08", diary.Off, "creek", "cows")
	stays := p.look("2026-07-01").moves.Periods("creek")
	if len(stays) != 2 || stays[0].To != day("2026-05-09") || stays[0].Told || stays[1].To != day("2026-06-08") || !stays[1].Told {
		t.Errorf("stays %+v", stays)
	}
}

func TestAnOffIsOfTheStayBeforeIt(t *testing.T) {
	p := newPlay(t)
	p.moves("2026-05-01", diary.On, "creek", "cows")
	p.moves("2026-05-09", diary.On, "hill", "cows")
	p.moves("2026-06-01", diary.On, "creek", "cows")
	p.moves("2026-06-08", diary.On, "hill", "cows")
	p.moves("2026-06-10", diary.Off, "creek", "")
	stays := p.look("2026-07-01").moves.Periods("creek")
	if len(stays) != 2 || stays[0].Told || !stays[1].Told {
		t.Errorf("stays %+v: nobody ever said that they left in May", stays)
	}
}

func TestDaysGrazedByTwoHerdsAtOnceCountOnce(t *testing.T) {
	p := newPlay(t)
	p.farm.Herds = append(p.farm.Herds, cows("bulls", ""))
	p.moves("2026-08-01", diary.On, "creek", "cows")
	p.moves("2026-08-03", diary.On, "creek", "bulls")
	p.moves("2026-08-05", diary.Off, "creek", "cows")
	p.moves("2026-08-08", diary.Off, "creek", "bulls")
	days, empty := p.look("2026-08-20").moves.grazedDays("creek", day("2026-08-01"), day("2026-08-20"))
	if days != 7 || empty != day("2026-08-08") {
		t.Errorf("grazed %d days, empty from %s; want 7 and Aug 8", days, empty)
	}
}

func TestAHerdThatNobodyHasPlacedMayStandAnywhere(t *testing.T) {
	for _, tc := range []struct {
		name  string
		write func(*play)
		want  string // creek, hill, lane
	}{
		{"nobody said anything", func(*play) {}, "unknown unknown unknown"},
		{"told empty, that one is", func(p *play) { p.moves("2026-08-01", diary.Off, "creek", "") }, "empty unknown unknown"},
		{"placed by a text, it stands nowhere else", func(p *play) { p.moves("2026-08-01", diary.On, "hill", "cows") }, "empty grazed empty"},
		{"one of one herd needs no name", func(p *play) { p.moves("2026-08-01", diary.On, "hill", "") }, "empty grazed empty"},
		{"moved on, its last ground is what nobody knows of", func(p *play) {
			p.moves("2026-08-01", diary.On, "hill", "cows")
			p.moves("2026-08-05", diary.On, "lane", "cows")
		}, "empty unknown grazed"},
		{"of two only one was placed", func(p *play) {
			p.farm.Herds = append(p.farm.Herds, cows("heifers", ""))
			p.moves("2026-08-01", diary.On, "hill", "cows")
		}, "unknown grazed unknown"},
		{"and where that one left the other may be", func(p *play) {
			p.farm.Herds = append(p.farm.Herds, cows("heifers", ""))
			p.moves("2026-08-01", diary.On, "hill", "cows")
			p.moves("2026-08-05", diary.Off, "hill", "cows")
		}, "unknown unknown unknown"},
		{"off without a name is of every herd", func(p *play) {
			p.farm.Herds = append(p.farm.Herds, cows("heifers", ""))
			p.moves("2026-08-01", diary.On, "hill", "cows")
			p.moves("2026-08-05", diary.Off, "hill", "")
		}, "unknown empty unknown"},
		{"both placed, the rest is empty", func(p *play) {
			p.farm.Herds = append(p.farm.Herds, cows("heifers", ""))
			p.moves("2026-08-01", diary.On, "hill", "cows")
			p.moves("2026-08-02", diary.On, "lane", "heifers")
		}, "empty grazed grazed"},
		{"a herd on file by its paddock leaves the others empty", func(p *play) { p.farm.Herds[0].Paddock = "hill" }, "empty grazed empty"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			p.farm.Herds[0].Paddock = ""
			tc.write(p)
			var got []string
			for _, v := range Look(p.sight("2026-08-10")) {
				got = append(got, string(v.Herds.Occupancy))
			}
			if s := strings.Join(got, " "); s != tc.want {
				t.Errorf("creek, hill and lane are %s, want %s", s, tc.want)
			}
		})
	}
}
