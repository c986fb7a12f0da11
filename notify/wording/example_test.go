package wording_test

import (
	"fmt"

	"github.com/golang-sql/civil"

	"stubbled/notify/wording"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

func ExampleText() {
	days := 5.4
	facts := []ladder.Facts{&ladder.VerdictFacts{
		PaddockFacts: ladder.PaddockFacts{
			Head:     ladder.Head{Place: ladder.Place{Paddock: "creek", Name: "Creek"}},
			Standing: ladder.Standing{Grazed: true, Leave: 8, Height: &ladder.Height{Mean: 11, Plants: 20}},
		},
		Judged: ladder.Judged{Verdict: &season.Verdict{Say: season.Go, Action: season.Stay, Reason: season.GrazedEnough, Days: &days, Floor: 8, OutBy: civil.Date{Year: 2026, Month: 8, Day: 28}, ReadAgain: 3}},
	}}
	fmt.Println(wording.Text(wording.Options{Lang: "en"}, ladder.AnswerVerdict, facts))
	fmt.Println(wording.Text(wording.Options{Lang: "es", Centimetres: true}, ladder.AnswerVerdict, facts))
	// Output:
	// GO Creek: stay. 11 in (20 plants), 5 days of grass. Out by Aug 28. Read again in 3 days.
	// BIEN Creek: deje ahi el ganado. 28 cm (20 matas), 5 dias de zacate. Saquelo a mas tardar el 28 ago. Mida otra vez en 3 dias.
}
