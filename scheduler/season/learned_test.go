package season

import (
	"testing"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/herd"
)

func TestTheDemandOfAPaddock(t *testing.T) {
	// 38 x 1.3 AU x 26 lb = 1,284.4 lb a day for each herd here.
	for _, tc := range []struct {
		name  string
		write func(*play)
		want  float64
		known bool
	}{
		{"an empty paddock is judged by the largest herd on file", func(p *play) {
			big := cows("big", "")
			big.Head = 76
			p.farm.Herds = append(p.farm.Herds, big)
		}, 2568.8, true},
		{"two herds that stand together are added", func(p *play) {
			p.farm.Herds = append(p.farm.Herds, cows("bulls", ""))
			p.moves("2026-05-01", diary.On, "creek", "cows")
			p.moves("2026-05-01", diary.On, "creek", "bulls")
		}, 2568.8, true},
		{"animals nobody named are taken for the largest herd", func(p *play) {
			p.farm.Herds = append(p.farm.Herds, cows("bulls", ""))
			p.moves("2026-05-01", diary.On, "creek", "")
		}, 1284.4, true},
		{"with no herd on file it is not guessed", func(p *play) { p.farm.Herds = nil }, 0, false},
		{"a herd of 0 eats nothing", func(p *play) { p.farm.Herds[0].Head = 0 }, 0, false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			tc.write(p)
			v := p.view("2026-06-01", "creek")
			lb, known := p.look("2026-06-01").demand(&v)
			near(t, "lb a day", lb, tc.want, 1e-6)
			if known != tc.known {
				t.Errorf("known %v", known)
			}
		})
	}
}

func TestWeaningEndsTheCalvesShare(t *testing.T) {
	pair, _ := herd.Kinds.Find("cow with calf")
	p := newPlay(t)
	p.farm.Herds[0].Kind, p.farm.Herds[0].Calving = pair, 3 // calves of Mar 15
	demand := func(today string) float64 { return p.look(today).herds[0].Demand(day(today)) }
	near(t, "with calves past four months", demand("2026-09-10"), 38*(1.3+0.3)*26, 1e-6)
	p.tells("2026-09-20", diary.Wean, "")
	near(t, "the day after weaning", demand("2026-09-21"), 38*1.3*26, 1e-6)
	near(t, "the day before it", demand("2026-09-19"), 38*1.6*26, 1e-6)

	// What a herd took in a stay is reckoned as it was then.
	p.moves("2026-10-01", diary.On, "creek", "cows")
	p.moves("2026-10-07", diary.Off, "creek", "cows")
	p.moves("2026-09-01", diary.On, "hill", "cows")
	p.moves("2026-09-07", diary.Off, "hill", "cows")
	l := p.look("2026-12-01")
	after, _ := l.taken(l.moves.Periods("creek")[0])
	before, _ := l.taken(l.moves.Periods("hill")[0])
	near(t, "six days after weaning", after, 6*38*1.3*26, 1e-6)
	near(t, "six days before", before, 6*38*1.6*26, 1e-6)

	// A weaning that the farm file plans for this fall is not undone by last
	// year's in the diary, and is by this year's.
	p.farm.Herds[0].Weaned = day("2027-10-05")
	if got := p.look("2027-08-01").herds[0].Weaned; got != day("2027-10-05") {
		t.Errorf("weaned %s by last year's diary, and Oct 5 is planned", got)
	}
	p.tells("2027-09-12", diary.Wean, "")
	if got := p.look("2027-09-13").herds[0].Weaned; got != day("2027-09-12") {
		t.Errorf("weaned %s, and it happened on Sep 12", got)
	}
}

// TestWhichGrazingsTeach: the creek is 20 acres of 62.5 lb eaten an acre-inch by
// default, 1,250 lb an inch. 38 cows take 1,284.4 lb a day, so 6 days should
// take 6.2 in. In April a day grows 10 / 23 = 0.435 in; half of it on 6 days is
// 1.30 in regrown.
func TestWhichGrazingsTeach(t *testing.T) {
	graze := func(p *play, from, to string, on, off float64, n int) {
		p.reads(from, "creek", plants(n, on)...)
		p.moves(from, diary.On, "creek", "cows")
		p.moves(to, diary.Off, "creek", "cows")
		p.reads(to, "creek", plants(n, off)...)
	}
	const standard = 62.5
	for _, tc := range []struct {
		name     string
		write    func(*play)
		grazings int
		eaten    float64 // lb an acre-inch
	}{
		// (6 x 1284.4 + 10 x 1250) / (20 x (4 + 1.3043) + 200) = 20206.4 / 306.09
		{"six days, four inches down and 1.3 in grown back", func(p *play) { graze(p, "2026-05-01", "2026-05-07", 16, 12, 10) }, 1, 66.02},
		{"two days are too few", func(p *play) { graze(p, "2026-05-01", "2026-05-03", 16, 14, 10) }, 0, standard},
		{"nine plants are too few", func(p *play) { graze(p, "2026-05-01", "2026-05-07", 16, 12, 9) }, 0, standard},
		// By demand 2 x 1284.4 / 1250 = 2.06 in: too light to see, whatever was read.
		{"three days of a third of the herd: seen to take 5 in, should have taken 1", func(p *play) {
			p.farm.Herds[0].Head = 12
			graze(p, "2026-05-01", "2026-05-04", 16, 11, 10)
		}, 0, standard},
		{"not read when they left", func(p *play) {
			p.reads("2026-05-01", "creek", plants(10, 16)...)
			p.moves("2026-05-01", diary.On, "creek", "cows")
			p.moves("2026-05-07", diary.Off, "creek", "cows")
		}, 0, standard},
		{"cut for hay in between", func(p *play) {
			p.reads("2026-05-01", "creek", plants(10, 16)...)
			p.moves("2026-05-01", diary.On, "creek", "cows")
			p.tells("2026-05-06", diary.Hayed, "creek")
			p.moves("2026-05-07", diary.Off, "creek", "cows")
			p.reads("2026-05-07", "creek", plants(10, 6)...)
		}, 0, standard},
		{"gone elsewhere, and nobody said off", func(p *play) {
			p.reads("2026-05-01", "creek", plants(10, 16)...)
			p.moves("2026-05-01", diary.On, "creek", "cows")
			p.moves("2026-05-07", diary.On, "hill", "cows")
			p.reads("2026-05-07", "creek", plants(10, 12)...)
		}, 0, standard},
		{"strange animals that nobody counted were in too", func(p *play) {
			p.farm.Herds = append(p.farm.Herds, cows("bulls", ""))
			p.reads("2026-05-01", "creek", plants(10, 16)...)
			p.moves("2026-05-01", diary.On, "creek", "cows")
			p.moves("2026-05-02", diary.On, "creek", "")
			p.moves("2026-05-07", diary.Off, "creek", "")
			p.reads("2026-05-07", "creek", plants(10, 12)...)
		}, 0, standard},
		// Two herds in at once are one grazing of 2 x 7,706 lb: (15412.8 + 12500) /
		// (20 x (8 + 1.3043) + 200) = 27912.8 / 386.09. Counted as two grazings of
		// all that was eaten it would be 77.8.
		{"two herds at once are one grazing", func(p *play) {
			p.farm.Herds = append(p.farm.Herds, cows("bulls", ""))
			p.reads("2026-05-01", "creek", plants(10, 16)...)
			p.moves("2026-05-01", diary.On, "creek", "cows")
			p.moves("2026-05-01", diary.On, "creek", "bulls")
			p.moves("2026-05-07", diary.Off, "creek", "")
			p.reads("2026-05-07", "creek", plants(10, 8)...)
		}, 1, 72.30},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			tc.write(p)
			got := p.look("2026-06-01").learn(p.paddock("creek"), 2026).eaten
			if got.Grazings != tc.grazings {
				t.Errorf("%d grazings teach, want %d", got.Grazings, tc.grazings)
			}
			near(t, "lb eaten an acre-inch", got.Eaten, tc.eaten, 0.05)
		})
	}
}
