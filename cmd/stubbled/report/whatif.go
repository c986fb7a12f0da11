package report

import (
	"fmt"
	"io"

	"stubbled/config"
	"stubbled/notify/reply"
	"stubbled/notify/wording"
	"stubbled/scheduler"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
	"stubbled/scheduler/suppose"
)

// WhatIf is what would come of what is typed, as the first manager would be answered,
// or as JSON; or the question
// that it leaves open.
func WhatIf(w io.Writer, farm *config.Farm, sight season.Sight, text string, asJSON bool) error {
	c := farm.FirstManager()
	o := Voice(farm, c.Language)
	asked := func(q *diary.Question) error {
		text := wording.Answer(o, ladder.AnswerAsk, scheduler.AskBack(farm, q))
		if asJSON {
			return JSON(w, object{{"on", sight.Today.String()}, {"ask", text}, {"paddocks", []object{}}})
		}
		_, err := fmt.Fprintln(w, text)
		return err
	}
	heard := supposing(farm, sight, c, text)
	if heard.Ask != nil {
		return asked(heard.Ask)
	}
	last := heard.Facts[len(heard.Facts)-1] // behind what else the text tells
	facts, ask := scheduler.Supposed(suppose.Of(sight), last)
	if ask != nil {
		return asked(ask)
	}
	facts.Recorded = []diary.Fact{last}
	answer := wording.Answer(o, ladder.AnswerAsked, facts)
	if !asJSON {
		_, err := fmt.Fprintln(w, answer)
		return err
	}
	return JSON(w, whatIfJSON(sight, facts, answer))
}

// supposing is what a text supposes of a farm as it stands.
func supposing(farm *config.Farm, sight season.Sight, c *ladder.Contact, text string) reply.Heard {
	head := map[string]int{}
	for _, h := range farm.HerdsOn(sight.Book, sight.Today) {
		head[h.ID] = h.Head
	}
	return scheduler.ReaderFor(farm).Counting(head).Suppose(text, reply.Who{Name: c.Name, Language: c.Language, Manager: true}, sight.Today)
}

// whatIfJSON is an answer for other programs: each figure now, and then.
func whatIfJSON(sight season.Sight, f *ladder.AskedFacts, answer string) object {
	paddocks := []object{}
	for _, g := range f.Supposed.Grounds {
		figure := func(of func(ladder.Prospect) *float64) object {
			return object{{"now", of(g.Now)}, {"then", of(g.Then)}}
		}
		paddocks = append(paddocks, object{
			{"id", g.Paddock}, {"name", g.Name}, {"in", isoDate(g.In)}, {"out", isoDate(g.Out)},
			{"height_out_in", above(g.Leaves, 0)}, {"verdict", orNull(string(g.Verdict.Say))}, {"reason", string(g.Verdict.Reason)},
			{"expected_at_frost_in", figure(func(p ladder.Prospect) *float64 {
				if p.Expect == nil {
					return nil
				}
				return &p.Expect.Mean
			})},
			{"chance_at_frost", figure(func(p ladder.Prospect) *float64 {
				if p.Expect == nil {
					return nil
				}
				return &p.Chance
			})},
			{"days_of_grass", figure(func(p ladder.Prospect) *float64 { return p.Days })},
		})
	}
	return object{
		{"on", sight.Today.String()}, {"fact", factOf(f.Recorded[0])}, {"ask", ""}, {"text", answer}, {"paddocks", paddocks}, {"hay_days", f.Supposed.HayDays},
	}
}
