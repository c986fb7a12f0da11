package wording

import (
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
	"stubbled/scheduler/season/shut"
	"stubbled/scheduler/spring"
)

func verdictSamples() []sample {
	one := func(f flat) []flat { return []flat{f} }
	v := func(name string, f flat) sample { return sample{name, ladder.AnswerVerdict, one(f)} }
	read := func(mean float64) func(*flat) { return height(mean, 20, day(8, 22)) }
	stay := verdict(season.Verdict{Say: season.Go, Action: season.Stay, Reason: season.GrazedEnough, Days: ptr(5.4), Floor: 8, OutBy: day(8, 28), ReadAgain: 3})
	off := verdict(season.Verdict{Say: season.Wait, Action: season.TakeOff, Reason: season.UnderLeave, Floor: 8, Lacks: 2})
	in := verdict(season.Verdict{Say: season.Go, Action: season.TurnIn, Reason: season.ReadyToGraze, Days: ptr(6.2), Floor: 8, OutBy: day(8, 28)})
	w := func(r season.Reason, floor, lacks float64) func(*flat) {
		return verdict(season.Verdict{Say: season.Wait, Action: season.KeepShut, Reason: r, Floor: floor, Lacks: lacks})
	}
	careful := func(why season.Risk, plants ...string) sample {
		d := season.Verdict{Say: season.Go, Action: season.TurnIn, Reason: season.ReadyToGraze, Days: ptr(9.0), Floor: 6, Cautions: []season.Caution{{Why: why, Plants: plants}}}
		return v("to graze with care: "+string(why), lane(empty, read(16), verdict(d)))
	}
	shut := func(name string, do season.Action, why season.Reason, h float64, plants ...string) sample {
		d := season.Verdict{Say: season.Wait, Action: do, Reason: why, Plants: plants, Floor: 24, Since: day(8, 20)}
		return v("shut: "+name, lane(read(h), verdict(d), func(f *flat) { f.Grazed = do == season.TakeOff }))
	}
	asked := func(kind diary.Kind) sample {
		d := season.Verdict{Say: season.Wait, Action: season.KeepShut, Reason: season.Reason("asked " + kind), Since: day(8, 20), Who: "Luis"}
		return v("shut: asked, "+string(kind), lane(read(30), verdict(d), empty))
	}
	return []sample{
		v("stay", creek(read(11), stay)),
		v("stay, begun too early", creek(read(11), stay, begunEarly)),
		v("not tall enough yet in spring", inSpring(5, 6, height(11, 20, day(4, 20)), w(season.NotReady, 14, 3), func(f *flat) { f.Turn.ByReading = true })),
		v("stay, in summer", creek(read(11), stay, func(f *flat) { f.Move = &spring.Move{Days: ptr(5), Stop: 8} })),
		v("stay, in summer, 14 days or more", creek(read(19), verdict(season.Verdict{Say: season.Go, Action: season.Stay, Reason: season.GrazedEnough, Days: ptr(14.0), More: true, Floor: 8, OutBy: day(9, 1), ReadAgain: 7}), func(f *flat) { f.Move = &spring.Move{Days: ptr(14), Stop: 8} })),
		v("stay, today only", creek(height(11, 4, day(8, 22)), stay, func(f *flat) { f.Height.TodayOnly, f.Height.More = true, 6 })),
		v("stay, one plant", creek(height(11, 1, day(8, 22)), stay, func(f *flat) { f.Height.TodayOnly, f.Height.More = true, 9 })),
		v("stay, patchy", creek(read(11), stay, func(f *flat) { f.Height.Patchy = true })),
		v("stay, a late text", creek(read(11), stay, set(func(f *flat) *civil.Date { return &f.Stale }, day(8, 21)))),
		v("stay, 14 days or more", creek(read(19), verdict(season.Verdict{Say: season.Go, Action: season.Stay, Reason: season.GrazedEnough, Days: ptr(14.0), More: true, Floor: 8, OutBy: day(9, 1), ReadAgain: 7}))),
		v("stay, 14 days or more on rented ground", lane(read(19), verdict(season.Verdict{Say: season.Go, Action: season.Stay, Reason: season.GrazedEnough, Days: ptr(14.0), More: true, Floor: 4, OutBy: day(11, 15), ReadAgain: 7}), func(f *flat) { f.Cutoff = day(11, 15) })),
		v("in rest, read six weeks ago", creek(empty, restDay(42), toFrost(3), height(8, 10, day(8, 31)), set(func(f *flat) *civil.Date { return &f.Day }, day(10, 12)), w(season.InRest, 8, 0))),
		v("stay, no herd on file", creek(read(11), verdict(season.Verdict{Say: season.Go, Action: season.Stay, Reason: season.GrazedEnough, Floor: 8, OutBy: day(9, 1)}))),
		v("turn in", creek(empty, read(14.5), in)),
		v("eaten down", creek(read(6), off, expectCutoff(9.1))),
		v("a hair under", creek(read(7.97), off, expectCutoff(9.1))),
		v("drought", creek(read(6), verdict(season.Verdict{Say: season.Wait, Action: season.TakeOff, Reason: season.UnderLeave, Floor: 8, Lacks: 2, Drought: true}))),
		v("less than a day", creek(read(8.4), verdict(season.Verdict{Say: season.Wait, Action: season.TakeOff, Reason: season.EatenDown, Floor: 8}))),
		v("empty and too short", creek(empty, read(7), w(season.UnderLeave, 8, 1), expectCutoff(9.1))),
		v("not tall enough yet", creek(empty, read(11), w(season.NotReady, 14, 3))),
		v("only two days of grass", creek(empty, read(9), verdict(season.Verdict{Say: season.Wait, Action: season.KeepShut, Reason: season.TooFewDays, Floor: 8, Days: ptr(2.3)}))),
		v("too near the cutoff", creek(empty, days(2), read(16), w(season.TooFewDays, 8, 0))),
		v("never read", creek(verdict(season.Verdict{Action: season.ReadIt, Reason: season.NeverRead, Floor: 8}))),
		v("an old reading", creek(height(11, 20, day(8, 8)), verdict(season.Verdict{Say: season.Wait, Action: season.ReadIt, Reason: season.OldReading, Floor: 8}))),
		v("in rest, empty, one fall of its own", creek(empty, restDay(12), toFrost(34), read(10), w(season.InRest, 8, 0), expectFrost(nil))),
		v("in rest, empty, with a chance", creek(empty, restDay(12), toFrost(34), read(10), w(season.InRest, 8, 0), expectFrost(ptr(0.62)))),
		v("in rest, cattle in", creek(restDay(12), toFrost(34), read(10), verdict(season.Verdict{Say: season.Wait, Action: season.TakeOff, Reason: season.InRest, Floor: 8}))),
		v("in rest, past the planned frost", creek(empty, restDay(50), toFrost(-4), read(17), w(season.InRest, 8, 0))),
		v("in rest, drought", creek(empty, restDay(12), toFrost(34), read(10), verdict(season.Verdict{Say: season.Wait, Action: season.KeepShut, Reason: season.InRest, Floor: 8, Drought: true}), expectFrost(nil))),
		v("given back", lane(empty, toReturn, verdict(season.Verdict{Say: season.Wait, Action: season.KeepShut, Reason: season.GivenBack}))),
		v("held, empty", lane(empty, read(12), hold(day(11, 10), "johnsongrass"), w(season.OnHold, 0, 0))),
		v("held, cattle in", lane(read(12), hold(day(11, 10), "johnsongrass"), verdict(season.Verdict{Say: season.Wait, Action: season.TakeOff, Reason: season.OnHold}))),
		shut("drought, cattle in", season.TakeOff, season.Parched, 12, "johnsongrass"), shut("drought", season.KeepShut, season.Parched, 30, "johnsongrass", "shattercane"),
		shut("sorghum kin too short", season.KeepShut, season.KinShort, 10, "sorghum-sudangrass"), shut("cattle on short sorghum kin", season.TakeOff, season.KinShort, 9, "johnsongrass"),
		shut("too long on sorghum kin", season.TakeOff, season.KinLong, 14, "sudangrass"), shut("horses", season.KeepShut, season.NoHorses, 40, "johnsongrass"),
		shut("frost not known", season.KeepShut, season.FrostUnknown, 12, "johnsongrass"), shut("frost not known, cattle in", season.TakeOff, season.FrostUnknown, 12, "johnsongrass"),
		asked("frost"), asked("brown"), asked("regrowth"), asked("plant"), asked("danger"), asked("dry"), asked("emergency"), asked("horses"),
		shut("an emergency", season.TakeOff, season.Hurt, 12), careful(season.RiskHeld, "johnsongrass"),
		v("dormant, leave cover", creek(empty, read(7), w(season.LeaveCover, 8, 1))),
		v("dormant, to graze", creek(empty, read(16), verdict(season.Verdict{Say: season.Go, Action: season.TurnIn, Reason: season.DormantGrass, Days: ptr(9.0), Floor: 6}))),
		v("dormant, to graze, hazards remain", lane(empty, read(16), verdict(season.Verdict{Say: season.Go, Action: season.TurnIn, Reason: season.DormantGrass, Days: ptr(9.0), Floor: 6,
			Cautions: []season.Caution{{Why: season.RiskStill, Plants: []string{"johnsongrass"}}}}))),
		careful(season.RiskHorses, "sorghum-sudangrass"), careful(season.RiskKin, "johnsongrass", "shattercane"), careful(season.RiskNitrate),
		careful(season.RiskBloat, "alfalfa", "clover"), careful(season.RiskLiver),
		v("dormant, its rest failed", creek(empty, read(16), w(season.RestFailed, 0, 0))),
		v("fall use, to graze", creek(restDay(9), read(20), verdict(season.Verdict{Say: season.Go, Action: season.Stay, Reason: season.UseGrass, Days: ptr(4.0), Floor: 18, OutBy: day(9, 14)}))),
		v("fall use, too short", creek(restDay(9), read(7), verdict(season.Verdict{Say: season.Wait, Action: season.TakeOff, Reason: season.UseShort, Floor: 8, Lacks: 1}))),
		v("fall use, eaten by now", creek(restDay(9), read(19), verdict(season.Verdict{Say: season.Wait, Action: season.TakeOff, Reason: season.UseEaten, Floor: 18}))),
		v("fall use, would lack next to nothing", creek(restDay(9), read(17), verdict(season.Verdict{Say: season.Wait, Action: season.TakeOff, Reason: season.UseLacks, Floor: 18, Lacks: 0.02}))),
		v("fall use, would lack at frost", creek(restDay(9), read(13), verdict(season.Verdict{Say: season.Wait, Action: season.TakeOff, Reason: season.UseLacks, Floor: 18, Lacks: 2.6}))),
		v("heights and animals off in one text", creek(empty, read(7), w(season.UnderLeave, 8, 1), recordedFacts(diary.Fact{Kind: diary.Off, Paddock: "creek", Day: day(8, 22)}))),
		v("fall use, just as much as must stand", creek(restDay(9), read(13), verdict(season.Verdict{Say: season.Wait, Action: season.TakeOff, Reason: season.UseLacks, Floor: 18}))),
		{"two paddocks in one text", ladder.AnswerVerdict, []flat{creek(read(11), stay), hill(read(5), verdict(season.Verdict{Say: season.Wait, Action: season.TakeOff, Reason: season.UnderLeave, Floor: 6, Lacks: 1}))}},
		{"eight paddocks in one text", ladder.AnswerVerdict, many(8, read(6), off, expectCutoff(9.1))},
	}
}

func answerSamples() []sample {
	r := func(name string, f flat, facts ...diary.Fact) sample {
		recordedFacts(facts...)(&f)
		return sample{name, ladder.AnswerRecorded, []flat{f}}
	}
	d := day(8, 30)
	undone := func(facts ...diary.Fact) []flat {
		return []flat{{Undone: facts, Names: names(), Who: "Ana"}}
	}
	reading := diary.Fact{Kind: diary.Reading, Paddock: "creek", Heights: []float64{14, 8, 6, 8}, Day: day(8, 22)}
	return []sample{
		r("off", creek(empty), diary.Fact{Kind: diary.Off, Paddock: "creek", Day: d}),
		r("off one and on another", creek(empty), diary.Fact{Kind: diary.Off, Paddock: "creek", Day: d}, diary.Fact{Kind: diary.On, Paddock: "hill", Herd: "cows", Day: d}),
		r("on during rest", creek(restDay(12), set(func(f *flat) *bool { return &f.BackIn }, true)), diary.Fact{Kind: diary.On, Paddock: "creek", Herd: "cows", Day: day(9, 12)}),
		r("on too early in spring", creek(begunEarly), diary.Fact{Kind: diary.On, Paddock: "creek", Herd: "cows", Day: day(4, 20)}),
		r("a frame count", creek(framed("")), diary.Fact{Kind: diary.Grid, Paddock: "creek", Heights: []float64{14, 17, 15, 18}, Day: d}),
		r("a frame count, thinner", creek(framed(spring.Thinner)), diary.Fact{Kind: diary.Grid, Paddock: "creek", Heights: []float64{14, 17, 15, 18}, Day: d}),
		r("on during a hold", lane(hold(day(11, 10), "johnsongrass")), diary.Fact{Kind: diary.On, Paddock: "lane", Day: day(11, 1)}),
		r("on while frost is not known", lane(func(f *flat) {
			f.Wait = &ladder.Wait{Why: shut.NotKnown, Plants: []string{"johnsongrass"}, Since: day(10, 1)}
		}),
			diary.Fact{Kind: diary.On, Paddock: "lane", Day: day(11, 1)}),
		r("on toxic fescue in the cold", lane(func(f *flat) { f.Fescue = true }), diary.Fact{Kind: diary.On, Paddock: "lane", Day: day(11, 1)}),
		r("hayed", creek(empty), diary.Fact{Kind: diary.Hayed, Paddock: "creek", Heights: []float64{6}, Day: d}),
		r("hayed in rest", creek(empty, restDay(12), func(f *flat) { f.Resting = true }), diary.Fact{Kind: diary.Hayed, Paddock: "creek", Heights: []float64{4}, Day: d}),
		r("hayed, no height", creek(empty), diary.Fact{Kind: diary.Hayed, Paddock: "creek", Day: d}),
		r("burned", creek(empty), diary.Fact{Kind: diary.Burned, Paddock: "creek", Day: day(3, 28)}),
		r("frost on the farm", creek(empty, restDay(40), goesOn), diary.Fact{Kind: diary.Frost, Day: day(10, 14)}),
		r("frost on one paddock", creek(empty, restDay(40), goesOn), diary.Fact{Kind: diary.Frost, Paddock: "creek", Day: day(10, 14)}),
		r("frost with a degree", creek(empty, restDay(40), goesOn), diary.Fact{Kind: diary.Frost, TempC: ptr(-2.0), Day: day(10, 14)}),
		r("frost that is enough by the farm's rule", creek(empty, cold(ladder.Frost{Day: day(10, 14), ByWho: "Ana", RestOver: true})), diary.Fact{Kind: diary.Frost, Day: day(10, 14)}),
		r("brown tops", creek(empty), diary.Fact{Kind: diary.Brown, Paddock: "creek", Day: day(10, 20)}),
		r("brown tops after a failed rest, cattle in", creek(failed), diary.Fact{Kind: diary.Brown, Paddock: "creek", Day: day(10, 20)}),
		r("frost in May", lane(empty), diary.Fact{Kind: diary.Frost, Day: day(5, 10)}),
		r("brown tops of a freeze that nobody saw", lane(empty, hold(day(11, 4), "johnsongrass")), diary.Fact{Kind: diary.Brown, Paddock: "lane", Day: day(10, 21)}),
		r("brown tops where no rest ran", lane(empty, func(f *flat) { f.NoRest = true }), diary.Fact{Kind: diary.Brown, Paddock: "lane", Day: day(10, 21)}),
		r("brown tops before any frost", creek(empty, goesOn), diary.Fact{Kind: diary.Brown, Paddock: "creek", Day: day(9, 10)}),
		r("one herd of two off", lane(), diary.Fact{Kind: diary.Off, Paddock: "lane", Herd: "cows", Day: d}),
		r("brown tops everywhere", creek(empty), diary.Fact{Kind: diary.Brown, Day: day(10, 20)}),
		r("goats on switchgrass", creek(func(f *flat) { f.MoveTo, f.Cautions = nil, []season.Caution{{Why: season.RiskLiver}} }), diary.Fact{Kind: diary.On, Paddock: "creek", Herd: "goats", Day: day(7, 5)}),
		r("regrowth", lane(empty), diary.Fact{Kind: diary.Regrowth, Paddock: "lane", Day: day(11, 5)}),
		r("clear", lane(empty), diary.Fact{Kind: diary.Clear, Paddock: "lane", Day: day(11, 5)}),
		r("clear everything", lane(empty), diary.Fact{Kind: diary.Clear, Day: day(11, 5)}),
		r("drought", creek(), diary.Fact{Kind: diary.Dry, Day: d}),
		r("drought on one paddock", creek(), diary.Fact{Kind: diary.Dry, Paddock: "creek", Day: d}),
		r("drought over", creek(), diary.Fact{Kind: diary.DryOver, Day: d}),
		r("head sold", flat{Counts: []ladder.Count{{Herd: "cows", Head: 30}}}, diary.Fact{Kind: diary.Sold, Herd: "cows", Amount: 8, Day: d}),
		r("hay sold", flat{}, diary.Fact{Kind: diary.Hay, Amount: -20, Adds: true, Day: d}),
		r("head bought", flat{}, diary.Fact{Kind: diary.Bought, Herd: "heifers", Amount: 1, Day: d}),
		r("head counted", flat{}, diary.Fact{Kind: diary.Head, Herd: "cows", Amount: 30, Day: d}),
		r("hay on hand", flat{}, diary.Fact{Kind: diary.Hay, Amount: 60, Day: d}),
		r("hay bought", flat{}, diary.Fact{Kind: diary.Hay, Amount: 1, Adds: true, Day: d}),
		r("hay fed", flat{}, diary.Fact{Kind: diary.Fed, Amount: 2, Day: d}),
		r("a wish of what to leave", creek(), diary.Fact{Kind: diary.Wish, Paddock: "creek", Heights: []float64{10}, Day: d}),
		r("a wish of a rest", creek(), diary.Fact{Kind: diary.Wish, Paddock: "creek", Wait: 60 * 24 * time.Hour, Day: d}),
		r("a fence down", creek(), diary.Fact{Kind: diary.Note, Paddock: "creek", Day: d}),
		r("a fence down somewhere", flat{}, diary.Fact{Kind: diary.Note, Day: d}),
		r("rain", creek(), diary.Fact{Kind: diary.Rain, Day: d}),
		r("rain that ends a drought", creek(set(func(f *flat) *bool { return &f.DroughtOver }, true)), diary.Fact{Kind: diary.Rain, Amount: 1.75, Day: d}),
		r("no frost", creek(), diary.Fact{Kind: diary.NoFrost, Day: d}),
		r("a plant that poisons", creek(), diary.Fact{Kind: diary.Plant, Paddock: "creek", Plant: "johnsongrass", Day: d}),
		r("a plant without a name", creek(), diary.Fact{Kind: diary.Plant, Paddock: "creek", Day: d}),
		r("cherry down", creek(), diary.Fact{Kind: diary.Danger, Paddock: "creek", Plant: "wild cherry", Day: d}),
		r("horses", creek(), diary.Fact{Kind: diary.Horses, Paddock: "creek", Day: d}),
		r("an emergency", creek(), diary.Fact{Kind: diary.Emergency, Paddock: "creek", Day: d}),
		r("an emergency somewhere", flat{}, diary.Fact{Kind: diary.Emergency, Day: d}),
		r("regrowth somewhere", creek(empty), diary.Fact{Kind: diary.Regrowth, Day: day(11, 5)}),
		r("weaned", creek(), diary.Fact{Kind: diary.Wean, Herd: "cows", Day: d}),
		r("later", creek(set(func(f *flat) *civil.Date { return &f.Day }, day(8, 31))), diary.Fact{Kind: diary.Later, Paddock: "creek"}),
		r("later, two days", creek(), diary.Fact{Kind: diary.Later, Paddock: "creek", Wait: 48 * time.Hour}),
		r("later, four hours", creek(), diary.Fact{Kind: diary.Later, Paddock: "creek", Wait: 4 * time.Hour}),
		r("later, where cattle stand on a hold", lane(hold(day(11, 10), "johnsongrass")), diary.Fact{Kind: diary.Later, Paddock: "lane", Wait: 48 * time.Hour}),
		r("later, where nobody knows whether cattle stand on a hold", lane(unsure, hold(day(11, 10), "johnsongrass")), diary.Fact{Kind: diary.Later, Paddock: "lane", Wait: 48 * time.Hour}),
		r("later, where cattle stand and nobody knows if it froze", lane(notKnown), diary.Fact{Kind: diary.Later, Paddock: "lane", Wait: 48 * time.Hour}),
		r("later, where nobody stands and nobody knows if it froze", lane(empty, notKnown), diary.Fact{Kind: diary.Later, Paddock: "lane", Wait: 48 * time.Hour}),
		r("heifers off, where nobody knows whether others stand there", lane(unsure), diary.Fact{Kind: diary.Off, Paddock: "lane", Herd: "heifers"}),
		r("later, one hour", creek(), diary.Fact{Kind: diary.Later, Paddock: "creek", Wait: time.Hour}),
		r("ok", creek(), diary.Fact{Kind: diary.Ack, Paddock: "creek"}),
		r("ok, nothing grazed", creek(empty), diary.Fact{Kind: diary.Ack, Paddock: "creek"}),
		r("a reading that asks for no verdict", creek(empty), reading),
		r("five offs in one text", creek(empty), diary.Fact{Kind: diary.Off, Paddock: "creek", Day: d}, diary.Fact{Kind: diary.Off, Paddock: "hill", Day: d},
			diary.Fact{Kind: diary.Off, Paddock: "north40", Day: d}, diary.Fact{Kind: diary.Off, Paddock: "mill", Day: d}, diary.Fact{Kind: diary.Off, Paddock: "lane", Day: d}),
		r("nothing", creek()),
		{"undo a reading", ladder.AnswerUndo, undone(reading)},
		{"undo two facts", ladder.AnswerUndo, undone(diary.Fact{Kind: diary.Off, Paddock: "creek", Day: d}, diary.Fact{Kind: diary.On, Paddock: "hill", Herd: "cows", Day: d})},
		{"nothing to undo", ladder.AnswerUndo, undone()},
		{"taken back by another", ladder.TakenBack, undone(diary.Fact{Kind: diary.Off, Paddock: "creek", Day: d})},
		{"a frost taken back whose hold stays", ladder.TakenBack, func() []flat {
			fs := undone(diary.Fact{Kind: diary.Frost, Day: d})
			fs[0].Shuts = []ladder.Shut{{Place: ladder.Place{Paddock: "lane", Name: "Lane"}, Standing: ladder.Standing{Hold: &ladder.Hold{Plants: []string{"johnsongrass"}, Until: d.AddDays(14)}}}}
			return fs
		}()},
	}
}

func askSamples() []sample {
	ask := func(name string, q diary.Question) sample { return sample{name, ladder.AnswerAsk, question(q)} }
	mixed := question(diary.Question{Why: diary.UnknownPaddock, Word: "valley"})
	mixed[0].Recorded = []diary.Fact{{Kind: diary.Off, Paddock: "creek", Day: day(8, 30)}}
	return []sample{
		ask("numbers for two paddocks", diary.Question{Why: diary.WhichPaddock, Word: "9 8", Choices: choice("Creek Bottom", "Hill")}),
		ask("numbers for nobody", diary.Question{Why: diary.WhichPaddock, Word: "9 8"}),
		ask("no word at all", diary.Question{Why: diary.WhichPaddock}),
		ask("one slip fits two names", diary.Question{Why: diary.WhichPaddock, Word: "jill", Choices: choice("Hill", "Mill")}),
		ask("four choices", diary.Question{Why: diary.WhichPaddock, Word: "8", Choices: choice("Creek Bottom", "Hill", "North 40", "Mill")}),
		ask("a name that is nobody's", diary.Question{Why: diary.UnknownPaddock, Word: "valley"}),
		ask("which herd", diary.Question{Why: diary.WhichHerd, Paddock: "hill", Choices: choice("cows", "heifers")}),
		ask("which herd, no choices", diary.Question{Why: diary.WhichHerd}),
		ask("knee high", diary.Question{Why: diary.NoNumber, Word: "knee high", Paddock: "mill"}),
		ask("knee high, nowhere", diary.Question{Why: diary.NoNumber, Word: "knee high"}),
		ask("400 in", diary.Question{Why: diary.ImpossibleHeight, Word: "400", Paddock: "creek"}),
		ask("400 in, nowhere", diary.Question{Why: diary.ImpossibleHeight, Word: "400"}),
		ask("a range", diary.Question{Why: diary.Range, Word: "8-10", Paddock: "mill"}),
		ask("a range, with choices", diary.Question{Why: diary.Range, Word: "8-10", Paddock: "mill", Choices: choice("8", "10")}),
		ask("not off yet", diary.Question{Why: diary.Negation, Paddock: "hill"}),
		ask("not, of nothing", diary.Question{Why: diary.Negation}),
		ask("a plan", diary.Question{Why: diary.Plan, Paddock: "hill"}),
		ask("five cows", diary.Question{Why: diary.PartOfHerd, Paddock: "hill"}),
		ask("a day that cannot be", diary.Question{Why: diary.WhichDay, Word: "13/45", Paddock: "creek"}),
		ask("a late bare number", diary.Question{Why: diary.StaleText, Word: "9"}),
		ask("not the manager", diary.Question{Why: diary.NotAllowed, Word: "clear"}),
		ask("too long", diary.Question{Why: diary.TooLong}),
		ask("one slip fits two names, and what a letter writes down", diary.Question{Why: diary.WhichPaddock, Word: "jill", Choices: []diary.Choice{
			{Name: "Hill", Facts: []diary.Fact{{Kind: diary.Reading, Paddock: "hill", Day: day(8, 30), Heights: []float64{9}}}},
			{Name: "Mill", Facts: []diary.Fact{{Kind: diary.Reading, Paddock: "mill", Day: day(8, 30), Heights: []float64{9}}}}}}),
		ask("unclear", diary.Question{Why: diary.Unclear}),
		ask("a throw of more cells than a frame has", diary.Question{Why: diary.Cells}),
		ask("more head than there are", diary.Question{Why: diary.TooMany, Word: "38"}),
		ask("what nobody can reckon with", diary.Question{Why: diary.Suppose, Word: "rains"}),
		ask("what if, and nothing", diary.Question{Why: diary.Suppose}),
		ask("a year ahead", diary.Question{Why: diary.TooFar, Word: "60"}),
		ask("a height, likely", diary.Question{Why: diary.Likely, Paddock: "creek",
			Choices: []diary.Choice{{Facts: []diary.Fact{{Kind: diary.Reading, Paddock: "creek", Day: day(8, 30), Heights: []float64{9}}}}}}),
		ask("cattle off, likely", diary.Question{Why: diary.Likely, Paddock: "creek",
			Choices: []diary.Choice{{Facts: []diary.Fact{{Kind: diary.Off, Paddock: "creek", Day: day(8, 30)}}}}}),
		ask("another paddock, likely", diary.Question{Why: diary.Likely, Paddock: "hill", Choices: []diary.Choice{{Facts: []diary.Fact{
			{Kind: diary.Undo}, {Kind: diary.Reading, Paddock: "hill", Day: day(8, 30), Heights: []float64{9}}}}}}),
		{"part understood", ladder.AnswerAsk, mixed},
		{"what a clear would lift", ladder.AnswerAsk, lifting(ladder.Cleared{Why: shut.Frost, Day: day(9, 13), N: 1, Of: 14})},
		{"all that a clear would lift", ladder.AnswerAsk, lifting(ladder.Cleared{Why: shut.Frost, Day: day(9, 13), N: 1, Of: 14},
			ladder.Cleared{Why: shut.Regrowth, Day: day(9, 14)}, ladder.Cleared{Why: shut.Wilted, Day: day(9, 10)}, ladder.Cleared{Why: shut.Emergency, Day: day(9, 12)})},
		{"a drought, horses and no word of frost", ladder.AnswerAsk, lifting(ladder.Cleared{Why: shut.Drought, Day: day(8, 3)}, ladder.Cleared{Why: shut.Horses, Day: day(9, 11)}, ladder.Cleared{Why: shut.NotKnown, Day: day(9, 20)})},
		ask("nothing to lift", diary.Question{Why: diary.NothingShut, Paddock: "lane"}),
	}
}

func farmSamples() []sample {
	farm := func(f flat) []flat {
		f.Farm = "Quail Fork"
		return []flat{f}
	}
	all := []sample{
		{"enrolment", ladder.Enrolment, farm(flat{})},
		{"enrolment by the manager", ladder.Enrolment, farm(flat{Who: "Ana"})},
		{"waits for the right time", ladder.AnswerWaits, farm(flat{})},
		{"opted out", ladder.AnswerStop, farm(flat{})},
		{"opted out, nobody left", ladder.AnswerStop, farm(flat{Alarm: ladder.AlarmNobodyLeft})},
		{"mail opted out", ladder.AnswerStop, farm(flat{Stop: ladder.StopMail})},
		{"asked to prove a stop by mail", ladder.AnswerStop, farm(flat{Stop: ladder.StopUnproved})},
		{"back again", ladder.AnswerStart, farm(flat{})},
		{"help", ladder.AnswerHelp, farm(flat{Paddock: "creek", Say: "cb"})},
		{"another opted out", ladder.StopTold, farm(flat{Who: "Luis"})},
		{"the new farm file has mistakes", ladder.FarmFileBad, farm(flat{Detail: `farm.yaml:41: paddocks[2].rest.days: want a number with days, such as "45 days", got "45"`})},
		{"sign of life", ladder.SignOfLife, farm(flat{})},
		{"sign of life, texts fail", ladder.SignOfLife, farm(flat{Health: &ladder.Health{Failing: []string{"sms"}}})},
		{"status, late summer", ladder.AnswerStatus, farm(flat{Shuts: summer(), Health: &ladder.Health{OK: true}})},
		{"status, mail fails", ladder.AnswerStatus, farm(flat{Shuts: summer(), Health: &ladder.Health{Failing: []string{"email"}}})},
		{"status, one paddock, grazed", ladder.AnswerStatus, farm(flat{Shuts: summer()[1:2]})},
		{"status, one paddock, not read", ladder.AnswerStatus, farm(flat{Shuts: summer()[4:5]})},
		{"status, one paddock, late", ladder.AnswerStatus, farm(flat{Shuts: summer()[:1]})},
		{"where next", ladder.AnswerAsked, farm(flat{Recorded: []diary.Fact{{Kind: diary.WhereNext}}, Pass: []ladder.Stop{
			{Paddock: "hill", Name: "Hill", Herds: []string{"cows"}, In: day(8, 30), Out: day(9, 8)}, {Paddock: "mill", Name: "Old Mill", Herds: []string{"cows"}, In: day(9, 8), Out: day(9, 30)}}})},
		{"where next, to ground that may bloat", ladder.AnswerAsked, farm(flat{Recorded: []diary.Fact{{Kind: diary.WhereNext}}, Pass: []ladder.Stop{
			{Paddock: "clover", Name: "Clover", Herds: []string{"goats"}, In: day(8, 31), Out: day(9, 28), Cautions: []season.Caution{{Why: season.RiskBloat, Plants: []string{"clover"}}}},
			{Paddock: "clover", Name: "Clover", Herds: []string{"ewes"}, In: day(9, 28), Out: day(10, 5), Cautions: []season.Caution{{Why: season.RiskBloat, Plants: []string{"clover"}}}}}})},
		{"where next, nowhere", ladder.AnswerAsked, farm(flat{Recorded: []diary.Fact{{Kind: diary.WhereNext}}})},
		{"how far the feed reaches", ladder.AnswerAsked, farm(flat{Recorded: []diary.Fact{{Kind: diary.FeedLasts}}, Feed: &ladder.Feed{ShortDays: 26, ShortLow: 26, ShortHigh: 26, FirstShort: day(9, 30), HayLb: 34_000, HayLow: 34_000, HayHigh: 34_000, GreenUp: day(4, 1)}})},
		{"when it freezes", ladder.AnswerAsked, farm(flat{Recorded: []diary.Fact{{Kind: diary.When}}, Planned: day(10, 16), Shuts: summer()})},
		{"when it freezes, not known", ladder.AnswerAsked, farm(flat{Recorded: []diary.Fact{{Kind: diary.When}}})},
		{"status, no paddocks", ladder.AnswerStatus, farm(flat{})},
		{"how far the winter's feed goes", ladder.AnswerAsked, farm(flat{Day: day(12, 7), Recorded: []diary.Fact{{Kind: diary.FeedLasts}}, Feed: inWinter(day(2, 12), "Hill")})},
		{"it lasts", ladder.AnswerAsked, farm(flat{Day: day(12, 7), Recorded: []diary.Fact{{Kind: diary.FeedLasts}}, Feed: inWinter(civil.Date{})})},
		{"nothing is left", ladder.AnswerAsked, farm(flat{Day: day(12, 7), Recorded: []diary.Fact{{Kind: diary.FeedLasts}}, Feed: gone()})},
		{"Monday in winter with its feed", ladder.MondayMail, farm(flat{Day: day(12, 7), Winter: inWinter(day(2, 12), "Hill")})},
		{"Monday in winter for the owner", ladder.MondayMail, farm(flat{Owner: true, Day: day(12, 7), Winter: inWinter(day(2, 12))})},
		{"Monday in late summer", ladder.MondayMail, farm(flat{Day: day(9, 7), Shuts: summer(), Feed: &ladder.Feed{ShortDays: 12, FirstShort: day(11, 3), HayLb: 16_800},
			Health: &ladder.Health{OK: true, Unsent: 1, LastBackup: day(9, 6), NotSaid: []ladder.NotSaid{{To: "Luis", Paddock: "Creek Bottom", Kind: ladder.MovePlan, Day: day(9, 2), Why: "550 5.1.1"}}}})},
		{"Monday for the owner", ladder.MondayMail, farm(flat{Owner: true, Day: day(9, 7), Shuts: summer(), Feed: &ladder.Feed{ShortDays: 12, FirstShort: day(11, 3), HayLb: 16_800},
			Health: &ladder.Health{OK: true, LastBackup: day(9, 6)}})},
		{"the scorecard", ladder.Scorecard, farm(flat{Day: day(6, 15), Card: scored(), Names: names()})},
		{"the scorecard, all rested", ladder.Scorecard, farm(flat{Day: day(6, 15), Card: scored()[2:], Names: names()})},
		{"Monday in spring", ladder.MondayMail, farm(flat{Day: day(5, 4), Shuts: turning(), Health: &ladder.Health{OK: true}})},
		{"Monday in August", ladder.MondayMail, farm(flat{Day: day(8, 3), Shuts: steered(), Health: &ladder.Health{OK: true}})},
		{"Monday in winter", ladder.MondayMail, farm(flat{Day: day(1, 11), Shuts: winter(), Health: &ladder.Health{OK: true, LastBackup: day(1, 10)}})},
	}
	all = append(all, supposedSamples()...)
	for _, word := range append(alarms(), "something-else") {
		who := "" // wrote on and on
		if word == ladder.AlarmAnswerer {
			who = "Luis"
		}
		all = append(all, sample{word, ladder.Alarm, farm(flat{Alarm: word, Detail: who, Name: "Creek Bottom", Paddock: "creek"})})
	}
	return all
}

// summer is a farm in early September, winter the same in January.
func summer() []ladder.Shut {
	return []ladder.Shut{
		{Place: ladder.Place{Paddock: "creek", Name: "Creek Bottom", Say: "cb"}, Standing: ladder.Standing{Cutoff: day(9, 1), Frost: day(10, 16), Days: -6, Grazed: true, Leave: 8, Target: 18}, Phase: season.Rest, Native: true, Late: 6, Wants: "off", Sends: ladder.Sends{MoveTo: []string{"Lane", "Mill"}}},
		{Place: ladder.Place{Paddock: "hill", Name: "Hill"}, Standing: ladder.Standing{Cutoff: day(9, 12), Frost: day(10, 27), Days: 5, Grazed: true, Leave: 6, Target: 12, Height: &ladder.Height{Mean: 9, Plants: 20, Day: day(9, 6)}}, Judged: ladder.Judged{Verdict: &season.Verdict{Say: season.Go, Action: season.Stay, Reason: season.GrazedEnough, Days: ptr(3.5), Floor: 6, OutBy: day(9, 10)}}, Phase: season.Open, Native: true, Wants: "read"},
		{Place: ladder.Place{Paddock: "north40", Name: "North 40", Say: "n40"}, Standing: ladder.Standing{Cutoff: day(8, 21), Frost: day(10, 20), Days: -17, Leave: 8, Target: 18, Height: &ladder.Height{Mean: 12, Plants: 12, Day: day(9, 5)}}, Phase: season.Rest, Native: true, Wants: "keep-shut"},
		{Place: ladder.Place{Paddock: "lane", Name: "Lane"}, Standing: ladder.Standing{Grazed: true, Leave: 4, Hold: &ladder.Hold{Plants: []string{"johnsongrass"}, Until: day(11, 10)}}, Phase: season.Open},
		{Place: ladder.Place{Paddock: "mill", Name: "Mill"}, Standing: ladder.Standing{Cutoff: day(9, 20), Frost: day(11, 4), Days: 13, Unknown: true, Leave: 8, Target: 18}, Phase: season.Open, Native: true, Wants: "read"},
		{Place: ladder.Place{Paddock: "east", Name: "East"}, Standing: ladder.Standing{FallUse: true, Cutoff: day(9, 1), Frost: day(10, 16), Days: -6, Grazed: true, Leave: 8, Target: 18, Height: &ladder.Height{Mean: 20, Plants: 12, Day: day(9, 5)}}, Phase: season.Rest, Native: true, Wants: "nothing"},
	}
}

// scored are three paddocks: one later after two broken rests, one after a single one, and
// one that always rested.
func scored() []spring.Score {
	y := func(year int, days, against float64, rest int, broken bool) spring.Year {
		return spring.Year{Year: year, Reached: day(4, 1).AddDays(int(days)), Days: days, Against: against, Rest: rest, Height: float64(rest) / 3, Broken: broken}
	}
	return []spring.Score{
		{Paddock: "creek", Begin: 14, Years: []spring.Year{y(2025, 50, 8, 12, true), y(2026, 52, 9.4, 20, true)}, Springs: 2, Later: 2, Days: ptr(8.7), Called: true},
		{Paddock: "hill", Begin: 9, Years: []spring.Year{y(2026, 41, 1.6, 22, true)}, Springs: 1, Later: 1, Days: ptr(1.6)},
		{Paddock: "north40", Begin: 14, Years: []spring.Year{y(2025, 40, -2, 50, false), y(2026, 40, -3, 48, false)}},
	}
}

// framed is a frame count of 64 %, after one of 80 where there is a trend.
func framed(trend string) func(*flat) {
	return func(f *flat) {
		f.Grid = &spring.Stand{Percent: 64, PerM2: 25.6, Low: 21.7, High: 29.1, Trend: trend}
		if trend != "" {
			f.Grid.Since, f.Grid.Was = day(6, 3), 80
		}
	}
}

// turning is a farm in spring, each paddock another way from its beginning.
func turning() []ladder.Shut {
	var all []ladder.Shut
	for i, change := range []func(*ladder.Shut){
		func(s *ladder.Shut) {},
		func(s *ladder.Shut) { s.Turn.Springs = 3 },
		func(s *ladder.Shut) { s.Turn.Height, s.Turn.Read, s.Turn.ByReading = 11, day(5, 1), true },
		func(s *ladder.Shut) { s.Turn.Failed, s.Turn.Begin, s.Turn.Springs = true, 18, 1 },
		func(s *ladder.Shut) { s.Turn.Height, s.Turn.Read, s.Turn.Ready = 15, day(5, 3), true },
		func(s *ladder.Shut) {
			s.Turn.Height, s.Turn.Read, s.Turn.Ready, s.Turn.Stale = 15, day(4, 20), true, true
		},
		func(s *ladder.Shut) { s.Turn, s.TooEarly = nil, creek(begunEarly).Early },
	} {
		s := ladder.Shut{Place: many(8)[i].place(), Standing: ladder.Standing{Cutoff: day(9, 1), Days: 120, Leave: 8}, Phase: season.Open, Native: true, Wants: "nothing", Turn: inSpring(5, 6+i).Turn}
		change(&s)
		all = append(all, s)
	}
	return all
}

// steered is a farm in August, each paddock another distance from what it must leave.
func steered() []ladder.Shut {
	base := spring.Steer{Days: 29, Leave: 8, Height: 12, Read: day(8, 3), Fresh: true, AtCutoff: 15, Counted: true, Passes: 2}
	var all []ladder.Shut
	for i, change := range []func(*spring.Steer){
		func(*spring.Steer) {},
		func(s *spring.Steer) { s.Passes, s.Read = 0, day(7, 31) },
		func(s *spring.Steer) { s.Counted = false },
		func(s *spring.Steer) { s.Height, s.AtCutoff = 6, 10 },
		func(s *spring.Steer) { s.Height, s.AtCutoff, s.Grazed = 6, 10, true },
		func(s *spring.Steer) { s.Height, s.AtCutoff = 4, 6.6 },
		func(s *spring.Steer) { s.Height, s.AtCutoff, s.Grazed = 4, 6.6, true },
		func(s *spring.Steer) { s.Fresh = false },
	} {
		s, f := base, many(8)[i]
		change(&s)
		all = append(all, ladder.Shut{Place: f.place(), Standing: ladder.Standing{Cutoff: day(9, 1), Days: 29, Leave: 8, Grazed: s.Grazed}, Phase: season.Open, Native: true, Wants: "nothing", Steer: &s})
	}
	return all
}

func winter() []ladder.Shut {
	return []ladder.Shut{
		{Place: ladder.Place{Paddock: "creek", Name: "Creek Bottom", Say: "cb"}, Standing: ladder.Standing{Leave: 8, Target: 18}, Phase: season.Dormant, Native: true, Wants: "nothing"},
		{Place: ladder.Place{Paddock: "hill", Name: "Hill"}, Standing: ladder.Standing{Leave: 6, Target: 12}, Phase: season.Dormant, Native: true, Wants: "nothing"},
	}
}

// lifting asks back a clear of the lane.
func lifting(causes ...ladder.Cleared) []flat {
	f := question(diary.Question{Why: diary.Lift, Paddock: "lane", Choices: []diary.Choice{{Name: "Lane", Facts: []diary.Fact{{Kind: diary.Clear, Paddock: "lane"}}}}})[0]
	f.Causes = causes
	return []flat{f}
}

func goesOn(f *flat) { f.GoesOn = true }

// gone is a winter without feed: it lasts to that very day.
func gone() *ladder.Feed {
	f := inWinter(day(12, 7), "Hill")
	f.RunsOut.Year = 2026
	f.Winter.Stock, f.Winter.Native, f.Winter.Hay, f.Winter.Guessed = 0, 0, 0, nil
	return f
}

// inWinter is feed that lasts from Dec 7 to a day of the next year.
func inWinter(out civil.Date, unread ...string) *ladder.Feed {
	green := day(4, 1)
	green.Year++
	if !out.IsZero() {
		out.Year++
	}
	return &ladder.Feed{RunsOut: out, GreenUp: green, Winter: &ladder.Winter{From: day(12, 7), Stock: 21, Native: 14, Hay: 32, Unread: unread, Guessed: []string{"Old Mill"}}}
}
