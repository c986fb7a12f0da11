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

	"stubbled/notify/gsm"
	"stubbled/notify/language"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/ladder"
)

// plain are the fields that a phrase says, those apart that only choose a form.
func plain(fields []string) []string {
	return slices.DeleteFunc(slices.Sorted(slices.Values(fields)), func(f string) bool { return strings.HasSuffix(f, ":") })
}

func TestEveryLanguageHasEveryPhraseWithTheSameFields(t *testing.T) {
	first := language.All()[0].Fields()
	for _, l := range language.All()[1:] {
		other := l.Fields()
		for key, fields := range first {
			translated, ok := other[key]
			if !ok {
				t.Errorf("%s has no %q", l.Tag, key)
			} else if got, want := plain(translated), plain(fields); !slices.Equal(got, want) {
				t.Errorf("%s: %q names %v, the first language %v", l.Tag, key, got, want)
			}
		}
		for key := range other {
			if _, ok := first[key]; !ok {
				t.Errorf("%s alone has %q", l.Tag, key)
			}
		}
	}
}

// ofFamily are the fields of phrases that are named by a word from outside.
var ofFamily = map[string]string{
	"drought.move": "low high all", "drought.rain": "rain since usual",

	"alarm.": "who", "ask.": "word paddock", "entry.": "paddock plant", "follows.": "paddock", "caution.": "plants", "why.": "danger plants height day who", "lift.": "day n of", "emergency": "paddock", "verdict.": "paddock", "command.": "", "service.": "", "plant.": "", "herd.": "",
	"kind.": "", "changed.": "day days entry herds was now why", "mon.": "", "month.": "", "day.": "", "weekday.": "", "row.": "",
	"steer.": "paddock height days n leave at", "turn-in.": "paddock height begin day from to n", "green-up": "paddock", "grid.": "day year was", "score.called": "paddock height days times of", "score.unsure": "paddock height days times of",
}

func TestAPhraseNamesOnlyWhatItIsGiven(t *testing.T) {
	given := said(t)
	for _, l := range append(language.All(), tolvish(t)) {
		for key, fields := range l.Fields() {
			for _, field := range fields {
				field = strings.TrimSuffix(field, ":")
				if !slices.Contains(given(key), field) {
					t.Errorf("%s: %q names {%s}; it is given %v", l.Tag, key, field, given(key))
				}
			}
		}
	}
}

// numbers are the fields that hold one, countsNothing the phrases in which no
// word follows it: a day's number, a count with a unit that has no plural.
var (
	numbers       = []string{"days", "hours", "n", "head", "late", "percent"}
	countsNothing = []string{
		"and-more", "lift.frost.day", "lift.brown.day", "lift.regrowth.day", "lift.drought.day", "lines-more", "lines-more.answer", "late", "late.unsure", "overdue", "overdue.unknown", "overdue.unsure", "overdue.back",
		"overdue.back-in", "overdue.same", "why.rest", "why.rest.past", "expect.chance", "unit.lb", "unit.kg", "unit.mm", "falls", "cure.sell",
		"noted.count", "lesson.too-few", "monday.title", "monday.title.all-late", "monday.title.none-late",
	}
)

func TestEveryNumberBeforeAWordHasItsPlural(t *testing.T) {
	for _, l := range language.All() {
		for key, fields := range l.Fields() {
			for _, f := range fields {
				if slices.Contains(numbers, f) && !slices.Contains(fields, f+":") && !slices.Contains(countsNothing, key) {
					t.Errorf("%s: %q counts {%s} with no plural", l.Tag, key, f)
				}
			}
		}
	}
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
		if got := newVoice(Options{Lang: c.lang}).say("days-left", "days", c.n); got != c.want {
			t.Errorf("%q, %d: got %q, want %q", c.lang, c.n, got, c.want)
		}
	}
}

// inSource calls visit with every node of the package's own source.
func inSource(t *testing.T, visit func(set *token.FileSet, n ast.Node)) {
	t.Helper()
	files, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		name := file.Name()
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
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
// say one, and fields that they give it themselves.
var takesKey = map[string]struct {
	place int
	gives []string
}{
	"say": {0, nil}, "inEach": {0, nil}, "sentence": {1, []string{"paddock"}}, "sentenceEach": {2, []string{"paddock"}}, "heightAnd": {2, []string{"height", "leave"}},
	"answer": {0, []string{"text"}}, "restEnds": {1, []string{"paddock"}}, "waits": {1, []string{"paddock"}},
	"restGoesOn": {1, []string{"paddock", "frost"}}, "lines": {1, []string{"lines", "n"}}, "list": {1, []string{"list", "last"}},
	"fallUse": {1, []string{"paddock", "height"}},
}

// saidDirectly lists the keys that are handed over as they stand, with the
// fields that they are given, and where.
func saidDirectly(t *testing.T) (fields map[string][]string, places map[string]string) {
	fields, places = map[string][]string{}, map[string]string{}
	inSource(t, func(set *token.FileSet, n ast.Node) {
		call, ok := n.(*ast.CallExpr)
		if !ok {
			return
		}
		sel, ok := call.Fun.(*ast.SelectorExpr)
		if !ok {
			return
		}
		takes, ok := takesKey[sel.Sel.Name]
		if !ok || len(call.Args) <= takes.place {
			return
		}
		key, ok := keyIn(call.Args[takes.place])
		if !ok {
			return
		}
		places[key] = fmt.Sprint(set.Position(call.Pos()))
		fields[key] = append(fields[key], takes.gives...)
		for _, arg := range call.Args[takes.place+1:] {
			if name, ok := literal(arg); ok {
				fields[key] = append(fields[key], name)
			}
		}
	})
	return fields, places
}

// keyIn is a key as it stands, or as ground takes it.
func keyIn(e ast.Expr) (string, bool) {
	if call, ok := e.(*ast.CallExpr); ok && len(call.Args) == 2 {
		if id, ok := call.Fun.(*ast.Ident); ok && id.Name == "ground" {
			return literal(call.Args[1])
		}
	}
	return literal(e)
}

// ofKey are the fields of keys that are put together where they are said.
var ofKey = map[string]string{
	"move-plan": "paddock day", "shut-today": "paddock", "overdue": "paddock n", "ask-height": "paddock", "frost": "paddock frost",
	"freeze": "paddock frost", "killing-freeze": "paddock frost", "hold": "paddock", "lesson.cure": "days falls", "result": "paddock year", "hold-over": "paddock",
	"result.met": "paddock year height wanted", "result.short": "paddock year height wanted", "result.then": "year height wanted",
	"why.rest": "n days", "why.rest.past": "n", "why.rest.start": "days", "why.cover": "leave", "why.not-ready": "leave", "why.use-short": "leave",
	"entry.on": "herd", "entry.off.herd": "herd", "entry.wean": "herd", "entry.hayed.left": "height", "entry.frost.temp": "temperature", "entry.rain.amount": "amount",
	"entry.sold": "herd n", "entry.bought": "herd n", "entry.head": "herd n", "entry.hay": "n", "entry.hay.more": "n", "entry.hay.less": "n", "entry.fed": "n",
	"entry.wish.leave": "height", "entry.wish.rest": "days",
	"enrolment": "farm", "started": "farm", "stopped": "farm", "waits": "farm",
}

// said gives the fields that the program gives a phrase.
func said(t *testing.T) func(key string) []string {
	direct, _ := saidDirectly(t)
	var given func(key string) []string
	given = func(key string) []string {
		list := slices.Clone(direct[key])
		for family, fields := range ofFamily {
			if strings.HasPrefix(key, family) {
				list = append(list, strings.Fields(fields)...)
			}
		}
		list = append(list, strings.Fields(ofKey[key])...)
		if i := strings.LastIndex(key, "."); i > 0 && len(list) == 0 {
			return given(key[:i]) // an ending
		}
		return list
	}
	return given
}

func TestEveryKeyThatIsSaidStandsInTheCatalogue(t *testing.T) {
	_, places := saidDirectly(t)
	for key, at := range places {
		if !has(key) && !strings.HasSuffix(key, ".") {
			t.Errorf("%s says %q, which the language has not", at, key)
		}
	}
}

// endings are added to a key by the program.
var endings = []string{".many", ".each", ".short", ".mail", ".back", ".back.many", ".unknown", ".unknown.many",
	".back.unknown", ".back.unknown.many", ".in", ".bare", ".in.bare", ".all", ".why", ".farm", ".off", ".mid-rest", ".cutoff", ".end"}

// families are keys made of a word that comes from outside.
var families = []string{"alarm.", "service.", "plant.", "kind.", "mon.", "month.", "day.", "weekday.", "command.", "ask.", "entry.", "ask-height.", "follows.", "caution.", "changed.", "why.", "lift.", "steer.", "turn-in.", "score.", "grid.", "herd."}

func TestNoPhraseStandsInTheCatalogueThatNobodySays(t *testing.T) {
	spoken := literals(t)
	for key := range language.All()[0].Fields() {
		if !isSaid(key, spoken) {
			t.Errorf("nothing says %q", key)
		}
	}
}

func isSaid(key string, spoken map[string]bool) bool {
	for _, f := range families {
		if strings.HasPrefix(key, f) {
			return true
		}
	}
	if spoken[key] {
		return true
	}
	for _, e := range endings {
		if base, ok := strings.CutSuffix(key, e); ok && isSaid(base, spoken) {
			return true
		}
	}
	return false
}

// alarms is the alarm list as it stands in the ladder.
func alarms() []string {
	src, err := os.ReadFile("../../scheduler/ladder/trouble.go")
	if err != nil {
		panic(err)
	}
	var words []string
	for _, m := range regexp.MustCompile(`\n\tAlarm\w+ += "([a-z-]+)"`).FindAllSubmatch(src, -1) {
		words = append(words, string(m[1]))
	}
	if len(words) < 2 {
		panic("no alarm list in trouble.go")
	}
	return words
}

func TestEveryWordOfTheAlarmListHasItsMend(t *testing.T) {
	for _, word := range alarms() {
		if !has("alarm." + word) {
			t.Errorf("no words for the alarm %q", word)
		}
	}
}

func TestEveryHazardPlantHasItsName(t *testing.T) {
	for _, h := range grass.Hazards {
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
		for _, lang := range language.Tags() {
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

func TestWhereTheHerdIsNotCattleATextSaysStock(t *testing.T) {
	held := []ladder.Facts{&ladder.PaddockFacts{Head: ladder.Head{Place: ladder.Place{Paddock: "lane", Name: "Cattle Lane", Say: "lane"}},
		Standing: ladder.Standing{Hold: &ladder.Hold{Plants: []string{"johnsongrass"}, Until: day(10, 15)}}}}
	back := []ladder.Facts{&ladder.OverdueFacts{PaddockFacts: ladder.PaddockFacts{Head: ladder.Head{Place: ladder.Place{Paddock: "lane", Name: "Lane", Say: "lane"}}}, BackIn: true, RestDay: 4}}
	if got := Text(Options{Stock: true}, ladder.Overdue, back); !strings.HasPrefix(got, "Stock back in Lane") {
		t.Errorf("at the beginning of a sentence: %q", got)
	}
	for _, c := range []struct {
		o           Options
		want, never string
	}{
		{Options{}, "Keep cattle off", "stock"}, {Options{Stock: true}, "Keep stock off", "cattle"},
		{Options{Lang: "es", Stock: true}, "ganado", "stock"},
	} {
		if got := Text(c.o, ladder.HoldBegins, held); !strings.Contains(got, c.want) || strings.Contains(got, c.never) || !strings.Contains(got, "Cattle Lane") {
			t.Errorf("%+v: %q", c.o, got)
		}
	}
}
