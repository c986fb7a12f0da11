package ladder

import (
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
)

// filled puts something in every field, so that one that hides another is seen.
func filled(v reflect.Value, depth int) {
	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		filled(v.Elem(), depth)
	case reflect.Slice:
		if depth < 8 {
			v.Set(reflect.MakeSlice(v.Type(), 1, 1))
			filled(v.Index(0), depth+1)
		}
	case reflect.Map:
		v.Set(reflect.ValueOf(map[string]string{"creek": "Creek"}))
	case reflect.Struct:
		switch v.Interface().(type) {
		case civil.Date:
			v.Set(reflect.ValueOf(civil.Date{Year: 2026, Month: 9, Day: 1}))
		case time.Time:
			v.Set(reflect.ValueOf(time.Date(2026, 9, 1, 6, 30, 0, 0, time.UTC)))
		case Part:
			v.Set(reflect.ValueOf(Part{Kind: AnswerHelp, Facts: &AnswerFacts{Alarm: "disk"}}))
		default:
			for i := range v.NumField() {
				filled(v.Field(i), depth+1)
			}
		}
	case reflect.String:
		v.SetString("x")
	case reflect.Float64:
		v.SetFloat(8.5)
	case reflect.Int, reflect.Int64:
		v.SetInt(7)
	case reflect.Bool:
		v.SetBool(true)
	}
}

func TestTheFactsOfEveryKindComeBackWholeFromTheOutbox(t *testing.T) {
	for kind := range kinds {
		n := Notice{Kind: kind, Facts: kind.NewFacts()}
		filled(reflect.ValueOf(n.Facts).Elem(), 0)
		data, err := n.Encode()
		if err != nil {
			t.Fatalf("%s: %v", kind, err)
		}
		back := Notice{Kind: kind}
		if err := back.Decode(data); err != nil || !reflect.DeepEqual(back.Facts, n.Facts) {
			t.Errorf("%s: %v: stored as %s", kind, err, data)
		}
		if answer, ok := n.Facts.(Answer); ok != kind.Answer() || ok && len(answer.Reply().And) != 1 {
			t.Errorf("%s: an answer has parts, and nothing else", kind)
		}
	}
}

func TestAKindThatIsNotKnownIsReadAsThatOfAPaddock(t *testing.T) {
	n := Notice{Kind: "of a later version"}
	if err := n.Decode(`{"paddock":"creek","leave":8,"news":1}`); err != nil || OnPaddock(n.Facts).Leave != 8 || n.About().Paddock != "creek" {
		t.Errorf("%v: %+v", err, n.Facts)
	}
}

// A kind is its row, the file that decides when it is due and the file with its
// words; its phrases are data.
func TestAKindStandsInNoMoreThanThreeFilesBesideItsPhrases(t *testing.T) {
	var in []string
	err := filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		text, err := os.ReadFile(path)
		if regexp.MustCompile(`\bFallUseAsk\b`).Match(text) {
			in = append(in, filepath.ToSlash(strings.TrimPrefix(filepath.ToSlash(path), "../../")))
		}
		return err
	})
	want := []string{"notify/wording/fall.go", "scheduler/ladder/falluse.go", "scheduler/ladder/kinds.go"}
	if err != nil || !slices.Equal(in, want) {
		t.Errorf("%v: a kind stands in %v, want %v as DEVELOPERS.md has it", err, in, want)
	}
}

// Of what was said only what asks something back is read again: no such question may
// be overlooked, wherever it stands in the answer.
func TestWhatAsksBackIsSeenWithoutItsFactsBeingRead(t *testing.T) {
	q := &diary.Question{Why: diary.Unclear}
	told := Answered{Recorded: []diary.Fact{{Kind: diary.Note, Words: `the "question": where is the bull`}}}
	for name, tt := range map[string]struct {
		facts Facts
		asks  bool
	}{
		"a question":                   {&QuestionFacts{Question: q}, true},
		"a question after a verdict":   {&VerdictFacts{Answered: Answered{And: []Part{{AnswerAsk, &QuestionFacts{Question: q}}}}}, true},
		"whether it is a drought":      {&DroughtFacts{Question: q}, true},
		"a verdict":                    {&VerdictFacts{}, false},
		"words that speak of one":      {&RecordedFacts{Answered: told}, false},
		"a drought that nobody doubts": {&DroughtFacts{}, false},
	} {
		n := Notice{Kind: AnswerVerdict, Facts: tt.facts}
		data, err := n.Encode()
		if err != nil {
			t.Fatal(err)
		}
		if MayAsk(data) != tt.asks || (n.Asked() != nil) != tt.asks {
			t.Errorf("%s: %t in %s", name, MayAsk(data), data)
		}
	}
}

func TestARungThatWantsAHeightIsSeenWithoutItsFactsBeingRead(t *testing.T) {
	for _, read := range []bool{true, false} {
		n := Notice{Kind: KeepShut, Facts: &RungFacts{Read: read}}
		data, err := n.Encode()
		if err != nil {
			t.Fatal(err)
		}
		if MayWantHeight(data) != read || (n.Asks() != "") != read {
			t.Errorf("wants a height: %t, asks for %q in %s", MayWantHeight(data), n.Asks(), data)
		}
	}
}
