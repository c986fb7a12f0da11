package wording

import (
	"strings"
	"testing"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season/shut"
)

// What is said of a hold is what makes the plants poison: no frost is blamed for a
// felled cherry or for new shoots.
func TestAHoldNamesItsTrueCause(t *testing.T) {
	cherry, johnson, alfalfa := "wild cherry", "johnsongrass", "alfalfa"
	for _, c := range []struct {
		name   string
		hold   ladder.Hold
		en, es string
	}{
		{"a frost", ladder.Hold{Plants: []string{johnson}},
			"frost can make johnsongrass poisonous.", "zacate Johnson helado puede envenenar."},
		{"a frost on what only bloats", ladder.Hold{Plants: []string{alfalfa}},
			"frosted alfalfa can bloat cattle.", "alfalfa tras una helada puede timpanizar al ganado."},
		{"a frost on what poisons beside what only bloats", ladder.Hold{Plants: []string{alfalfa, johnson}},
			"frost can make johnsongrass poisonous. Frosted alfalfa can bloat cattle.", "zacate Johnson helado puede envenenar. Alfalfa tras una helada puede timpanizar al ganado."},
		{"a frost on ground with plants that nobody named", ladder.Hold{Plants: []string{""}},
			"frost can make some plants poisonous.", "ciertos zacates helados pueden envenenar."},
		{"a felled cherry", ladder.Hold{Plants: []string{cherry}, Wilted: true},
			"wilted cherry leaves kill.", "la hoja marchita de cerezo mata."},
		{"new shoots", ladder.Hold{Plants: []string{johnson}, Regrown: true},
			"green regrowth can poison.", "el rebrote verde puede envenenar."},
		{"a felled cherry, and a frost on the johnsongrass beside it", ladder.Hold{Plants: []string{cherry, johnson}, Wilted: true, Turned: []string{johnson}},
			"frost can make johnsongrass poisonous. Wilted cherry leaves kill.", "zacate Johnson helado puede envenenar. La hoja marchita de cerezo mata."},
	} {
		f := &ladder.PaddockFacts{}
		f.Hold = &c.hold
		in := []*ladder.PaddockFacts{f}
		for lang, want := range map[string]string{"en": c.en, "es": c.es} {
			if got := newVoice(Options{Lang: lang}).danger(in)[0]; !strings.EqualFold(got, want) {
				t.Errorf("%s, %s: %q, want %q", c.name, lang, got, want)
			}
		}
	}
}

// Where no calendar ends a hold it says what does: nobody can wait for a day that never
// comes.
func TestAHoldWithoutALastDaySaysWhoEndsItAndWhen(t *testing.T) {
	for _, c := range []struct {
		name   string
		hold   ladder.Hold
		en, es string
	}{
		{"new shoots", ladder.Hold{Plants: []string{"johnsongrass"}, Regrown: true},
			"until a manager clears it", "hasta que un encargado lo libere"},
		{"cherry", ladder.Hold{Plants: []string{"wild cherry"}, ByEye: true},
			"until a manager sees cherry leaves brown and dry and clears it", "hasta que un encargado vea seca la hoja del cerezo y lo libere"},
		{"cherry that a later look has ended", ladder.Hold{Plants: []string{"wild cherry"}, ByEye: true, Until: day(11, 10)},
			"until about Nov 10", "hasta como el 10 nov"},
	} {
		for lang, want := range map[string]string{"en": c.en, "es": c.es} {
			if got := newVoice(Options{Lang: lang}).heldUntil(&c.hold); got != want {
				t.Errorf("%s, %s: %q, want %q", c.name, lang, got, want)
			}
		}
	}
}

// A bundle names every plant of its ground, where there is room for them: a list that is
// cut is read as whole.
func TestAHoldNamesEveryPlantOfItsGround(t *testing.T) {
	var in []ladder.Facts
	for i, plants := range [][]string{{"sorghum-sudangrass"}, {"johnsongrass"}, {"indiangrass"}, {"alfalfa"}} {
		f := &ladder.PaddockFacts{Standing: ladder.Standing{Hold: &ladder.Hold{Plants: plants}}}
		f.Place = ladder.Place{Paddock: plants[0], Name: []string{"Sudan Strip", "Flat", "Hill", "Piece"}[i]}
		in = append(in, f)
	}
	for lang, want := range map[string][]string{
		"en": {"sorghum-sudangrass, johnsongrass and indiangrass poisonous", "Frosted alfalfa can bloat"},
		"es": {"sorgo-Sudan, zacate Johnson y zacate indio helados pueden envenenar", "Alfalfa tras una helada puede timpanizar"},
	} {
		text := Text(Options{Lang: lang}, ladder.HoldBegins, in)
		for _, w := range want {
			if !strings.Contains(text, w) {
				t.Errorf("%s lacks %q: %s", lang, w, text)
			}
		}
	}
}

func TestNobodyKnowsIfItFrozeSaysWhatAFrostDoesToEachPlant(t *testing.T) {
	w := &ladder.Wait{Why: shut.NotKnown, Plants: []string{"alfalfa", "johnsongrass"}}
	for lang, want := range map[string]string{
		"en": "nobody knows if it froze, and frost can make johnsongrass poisonous. Frosted alfalfa can bloat cattle.",
		"es": "no se sabe si heló, y zacate Johnson helado puede envenenar. Alfalfa tras una helada puede timpanizar al ganado.",
	} {
		if got := newVoice(Options{Lang: lang}).waitsFor(w); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestNobodyPutsOffGroundThatCanKillWithAnimalsIn(t *testing.T) {
	kin := &ladder.Wait{Why: shut.Low, Plants: []string{"johnsongrass"}, Height: 18}
	held := &ladder.Hold{Plants: []string{"johnsongrass"}}
	for _, c := range []struct {
		name  string
		lane  ladder.Standing
		putOn bool
	}{
		{"cattle on a hold", ladder.Standing{Grazed: true, Hold: held}, false},
		{"nobody knows whether cattle stand on a hold", ladder.Standing{Unknown: true, Hold: held}, false},
		{"cattle on johnsongrass that is short", ladder.Standing{Grazed: true, Wait: kin}, false},
		{"a hold on empty ground", ladder.Standing{Hold: held}, true},
		{"cattle on ground that nothing shuts", ladder.Standing{Grazed: true}, true},
	} {
		f := &ladder.RecordedFacts{Answered: ladder.Answered{Recorded: []diary.Fact{{Kind: diary.Later, Paddock: "lane", Wait: 48 * time.Hour}}}}
		f.Place, f.Standing = ladder.Place{Paddock: "lane", Name: "Lane"}, c.lane
		for lang, noted := range map[string]string{"en": "put off 2 days", "es": "se deja 2"} {
			text := Text(Options{Lang: lang}, ladder.AnswerRecorded, []ladder.Facts{f})
			if strings.Contains(text, noted) != c.putOn {
				t.Errorf("%s: %s", c.name, text)
			}
		}
	}
}

// Of two holds the day of the one that ends first is not said of both.
func TestTheEndOfRestSaysNoDayOfAHoldThatAnotherOutlasts(t *testing.T) {
	said := func(days ...civil.Date) string {
		var in []ladder.Facts
		for i, until := range days {
			f := &ladder.EndFacts{}
			f.Place = ladder.Place{Paddock: "p", Name: []string{"Creek", "Hill"}[i]}
			f.Hold = &ladder.Hold{Plants: []string{"johnsongrass"}, Until: until}
			in = append(in, f)
		}
		return Text(Options{}, ladder.RestOver, in)
	}
	if text := said(day(11, 11), civil.Date{}); strings.Contains(text, "Nov 11") {
		t.Errorf("Hill is held until somebody clears it: %s", text)
	}
	if text := said(day(11, 11), day(11, 11)); !strings.Contains(text, "Nov 11") {
		t.Errorf("both are held until Nov 11: %s", text)
	}
}
