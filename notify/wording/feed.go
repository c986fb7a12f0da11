package wording

import (
	"cmp"
	"math"

	"stubbled/scheduler/ladder"
)

var droughtSpeakers = map[ladder.Kind]speaker{ladder.Drought: says(voice.drought)}

// drought is what to do in a dry early summer, then why; or the question whether it is
// a drought.
func (v voice) drought(fs []*ladder.DroughtFacts) (parts []part) {
	f := fs[0]
	switch {
	case f.Tells():
		parts = append(v.headToMove(f), v.littleRain(f)...)
	case f.Date.IsZero():
		parts = []part{must(v.say("drought.little"))}
	case f.Known:
		parts = []part{must(v.say("drought.no-years", "rain", v.rainSum(f.RainMM), "since", v.date(f.Since)))}
	default:
		parts = []part{must(v.say("drought.unknown", "since", v.date(f.Since)))}
	}
	return append(parts,
		when(!f.Known && !f.Date.IsZero(), must(v.say("drought.text-it", "text", v.say("command.rain")))),
		when(f.Question != nil, must(v.say("drought.is-it", "letter", "a"))))
}

// headToMove is how many are to go now, and what it costs to wait.
func (v voice) headToMove(f *ladder.DroughtFacts) []part {
	if f.Of == 0 {
		return []part{must(v.say("drought.fewer"))}
	}
	key := "drought.move"
	switch {
	case f.OrMore:
		key = "drought.move.more"
	case f.MoveLow == 0:
		key = "drought.move.most"
	case f.MoveLow == f.MoveHigh:
		key = "drought.move.one"
	}
	return []part{
		must(v.say(key, "low", f.MoveLow, "high", f.MoveHigh, "all", f.Of)),
		when(f.WaitDays > 0, keep(rankAnswer, v.say("drought.wait", "days", f.WaitDays), v.say("drought.wait.short", "days", f.WaitDays))),
	}
}

// littleRain is why: what fell, what is usual, and how much may still grow.
func (v voice) littleRain(f *ladder.DroughtFacts) []part {
	key := "drought.rain"
	if f.Told {
		key = "drought.rain.told"
	}
	percent := func(share float64) int { return int(math.Round(100 * share)) }
	return []part{
		must(v.say(key, "rain", v.rainSum(f.RainMM), "since", v.date(f.Since), "usual", v.rainSum(f.Median))),
		keep(rankAnswer, v.say("drought.to-come", "low", percent(f.ComeLow), "high", percent(f.ComeHigh))),
		when(v.roomy, must(v.say("drought.years", "years", f.Years))),
	}
}

// rainSum is the rain of weeks, mm, told no finer than it is known.
func (v voice) rainSum(mm float64) string {
	if v.o.Centimetres {
		return v.rain(mm / 10 / cmPerInch)
	}
	return v.rain(math.Round(mm/cmPerInch) / 10)
}

// feed says how far the feed reaches, and what closes the gap.
func (v voice) feed(feed *ladder.Feed) []part {
	if feed == nil {
		return []part{must(v.say("fall-ahead.plan"))}
	}
	out := []part{must(sentence(v.short(feed)))}
	low, high := feed.Short()
	out = append(out, when(low < high && feed.Settle != "", keep(rankAnswer, v.say("fall-ahead.settle", "paddock", feed.Settle))))
	var cures []string
	if low, high := feed.Hay(); high > 0 {
		cures = append(cures, v.buy(low, high, feed.BaleLb))
	}
	if feed.Wean {
		cures = append(cures, v.say("cure.wean"))
	}
	if feed.FewerHead > 0 {
		cures = append(cures, v.say("cure.sell", "head", feed.FewerHead, "herd", feed.Herd))
	}
	out = append(out, when(len(cures) > 0, keep(rankAnswer, v.say("fall-ahead.now", "cures", sentence(v.list(cures, "list.or"))))))
	return append(out, v.winter(feed)...)
}

// planFall is the same with what it is for.
func (v voice) planFall(feed *ladder.Feed) []part {
	parts := v.feed(feed)
	if feed != nil {
		parts[0] = must(v.say("fall-ahead", "feed", v.short(feed)))
	}
	return parts
}

// buy is the hay still to get: in bales where somebody said what one weighs.
func (v voice) buy(low, high, bale float64) string {
	switch most := low <= 0; {
	case bale > 0 && most:
		return v.say("cure.bales.most", "hay", v.bales(high, high, bale))
	case bale > 0:
		return v.say("cure.bales", "hay", v.bales(low, high, bale))
	case most:
		return v.say("cure.hay.most", "hay", v.hay(high, high))
	}
	return v.say("cure.hay", "hay", v.hay(low, high))
}

// short says how many days are short, as a range where too little was read.
func (v voice) short(feed *ladder.Feed) string {
	low, high := feed.Short()
	switch day := v.date(cmp.Or(feed.FirstShort, feed.From)); {
	case high <= 0:
		return v.say("fall-ahead.enough")
	case low <= 0:
		return v.say("fall-ahead.short.most", "high", high, "day", day)
	case low < high:
		return v.say("fall-ahead.short.range", "low", low, "high", high, "day", day)
	default:
		return v.say("fall-ahead.short", "days", high, "day", day)
	}
}

// winter says what the fall eats of winter's grass, and how long the rest lasts.
func (v voice) winter(feed *ladder.Feed) []part {
	days, runsOut := int(feed.StockDays+0.5), !feed.RunsOut.IsZero()
	return []part{
		when(days > 0, may(rankWhen, v.say("fall-ahead.stock", "days", days))),
		when(runsOut, may(rankWhen, v.say("fall-ahead.winter", "day", v.date(feed.RunsOut)))),
		when(!runsOut && !feed.GreenUp.IsZero(), may(rankDetail, v.say("fall-ahead.green-up"))),
	}
}

// ledger is the winter's feed once the rest is over: until when it lasts, and what it is.
func (v voice) ledger(feed *ladder.Feed) []part {
	w := feed.Winter
	first, parts := v.say("winter.enough"), keep(rankAnswer, v.say("winter.parts", "stock", w.Stock, "native", w.Native, "days", w.Hay))
	switch days, green := feed.GreenUp.DaysSince(feed.RunsOut), v.date(feed.GreenUp); {
	case feed.RunsOut.IsZero():
	case w.Stock+w.Native+w.Hay == 0: // nothing lasts until today
		first, parts = v.say("winter.none", "days", days, "green-up", green), part{}
	default:
		first = v.say("winter.lasts", "day", v.date(feed.RunsOut), "days", days, "green-up", green)
	}
	return []part{must(first), parts,
		keep(rankAnswer, v.inEach("winter.guessed", "list", v.shortening(w.Guessed, ", "))...), // nothing where none is
		keep(rankAnswer, v.inEach("winter.unread", "list", v.shortening(w.Unread, ", "))...),
		when(w.Hay == 0 && !feed.RunsOut.IsZero(), may(rankRemark, v.say("winter.no-hay")))}
}
