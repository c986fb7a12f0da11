package wording

import (
	"encoding/xml"
	"errors"
	"io"
	"regexp"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"stubbled/notify/language"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

func TestAMailShowsAPictureOnlyWhereOneGoesWithIt(t *testing.T) {
	monday := samplesNamed("Monday in late summer")[0].facts
	image := regexp.MustCompile(`<img [^>]*>`)
	for _, c := range []struct {
		name     string
		kind     ladder.Kind
		facts    []flat
		pictures []string
		want     []string
	}{
		{"Monday without one", ladder.MondayMail, monday, nil, nil},
		{"Monday with the season's", ladder.MondayMail, monday, []string{Season}, []string{"cid:season"}},
		{"Monday shows none of a paddock", ladder.MondayMail, monday, []string{SeasonOf("creek")}, nil},
		{"lessons with two of three paddocks", ladder.LessonsMail, lessonFacts(), []string{SeasonOf("creek"), SeasonOf("north40")}, []string{"cid:season-creek", "cid:season-north40"}},
		{"no other mail shows any", ladder.ShutToday, []flat{creek(restDay(1))}, []string{Season, SeasonOf("creek")}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, _, page := Mail(Options{Pictures: c.pictures}, c.kind, stored(c.kind, c.facts...))
			got := image.FindAllString(page, -1)
			if len(got) != len(c.want) {
				t.Fatalf("%d pictures, want %d: %v", len(got), len(c.want), got)
			}
			for i, want := range c.want {
				if !strings.Contains(got[i], `src="`+want+`"`) || !regexp.MustCompile(`alt="[^"]{10,}"`).MatchString(got[i]) {
					t.Errorf("want %q with what it shows: %s", want, got[i])
				}
			}
		})
	}
}

// A page means the same printed in grey: nothing but black, white and grey.
func TestAMailMeansNothingByColour(t *testing.T) {
	colour := regexp.MustCompile(`#[0-9a-fA-F]{3,6}\b|rgb|hsl|\b(red|green|blue|orange|yellow)\b`)
	grey := regexp.MustCompile(`^#([0-9a-f])(?:[0-9a-f])?`)
	for _, c := range colour.FindAllString(mailHTML, -1) {
		digits := strings.TrimPrefix(c, "#")
		if !grey.MatchString(c) || strings.Trim(digits, digits[:1]) != "" {
			t.Errorf("the mail uses the colour %s", c)
		}
	}
}

// Every element that is opened is closed, by a parser that is not ours, and the
// HTML says every line that the plain text says.
func TestHTMLAndPlainTextSayTheSame(t *testing.T) {
	for _, lang := range language.Tags() {
		for _, s := range samples() {
			subject, text, page := Mail(Options{Lang: lang}, s.kind, s.said())
			if len([]rune(subject)) > longestSubject+2 {
				t.Errorf("%s: a subject of %d characters: %q", s.name, len([]rune(subject)), subject)
			}
			balanced(t, s.name, page)
			seen := words(t, page)
			for _, line := range strings.Split(text, "\n") {
				line = strings.Trim(line, " -")
				if label, value, isRow := strings.Cut(line, ": "); isRow && !strings.Contains(seen, squeezed(line)) {
					if strings.Contains(seen, squeezed(label)) && strings.Contains(seen, squeezed(value)) {
						continue
					}
				}
				if !strings.Contains(seen, squeezed(line)) {
					t.Errorf("%s: the HTML leaves out %q", s.name, line)
				}
			}
		}
	}
}

func squeezed(s string) string {
	return strings.Join(strings.Fields(strings.ReplaceAll(s, "\u00a0", " ")), " ")
}

// words is the text of a page as a reader sees it.
func words(t *testing.T, page string) string {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for n := range doc.Descendants() {
		if n.Type == html.TextNode {
			b.WriteString(" " + n.Data)
		}
	}
	return squeezed(b.String())
}

func balanced(t *testing.T, name, page string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(strings.TrimPrefix(page, "<!DOCTYPE html>\n")))
	d.Strict = true
	d.Entity = xml.HTMLEntity
	for {
		_, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			t.Errorf("%s: %v", name, err)
			return
		}
	}
}

func TestAWinterMondayIsShort(t *testing.T) {
	_, winter, _ := Mail(Options{}, ladder.MondayMail, samplesNamed("Monday in winter")[0].said())
	_, summer, _ := Mail(Options{}, ladder.MondayMail, samplesNamed("Monday in late summer")[0].said())
	if n := strings.Count(winter, "\n"); n > 14 || 2*n > strings.Count(summer, "\n") {
		t.Errorf("%d lines:\n%s", n, winter)
	}
}

// Cattle that are late and stand on what poisons are told of the poison: the texts of
// the same morning are as loud.
func TestWhatPoisonsIsSaidOnMondayWhereTheRestIsLateToo(t *testing.T) {
	late := ladder.Shut{Place: ladder.Place{Paddock: "draw", Name: "Draw"}, Standing: ladder.Standing{Cutoff: day(8, 23), Frost: day(10, 7), Days: -50, Grazed: true},
		Phase: season.Rest, Native: true, Late: 50, Wants: "off", Judged: ladder.Judged{Verdict: &season.Verdict{Say: season.Wait, Action: season.TakeOff, Reason: season.InRest}}}
	for _, tc := range []struct {
		name   string
		change func(*ladder.Shut)
		want   string
	}{
		{"rest alone", func(*ladder.Shut) {}, "Day 50: Draw still grazed."},
		{"a hold", func(s *ladder.Shut) {
			s.Hold = &ladder.Hold{Plants: []string{"indiangrass"}, Until: day(10, 25)}
		}, "TAKE THEM OFF Draw now: frost can make indiangrass poisonous."},
		{"frost not known", func(s *ladder.Shut) {
			s.Verdict = &season.Verdict{Say: season.Wait, Action: season.TakeOff, Reason: season.FrostUnknown, Plants: []string{"indiangrass"}}
		}, "TAKE THEM OFF Draw. Nobody knows if it froze"},
	} {
		tc.change(&late)
		subject, text, _ := Mail(Options{}, ladder.MondayMail, []ladder.Facts{&ladder.FarmFacts{Head: ladder.Head{Day: day(10, 12)}, Listed: ladder.Listed{Shuts: []ladder.Shut{late}}}})
		if !strings.Contains(text, tc.want) {
			t.Errorf("%s: want %q in\n%s", tc.name, tc.want, text)
		}
		if !strings.Contains(subject, ": 1 late") || strings.Contains(subject, "to do") {
			t.Errorf("%s: one thing is late and nothing else to do, and the subject is %q", tc.name, subject)
		}
		late.Hold = nil
	}
}

func TestTheFallAheadIsMailedWithWhereTheHerdsGo(t *testing.T) {
	stop := ladder.Stop{Paddock: "hill", Name: "Hill", Herds: []string{"cows"}, In: day(7, 10), Out: day(7, 14)}
	for lang, want := range map[string]string{"en": "From Friday, July 10: cows in Hill, out by Tuesday, July 14.", "es": "Desde el viernes 10 de julio: vacas en Hill, fuera a más tardar el martes 14 de julio."} {
		_, text, _ := Mail(Options{Lang: lang}, ladder.FallAhead, []ladder.Facts{&ladder.FarmFacts{Head: ladder.Head{Day: day(7, 3)}, Days: 60, Pass: []ladder.Stop{stop}}})
		if !strings.Contains(text, want) {
			t.Errorf("%s: want %q in\n%s", lang, want, text)
		}
	}
}

func TestTheOneAnswerToAnOptOutSellsNothing(t *testing.T) {
	for _, s := range samplesNamed("opted out") {
		_, text, _ := Mail(Options{}, s.kind, s.said())
		if strings.Contains(text, "HELP") || strings.Count(text, "\n") > 6 {
			t.Errorf("it says more than that it was done:\n%s", text)
		}
	}
}
