package wording

import (
	"encoding/json"
	"errors"
	"math"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/golang-sql/civil"
	"pgregory.net/rapid"

	"stubbled/notify/gsm"
	"stubbled/notify/language"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

// anyFacts are facts in which everything may be wrong at once: no numbers, days
// of no calendar, names of any length in any script, words nobody knows.
func anyFacts(t *rapid.T, kind ladder.Kind, kinds []string, depth int) ladder.Facts {
	f := kind.NewFacts()
	fill(t, reflect.ValueOf(f).Elem(), "", kinds, depth)
	return f
}

var (
	anyNumber = []float64{0, 0, 1, 5, 7.97, 8, 14, 120, -3, 0.04, 1e9, 1e300, -1e300, math.NaN(), math.Inf(1), math.Inf(-1)}
	anyWord   = []string{"", "", "Creek Bottom", "cb", "creek", longName, longAlias, strings.Repeat("Wiesengrund ", 40), "Путь на юг", "🐄🐄",
		"a\x00b\x1bc", "{}[]^~|\\€{}[]^~|\\€", "${v0} $", "line\nbreak", "\xff\xfe", "¿Ñandú? ÁÍÓÚ", "  spaces   inside  ", "<i>x</i>&amp;"}
)

func fill(t *rapid.T, v reflect.Value, field string, kinds []string, depth int) {
	switch v.Kind() {
	case reflect.Pointer:
		if rapid.IntRange(0, 2).Draw(t, field) > 0 && depth < 5 {
			v.Set(reflect.New(v.Type().Elem()))
			fill(t, v.Elem(), field, kinds, depth+1)
		}
	case reflect.Slice:
		if depth > 4 {
			return
		}
		n := rapid.IntRange(0, 3).Draw(t, field)
		v.Set(reflect.MakeSlice(v.Type(), n, n))
		for i := range n {
			fill(t, v.Index(i), field, kinds, depth+1)
		}
	case reflect.Map:
		v.Set(reflect.ValueOf(map[string]string{"creek": rapid.SampledFrom(anyWord).Draw(t, field)}))
	case reflect.Struct:
		fillStruct(t, v, kinds, depth)
	case reflect.String:
		v.SetString(anyString(t, v.Type(), field, kinds))
	case reflect.Float64:
		v.SetFloat(rapid.SampledFrom(anyNumber).Draw(t, field))
	case reflect.Int, reflect.Int64:
		v.SetInt(int64(rapid.SampledFrom([]int{0, 1, 2, 3, 10, 45, -4, math.MaxInt32, math.MinInt32}).Draw(t, field)))
	case reflect.Bool:
		v.SetBool(rapid.Bool().Draw(t, field))
	}
}

func fillStruct(t *rapid.T, v reflect.Value, kinds []string, depth int) {
	switch v.Interface().(type) {
	case civil.Date:
		v.Set(reflect.ValueOf(rapid.SampledFrom([]civil.Date{{}, day(9, 1), day(9, 30), day(2, 29), {Year: 2026, Month: 13, Day: 45}, {Year: -1, Month: 1, Day: 1}}).Draw(t, "date")))
	case time.Time:
	case ladder.Part:
		kind := ladder.Kind(rapid.SampledFrom(kinds).Draw(t, "kind"))
		v.Set(reflect.ValueOf(ladder.Part{Kind: kind, Facts: anyFacts(t, ladder.Kind(rapid.SampledFrom(kinds).Draw(t, "facts")), kinds, depth+1)}))
	default:
		for i := range v.NumField() {
			fill(t, v.Field(i), v.Type().Field(i).Name, kinds, depth+1)
		}
	}
}

// anyString is mostly a word that the field may have, sometimes anything.
func anyString(t *rapid.T, typ reflect.Type, field string, kinds []string) string {
	known := map[string][]string{
		"Say": {"GO", "WAIT", ""}, "Action": {"go", "stay", "keep_shut", "take_off", "read"},
		"Phase": {"open", "rest", "dormant"}, "Wants": {"read", "off", "keep-shut", "brown", "nothing"}, "When": {"cutoff", "mid-rest", "end", ""},
		"Kind": kinds, "Why": {"which-paddock", "range", "negation"}, "Alarm": alarms(),
		"Reason": {"hold", "rest", "dormant", "fall use", "old reading", "under the height to leave", "less than three days"},
	}
	if words := known[field]; words != nil && typ.Name() != "string" || field == "Wants" || field == "When" || field == "Alarm" {
		if rapid.IntRange(0, 9).Draw(t, field) > 0 {
			return rapid.SampledFrom(words).Draw(t, field)
		}
	}
	if rapid.IntRange(0, 3).Draw(t, field) == 0 {
		return strings.ReplaceAll(rapid.String().Draw(t, field), "%", "")
	}
	return rapid.SampledFrom(anyWord).Draw(t, field)
}

func allKinds(t *testing.T) []string {
	var kinds []string
	for k := range constants(t, "../../scheduler/ladder", "Kind") {
		kinds = append(kinds, k)
	}
	for k := range constants(t, "../../scheduler/diary", "Kind") {
		kinds = append(kinds, k)
	}
	slices.Sort(kinds)
	return kinds
}

func TestWhateverTheFactsATextCanBeSentAndAMailCanBeRead(t *testing.T) {
	kinds := allKinds(t)
	rapid.Check(t, func(t *rapid.T) {
		kind := ladder.Kind(rapid.SampledFrom(kinds).Draw(t, "kind"))
		o := Options{Lang: rapid.SampledFrom([]string{"en", "es", "xx"}).Draw(t, "lang"), Centimetres: rapid.Bool().Draw(t, "cm"),
			Pictures: []string{Season, "season-creek"}}
		facts := make([]ladder.Facts, rapid.IntRange(0, 5).Draw(t, "n"))
		for i := range facts {
			facts[i] = anyFacts(t, kind, kinds, 0)
		}
		soundText(t, Text(o, kind, facts))
		if len(facts) > 0 {
			soundText(t, Answer(o, kind, facts[0]))
		}
		subject, text, html := Mail(o, kind, facts)
		soundMail(t, subject, text, html)
	})
}

type failing interface {
	Fatalf(format string, args ...any)
}

var noNumber = regexp.MustCompile(`\b(NaN|[+-]Inf)\b`)

func soundText(t failing, text string) {
	switch {
	case !gsm.Has(text):
		t.Fatalf("not in the alphabet: %q", text)
	case gsm.Segments(text) > 2:
		t.Fatalf("%d septets: %q", gsm.Septets(text), text)
	case strings.Contains(text, "%!") || noNumber.MatchString(text):
		t.Fatalf("a number that is none: %q", text)
	case strings.TrimSpace(text) == "":
		t.Fatalf("nothing is said")
	}
}

func soundMail(t failing, subject, text, html string) {
	for _, s := range []string{subject, text, html} {
		if !utf8.ValidString(s) || s == "" || strings.Contains(s, "%!") || noNumber.MatchString(s) {
			t.Fatalf("a mail that cannot be read: %q", s)
		}
	}
	if strings.ContainsAny(subject, "\r\n") {
		t.Fatalf("a subject of two lines: %q", subject)
	}
	if !strings.HasSuffix(html, "</html>\n") || strings.Contains(html, "<i>") {
		t.Fatalf("the HTML is broken: %q", html)
	}
}

// FuzzTextOfStoredFacts reads facts as the outbox keeps them.
func FuzzTextOfStoredFacts(f *testing.F) {
	for _, s := range samples() {
		data, err := json.Marshal(s.facts)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(s.kind), data, false)
	}
	f.Fuzz(func(t *testing.T, kind string, data []byte, cm bool) {
		facts, err := read(ladder.Kind(kind), data)
		if err != nil || strings.Contains(string(data), "%") || noNumber.Match(data) || strings.Contains(string(data), "\\u0025") {
			return
		}
		if strings.Contains(kind, "%") {
			return
		}
		for _, lang := range language.Tags() {
			o := Options{Lang: lang, Centimetres: cm}
			soundText(t, Text(o, ladder.Kind(kind), facts))
			subject, text, html := Mail(o, ladder.Kind(kind), facts)
			soundMail(t, subject, text, html)
		}
	})
}

func read(kind ladder.Kind, data []byte) ([]ladder.Facts, error) {
	var raw []json.RawMessage
	err := json.Unmarshal(data, &raw)
	facts := make([]ladder.Facts, len(raw))
	for i, one := range raw {
		n := ladder.Notice{Kind: kind}
		err = errors.Join(err, n.Decode(string(one)))
		facts[i] = n.Facts
	}
	return facts, err
}

// FuzzQuestion asks back about anything.
func FuzzQuestion(f *testing.F) {
	f.Add("which-paddock", "9 8", "Creek Bottom", "Hill")
	f.Add("range", "8-10", "8", "10")
	f.Add("nonsense", strings.Repeat("x", 5000), "", "\x00")
	f.Fuzz(func(t *testing.T, why, word, a, b string) {
		if strings.Contains(why+word+a+b, "%") {
			return
		}
		q := diary.Question{Why: diary.Why(why), Word: word, Choices: choice(a, b)}
		for _, lang := range language.Tags() {
			soundText(t, Ask(Options{Lang: lang}, q, map[string]string{"creek": a}))
		}
	})
}
