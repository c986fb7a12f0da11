package wording

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/text/feature/plural"

	"stubbled/notify/gsm"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/ladder"
)

// merged is one language's whole catalogue; a key in two tables is a fault.
func merged(t *testing.T, l tongue) phrases {
	t.Helper()
	all := phrases{}
	for _, table := range l.tables {
		for key, text := range table {
			if _, twice := all[key]; twice {
				t.Errorf("%v: %q stands in two tables", l.tag, key)
			}
			all[key] = text
		}
	}
	return all
}

var (
	verbs     = regexp.MustCompile(`%\[(\d+)\]([sd])`)
	anyVerb   = regexp.MustCompile(`%[^%]`)
	pluralArg = regexp.MustCompile(`\$\{(\d+):`)
)

func TestEveryLanguageHasEveryPhraseWithTheSameArguments(t *testing.T) {
	first := merged(t, tongues[0])
	for _, l := range tongues[1:] {
		other := merged(t, l)
		for key, text := range first {
			translated, ok := other[key]
			if !ok {
				t.Errorf("%v has no %q (%q)", l.tag, key, text)
				continue
			}
			for arg, kind := range arguments(text) {
				if got, ok := arguments(translated)[arg]; ok && got != kind {
					t.Errorf("%v: %q takes argument %s as %%%s, the first language as %%%s", l.tag, key, arg, got, kind)
				}
			}
			for arg := range arguments(translated) {
				if _, ok := arguments(text)[arg]; !ok {
					t.Errorf("%v: %q uses argument %s, the first language does not: %q", l.tag, key, arg, text)
				}
			}
			for arg := range arguments(text) {
				if _, ok := arguments(translated)[arg]; !ok {
					t.Errorf("%v: %q leaves out argument %s: %q", l.tag, key, arg, translated)
				}
			}
		}
		for key := range other {
			if _, ok := first[key]; !ok {
				t.Errorf("%v alone has %q", l.tag, key)
			}
		}
	}
}

// arguments lists the numbered arguments that a phrase says.
func arguments(text string) map[string]string {
	out := map[string]string{}
	for _, m := range verbs.FindAllStringSubmatch(text, -1) {
		out[m[1]] = m[2]
	}
	return out
}

func TestEveryVerbIsNumberedSoThatALanguageMayTurnThemRound(t *testing.T) {
	for _, l := range tongues {
		for key, text := range merged(t, l) {
			rest := verbs.ReplaceAllString(strings.ReplaceAll(text, "%%", ""), "")
			if bad := anyVerb.FindString(rest); bad != "" || strings.Contains(rest, "%") {
				t.Errorf("%v: %q has an unnumbered verb: %q", l.tag, key, text)
			}
		}
	}
}

// countsNothing are the numbers that no word follows: a day's number, a count
// with a unit that has no plural.
var countsNothing = map[string]string{
	"and-more": "2", "lines-more": "2", "lines-more.answer": "2", "late": "1", "late.unsure": "1",
	"overdue": "2", "overdue.unknown": "2", "overdue.unsure": "2", "overdue.back": "2", "overdue.back-in": "2",
	"why.rest": "1", "why.rest.past": "1", "expect.chance": "2", "date": "2", "date.long": "2",
	"unit.lb": "1", "unit.kg": "1", "falls": "1", "cure.sell": "1", "lesson.too-few": "1",
	"monday.title": "1 2", "monday.title.none-late": "1",
}

func TestEveryNumberBeforeAWordHasItsPlural(t *testing.T) {
	for _, l := range tongues {
		for key, text := range merged(t, l) {
			var inflected []string
			for _, m := range pluralArg.FindAllStringSubmatch(text, -1) {
				inflected = append(inflected, m[1])
			}
			for arg, kind := range arguments(text) {
				exempt := slices.Contains(strings.Fields(countsNothing[key]), arg)
				if kind == "d" && !slices.Contains(inflected, arg) && !exempt {
					t.Errorf("%v: %q counts %%[%s]d with no plural: %q", l.tag, key, arg, text)
				}
			}
		}
	}
}

// The phrases state two forms, one and other: the languages may not need more.
// Source of the rules: Unicode CLDR, as x/text has them.
func TestTheLanguagesNeedTheTwoFormsThatThePhrasesState(t *testing.T) {
	for _, l := range tongues {
		for n := range 100_000 {
			form := plural.Cardinal.MatchPlural(l.tag, n, 0, 0, 0, 0)
			if form != plural.One && form != plural.Other {
				t.Fatalf("%v says %d in the form %v, which no phrase has", l.tag, n, form)
			}
			if (form == plural.One) != (n == 1) {
				t.Fatalf("%v: %d takes the form %v", l.tag, n, form)
			}
		}
		for _, m := range pluralForm.FindAllStringSubmatch(strings.Join(values(merged(t, l)), "\n"), -1) {
			if m[2] == "" || m[3] == "" || m[2] == m[3] {
				t.Errorf("%v: the plural %q has not two forms", l.tag, m[0])
			}
		}
	}
}

func values(p phrases) []string {
	var out []string
	for _, v := range p {
		out = append(out, v)
	}
	slices.Sort(out)
	return out
}

func TestAPluralFollowsItsNumber(t *testing.T) {
	for _, c := range []struct {
		lang string
		n    int
		want string
	}{
		{"en", 1, "1 day left."}, {"en", 0, "0 days left."}, {"en", 2, "2 days left."}, {"en", 21, "21 days left."},
		{"es", 1, "Queda 1 día."}, {"es", 2, "Quedan 2 días."}, {"es-US", 5, "Quedan 5 días."}, {"es_MX", 5, "Quedan 5 días."},
		{"", 1, "1 day left."}, {"de", 3, "3 days left."}, {"no such language", 3, "3 days left."},
	} {
		if got := newVoice(Options{Lang: c.lang}).say("days-left", c.n); got != c.want {
			t.Errorf("%q, %d: got %q, want %q", c.lang, c.n, got, c.want)
		}
	}
}

var tableFile = regexp.MustCompile(`^(en|es)(_\w+)?\.go$`)

// inSource calls visit with every node of the package's own source, the tables
// of the catalogue apart.
func inSource(t *testing.T, visit func(set *token.FileSet, n ast.Node)) {
	t.Helper()
	files, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		name := file.Name()
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") || tableFile.MatchString(name) {
			continue
		}
		set := token.NewFileSet()
		tree, err := parser.ParseFile(set, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			visit(set, n)
			return true
		})
	}
}

func literal(e ast.Node) (string, bool) {
	lit, ok := e.(*ast.BasicLit)
	if !ok || lit.Kind != token.STRING {
		return "", false
	}
	s, err := strconv.Unquote(lit.Value)
	return s, err == nil
}

// literals are all strings of the source: whatever may be a key.
func literals(t *testing.T) map[string]bool {
	keys := map[string]bool{}
	inSource(t, func(_ *token.FileSet, n ast.Node) {
		if s, ok := literal(n); ok {
			keys[s] = true
		}
	})
	return keys
}

// takesKey is the place of the key among the arguments of the functions that
// say one.
var takesKey = map[string]int{"say": 0, "inEach": 0, "sentence": 1, "heightAnd": 2, "readingIf": 1, "answer": 0, "restEnds": 1, "restGoesOn": 1}

// saidDirectly lists the keys that are handed over as they stand, by place.
func saidDirectly(t *testing.T) map[string]string {
	keys := map[string]string{}
	inSource(t, func(set *token.FileSet, n ast.Node) {
		call, ok := n.(*ast.CallExpr)
		if !ok {
			return
		}
		sel, ok := call.Fun.(*ast.SelectorExpr)
		if !ok {
			return
		}
		if place, ok := takesKey[sel.Sel.Name]; ok && len(call.Args) > place {
			if s, ok := literal(call.Args[place]); ok {
				keys[s] = fmt.Sprint(set.Position(call.Pos()))
			}
		}
	})
	return keys
}

func TestEveryKeyThatIsSaidStandsInTheCatalogue(t *testing.T) {
	all := merged(t, tongues[0])
	for key, at := range saidDirectly(t) {
		if _, ok := all[key]; !ok && !strings.HasSuffix(key, ".") {
			t.Errorf("%s says %q, which the catalogue has not", at, key)
		}
	}
}

// endings are added to a key by the program.
var endings = []string{".many", ".each", ".short", ".mail", ".back", ".back.many", ".unknown", ".unknown.many",
	".back.unknown", ".back.unknown.many", ".in", ".bare", ".in.bare", ".all", ".why", ".farm", ".off", ".mid-rest", ".cutoff", ".end"}

// families are keys made of a word that comes from outside.
var families = []string{"alarm.", "service.", "plant.", "kind.", "mon.", "month.", "day.", "weekday.", "command.", "ask.", "entry.", "ask-height."}

func TestNoPhraseStandsInTheCatalogueThatNobodySays(t *testing.T) {
	spoken := literals(t)
	for key := range merged(t, tongues[0]) {
		if !said(key, spoken) {
			t.Errorf("nothing says %q", key)
		}
	}
}

func said(key string, spoken map[string]bool) bool {
	for _, f := range families {
		if strings.HasPrefix(key, f) {
			return true
		}
	}
	if spoken[key] {
		return true
	}
	for _, e := range endings {
		if base, ok := strings.CutSuffix(key, e); ok && said(base, spoken) {
			return true
		}
	}
	return false
}

func TestEveryWordOfTheAlarmListHasItsMend(t *testing.T) {
	for _, word := range ladder.Alarms() {
		if !has("alarm." + word) {
			t.Errorf("no words for the alarm %q", word)
		}
	}
}

func TestEveryHazardPlantHasItsName(t *testing.T) {
	for _, h := range grass.Hazards() {
		if !has("plant." + h.Name) {
			t.Errorf("no words for %q", h.Name)
		}
	}
}

func TestEveryFactCanBeTyped(t *testing.T) {
	for _, kind := range []diary.Kind{
		diary.Off, diary.On, diary.Hayed, diary.Burned, diary.Frost, diary.Brown, diary.Regrowth, diary.Clear, diary.Dry,
		diary.Wean, diary.Later, diary.Ack, diary.Undo, diary.Status, diary.Help, diary.Stop, diary.Start,
	} {
		seen := map[string]bool{}
		for _, lang := range Languages() {
			word := Command(lang, kind)
			if word == "" || !gsm.Has(word) || strings.Contains(word, " ") {
				t.Errorf("%s: %q is texted with %q", lang, kind, word)
			}
			seen[word] = true
		}
	}
	if Command("en", diary.Reading) != "" || Command("en", "nonsense") != "" {
		t.Error("a reading is typed by its heights alone")
	}
}
