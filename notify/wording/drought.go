package wording

import (
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
