package scheduler

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
	"stubbled/store"
)

// supposed is the answer to what was supposed; nil where something was asked back.
func supposed(t *testing.T, said []line) *ladder.Supposed {
	t.Helper()
	for _, l := range said {
		if f, ok := l.Notice.Facts.(*ladder.AskedFacts); ok {
			return f.Supposed
		}
	}
	if ask(said) == nil {
		t.Fatalf("no answer: %v", said)
	}
	return nil
}

// happens writes facts down as they would have been told.
func (k *talk) happens(at string, facts ...diary.Fact) {
	k.t.Helper()
	now := k.when(at)
	err := k.store.Update(k.t.Context(), now, func(tx *store.Tx) error {
		for _, f := range facts {
			f.At, f.By, f.Source = now, "Ana", diary.FromText
			if _, _, err := tx.Record(f); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		k.t.Fatal(err)
	}
}

// onDay is a farm on a day, as all that was told makes it.
func (k *talk) onDay(day civil.Date) map[string]season.View {
	views := map[string]season.View{}
	sight := season.Sight{Farm: &k.farm.Farm, Book: diary.NewBook(k.facts()...), Today: day}
	for _, v := range season.Look(sight) {
		views[v.Paddock.ID] = v
	}
	return views
}

// begun is a random farm that was read, on a random day from June to September.
func begun(t *testing.T, r *rand.Rand) (k *talk, today civil.Date) {
	k = newTalk(t, talkFarm)
	today = civil.Date{Year: 2026, Month: 6, Day: 15}.AddDays(r.IntN(100))
	for i, p := range k.farm.Paddocks {
		read := today.AddDays(i/2 - 1)
		k.text(read.String()+" 13:00", "Ana", p.ID+strings.Repeat(fmt.Sprintf(" %d", 5+r.IntN(18)), 10))
	}
	k.turn(today.String() + " 14:00")
	return k, today
}

// Whatever is supposed, the diary, the plan that is kept and all that is said later are
// the same as on a farm where somebody asked for the status.
func TestNothingOfASuppositionIsKept(t *testing.T) {
	for seed := range uint64(4) {
		var after [2]string
		for asks := range after {
			r := rand.New(rand.NewPCG(seed, 7))
			k, today := begun(t, r)
			facts, plan, views := k.facts(), k.kept(), k.onDay(today)
			texts := []string{
				fmt.Sprintf("what if creek %d more days", 1+r.IntN(20)), "what if cows to hill tomorrow", "what if cows to lane", "what if I leave 10 in creek",
				"what if I sell 8 cows", "what if 500 more heifers", "how low creek", "how low", "what if heifers 3 more days", "y si creek 5 dias mas",
			}
			for n, words := range texts {
				if asks == 0 {
					words = "status"
				}
				k.text(fmt.Sprintf("%s 14:%02d", today, 10+n), "Ana", words)
			}
			if asks == 1 && (!reflect.DeepEqual(k.facts(), facts) || !reflect.DeepEqual(k.kept(), plan) || !reflect.DeepEqual(k.onDay(today), views)) {
				t.Errorf("seed %d: something of it is kept", seed)
			}
			for n := range 36 { // thrice a day
				at := today.AddDays(1+n/3).String() + [...]string{" 06:30", " 12:00", " 18:00"}[n%3]
				for _, l := range k.turn(at) {
					after[asks] += fmt.Sprintf("%s %s %+v\n", at, l, l.Facts.About())
					if f, ok := l.Facts.(*ladder.RungFacts); ok {
						after[asks] += fmt.Sprintf("%+v\n", f.MoveTo)
					}
				}
			}
		}
		if after[0] != after[1] {
			t.Errorf("seed %d: not asked:\n%s\nasked:\n%s", seed, after[0], after[1])
		}
	}
}

// What is said of a longer stay is what is looked up on the day, where it came so.
func TestAStayIsForetoldAsItComes(t *testing.T) {
	told := 0
	for seed := range uint64(24) {
		r := rand.New(rand.NewPCG(seed, 11))
		k, today := begun(t, r)
		s := supposed(t, k.text(today.String()+" 14:10", "Ana", fmt.Sprintf("what if creek %d more days", 1+r.IntN(25))))
		if s == nil || s.Grounds[0].Closed {
			continue
		}
		g := s.Grounds[0]
		if g.In != today || g.Leaves <= 0 {
			t.Fatalf("seed %d: %+v", seed, g)
		}
		k.happens(g.Out.String()+" 13:00", diary.Fact{Day: g.Out, Kind: diary.Reading, Paddock: "creek", Heights: []float64{g.Leaves}}, diary.Fact{Day: g.Out, Kind: diary.Off, Paddock: "creek"})
		v := k.onDay(g.Out)["creek"]
		if !foretold(g.Then, v) {
			t.Errorf("seed %d: foretold %+v %+v, came %+v %+v", seed, g.Then.Expect, g.Then.Chance, v.Ahead, v.Verdict)
		}
		told++
	}
	if told < 12 {
		t.Errorf("only %d of 24 were told", told)
	}
}

func foretold(then ladder.Prospect, v season.View) bool {
	if then.Expect == nil || v.Ahead == nil {
		return then.Expect == nil && v.Ahead == nil
	}
	return then.Expect.Mean == v.Ahead.Mean && then.Expect.Low == v.Ahead.Low && then.Expect.High == v.Ahead.High && then.Chance == v.Ahead.Chance
}

// So is what is said of the ground that a herd leaves, and of that to which it goes, of
// another height left, and of head sold.
func TestWhatIsSupposedIsForetoldAsItComes(t *testing.T) {
	told := map[string]int{}
	for seed := range uint64(20) {
		r := rand.New(rand.NewPCG(seed, 13))
		k, today := begun(t, r)
		day := today.AddDays(r.IntN(4))
		s := supposed(t, k.text(today.String()+" 14:10", "Ana", fmt.Sprintf("what if cows to mill %d/%d", day.Month, day.Day)))
		if s != nil && !s.Grounds[0].Closed && len(s.Grounds) == 2 {
			from := s.Grounds[1]
			j, _ := begun(t, rand.New(rand.NewPCG(seed, 13)))
			facts := []diary.Fact{{Day: day, Kind: diary.Off, Paddock: "creek", Herd: "cows"}, {Day: day, Kind: diary.On, Paddock: "mill", Herd: "cows"}}
			if from.Leaves > 0 {
				facts = append(facts, diary.Fact{Day: day, Kind: diary.Reading, Paddock: "creek", Heights: []float64{from.Leaves}})
			}
			j.happens(day.String()+" 15:00", facts...)
			views := j.onDay(day)
			if !foretold(from.Then, views["creek"]) {
				t.Errorf("seed %d: the ground left: %+v, came %+v", seed, from.Then.Expect, views["creek"].Ahead)
			}
			if now := views["mill"].Verdict; now.Say == season.Go && *now.Days != *s.Grounds[0].Then.Days {
				t.Errorf("seed %d: days of grass: %g, came %g", seed, *s.Grounds[0].Then.Days, *now.Days)
			}
			told["move"]++
		}
		s = supposed(t, k.text(today.String()+" 14:11", "Ana", "what if I leave 10 in hill"))
		if s != nil && !s.Grounds[0].Closed {
			g := s.Grounds[0]
			j, _ := begun(t, rand.New(rand.NewPCG(seed, 13)))
			j.happens(g.Out.String()+" 15:00", diary.Fact{Day: g.Out, Kind: diary.Off, Paddock: "hill"}, diary.Fact{Day: g.Out, Kind: diary.Reading, Paddock: "hill", Heights: []float64{10}})
			if v := j.onDay(g.Out)["hill"]; !foretold(g.Then, v) {
				t.Errorf("seed %d: left at 10: %+v, came %+v", seed, g.Then.Expect, v.Ahead)
			}
			told["leave"]++
		}
		s = supposed(t, k.text(today.String()+" 14:12", "Ana", "what if I sell 8 cows"))
		j, _ := begun(t, rand.New(rand.NewPCG(seed, 13)))
		j.text(today.String()+" 14:13", "Ana", "sold 8 cows")
		if v := j.onDay(today)["creek"]; len(s.Grounds) == 1 && v.Verdict.Days != nil {
			if then := s.Grounds[0].Then.Days; then == nil || *then != *v.Verdict.Days {
				t.Errorf("seed %d: fewer head: %v days of grass, came %g", seed, then, *v.Verdict.Days)
			}
			told["head"]++
		}
	}
	if told["move"] < 4 || told["leave"] < 4 || told["head"] < 4 {
		t.Errorf("told %v of 20", told)
	}
}

// What is supposed without a paddock is of the one that is grazed, or asked back with
// those that are; the letter answers it.
func TestASuppositionWithoutAPaddockIsAskedBack(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.text("2026-08-24 13:00", "Ana", "creek 12 12 12 12 12 12 12 12 12 12")
	q := ask(k.text("2026-08-24 13:05", "Ana", "what if 5 more days"))
	if q == nil || q.Why != diary.WhichPaddock || len(q.Choices) != 2 {
		t.Fatalf("asked %+v, want which of the two that are grazed", q)
	}
	if s := supposed(t, k.text("2026-08-24 13:06", "Ana", "a")); s == nil || s.Grounds[0].Paddock != "creek" || s.Grounds[0].Out.String() != "2026-08-29" {
		t.Errorf("the letter is answered by %+v", s)
	}
	if q := ask(k.text("2026-08-24 13:07", "Ana", "what if I move them to mill")); q == nil || q.Why != diary.WhichHerd || len(q.Choices) != 2 {
		t.Errorf("asked %+v, want which herd", q)
	}
	k.text("2026-08-24 13:08", "Ana", "off hill")
	if s := supposed(t, k.text("2026-08-24 13:09", "Ana", "what if 5 more days")); s == nil || s.Grounds[0].Paddock != "creek" {
		t.Errorf("the one that is grazed: %+v", s)
	}
	if len(k.facts()) != 2 {
		t.Errorf("written down: %s", k.diaryOf())
	}
}

// What cannot be reckoned is answered plainly, and nothing is written down.
func TestWhatCannotBeReckonedIsAnsweredPlainly(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.text("2026-08-24 13:00", "Ana", "creek 12 12 12 12 12 12 12 12 12 12")
	for n, c := range []struct {
		words string
		why   diary.Why
	}{
		{"what if creek 400 more days", diary.TooFar}, {"what if cows to hill 5/1", diary.TooFar}, {"what if I sell 500 cows", diary.TooMany},
		{"what if it rains", diary.Suppose}, {"if it rains I will move them", diary.Plan}, {"si llueve los muevo", diary.Plan},
	} {
		if q := ask(k.text(fmt.Sprintf("2026-08-24 14:%02d", n), "Ana", c.words)); q == nil || q.Why != c.why {
			t.Errorf("%s: asked %+v, want %s", c.words, q, c.why)
		}
	}
	s := supposed(t, k.text("2026-08-24 15:00", "Ana", "what if 500 more cows"))
	if s == nil || s.Had != 38 || s.Head != 538 || *s.Grounds[0].Then.Days >= 1 {
		t.Errorf("500 head more: %+v", s)
	}
	if len(k.facts()) != 1 {
		t.Errorf("written down: %s", k.diaryOf())
	}
}

// Ground that is shut is not reckoned with: its verdict is said, which is WAIT; once
// nothing shuts it any more it is.
func TestASuppositionOfShutGroundSaysWhatShutsIt(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.text("2026-09-24 13:00", "Ana", "frost")
	k.text("2026-09-24 13:01", "Ana", "lane 14 14 14 14 14 14 14 14 14 14")
	for n, words := range []string{"what if cows to lane tomorrow", "what if lane 5 days", "how low lane"} {
		s := supposed(t, k.text(fmt.Sprintf("2026-09-24 13:%d", 10+n), "Ana", words))
		if g := s.Grounds[0]; !g.Closed || g.Hold == nil || g.Verdict.Say != season.Wait || g.Then.Days != nil || s.HayDays != 0 {
			t.Errorf("%s: %+v", words, g)
		}
	}
	j := newTalk(t, talkFarm)
	j.text("2026-07-24 13:01", "Ana", "lane 14 14 14 14 14 14 14 14 14 14")
	if s := supposed(t, j.text("2026-07-24 13:02", "Ana", "what if cows to lane tomorrow")); s.Grounds[0].Closed || s.Grounds[0].Then.Days == nil {
		t.Errorf("nothing shuts it: %+v", s.Grounds[0])
	}
	j.text("2026-07-24 13:03", "Ana", "dead cow in creek")
	if s := supposed(t, j.text("2026-07-24 13:04", "Ana", "what if creek 2 more days")); !s.Grounds[0].Closed || s.Grounds[0].Verdict.Say != season.Wait {
		t.Errorf("an emergency: %+v", s.Grounds[0])
	}
}
