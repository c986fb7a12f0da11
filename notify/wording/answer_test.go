package wording

import (
	"reflect"
	"strings"
	"testing"

	"stubbled/notify/gsm"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// both is an answer to a text with heights of two paddocks, a move and a name
// that nobody knows.
func both() flat {
	stay := season.Verdict{Say: season.Go, Action: season.Stay, Reason: season.GrazedEnough, Days: ptr(5.4), Floor: 8, OutBy: day(8, 28)}
	off := season.Verdict{Say: season.Wait, Action: season.TakeOff, Reason: season.UnderLeave, Floor: 6, Lacks: 1}
	f := hill(height(5, 20, day(8, 22)), verdict(off))
	f.And = []flatPart{
		{Kind: ladder.AnswerVerdict, Facts: creek(height(11, 20, day(8, 22)), verdict(stay))},
		{Kind: ladder.AnswerRecorded, Facts: north40(recordedFacts(diary.Fact{Kind: diary.Off, Paddock: "north40", Day: day(8, 22)}))},
		{Kind: ladder.AnswerAsk, Facts: flat{Question: &diary.Question{Why: diary.UnknownPaddock, Word: "valley"}, Names: names()}},
	}
	return f
}

func TestAnAnswerSaysAllItsPartsTheMostPressingFirst(t *testing.T) {
	for lang, wants := range map[string][]string{
		"en": {"WAIT, TAKE THEM OFF Hill.", "GO Creek Bottom: stay.", "Noted: North 40 empty, Aug 22.", "No paddock here is called valley."},
		"es": {"SAQUE el ganado de Hill.", "BIEN Creek Bottom: deje ahi el ganado.", "Anotado: North 40 vacio, 22 ago.", "Aqui no hay potrero que se llame valley."},
	} {
		text := Answer(Options{Lang: lang}, ladder.AnswerVerdict, stored(ladder.AnswerVerdict, both())[0])
		if gsm.Segments(text) > 2 || !gsm.Has(text) {
			t.Errorf("%d septets: %q", gsm.Septets(text), text)
		}
		at := -1
		for _, want := range wants {
			i := strings.Index(text, want)
			if i < at || i < 0 {
				t.Errorf("want %q in its place: %q", want, text)
			}
			at = i
		}
		_, mail, _ := Mail(Options{Lang: "en"}, ladder.AnswerVerdict, stored(ladder.AnswerVerdict, both()))
		for _, want := range []string{"TAKE THEM OFF Hill", "GO Creek Bottom", "North 40", "valley"} {
			if !strings.Contains(mail, want) {
				t.Errorf("the mail leaves out %q:\n%s", want, mail)
			}
		}
	}
}

func TestAnAnswerOfOnePartIsThatPart(t *testing.T) {
	for _, s := range samples() {
		if s.kind.Answer() && len(s.facts) == 1 {
			if got, want := Answer(Options{}, s.kind, s.said()[0]), Text(Options{}, s.kind, s.said()); got != want {
				t.Errorf("%s: got %q, want %q", s.name, got, want)
			}
		}
	}
}

func TestAQuestionIsAskedAloneAsItIsInAnAnswer(t *testing.T) {
	q := diary.Question{Why: diary.WhichPaddock, Word: "jill", Choices: choice("Hill", "Mill")}
	if got, want := Ask(Options{}, q, names()), "Which paddock is jill? a Hill, b Mill? Text the name or the letter"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestAMessageThatMayHaveGoneBeforeIsMarked(t *testing.T) {
	if got, want := MayRepeat(Options{Lang: "es"}, "Cierre hoy Hill"), "Puede ser repetido: Cierre hoy Hill"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	full := strings.Repeat("a", gsm.TwoSegments)
	if got, want := MayRepeat(Options{}, full), "May be a repeat: "+full; got != want {
		t.Errorf("two full segments are repeated as %q", got)
	}
}

// Facts wait in the outbox as JSON: what is said must not depend on it.
func TestFactsThatWaitedAsJSONSayTheSame(t *testing.T) {
	for _, s := range append(samples(), sample{"parts", ladder.AnswerVerdict, []flat{both()}}) {
		said := s.said()
		back := make([]ladder.Facts, len(said))
		for i, f := range said {
			data, err := ladder.Notice{Kind: s.kind, Facts: f}.Encode()
			if err != nil {
				t.Fatal(err)
			}
			n := ladder.Notice{Kind: s.kind}
			if err := n.Decode(data); err != nil {
				t.Fatal(err)
			}
			back[i] = n.Facts
		}
		if !reflect.DeepEqual(said, back) {
			t.Errorf("%s: stored and read it is another", s.name)
		}
		if got, want := Text(Options{}, s.kind, back), Text(Options{}, s.kind, said); got != want {
			t.Errorf("%s: got %q, want %q", s.name, got, want)
		}
	}
}

func TestFactsAreNotChangedByBeingSaid(t *testing.T) {
	for _, s := range samples() {
		said := s.said()
		Text(Options{}, s.kind, said)
		Mail(Options{Lang: "es"}, s.kind, said)
		if !reflect.DeepEqual(said, s.said()) {
			t.Errorf("%s: changed", s.name)
		}
	}
}

// Every word of the trade's tables has its text: a new kind, reason or question
// fails here until it is worded.
func TestEveryKindReasonAndQuestionIsInTheCatalogueOfSamples(t *testing.T) {
	kinds, reasons, whys := map[ladder.Kind]bool{}, map[season.Reason]bool{}, map[diary.Why]bool{}
	facts := map[diary.Kind]bool{}
	for _, s := range samples() {
		kinds[s.kind] = true
		for _, f := range s.facts {
			if f.Verdict != nil {
				reasons[f.Verdict.Reason] = true
			}
			if f.Question != nil {
				whys[f.Question.Why] = true
			}
			for _, r := range f.Recorded {
				facts[r.Kind] = true
			}
		}
	}
	for name := range constants(t, "../../scheduler/ladder", "Kind") {
		if !kinds[ladder.Kind(name)] {
			t.Errorf("no sample of the kind %q", name)
		}
		if speakers[ladder.Kind(name)].say == nil {
			t.Errorf("nothing speaks for the kind %q", name)
		}
	}
	for name := range constants(t, "../../scheduler/season", "Reason") {
		if !reasons[season.Reason(name)] {
			t.Errorf("no sample of the reason %q", name)
		}
	}
	for name := range constants(t, "../../scheduler/diary", "Why") {
		if !whys[diary.Why(name)] {
			t.Errorf("no sample of the question %q", name)
		}
	}
	for name := range constants(t, "../../scheduler/diary", "Kind") {
		if k := diary.Kind(name); k.Recorded() && k != diary.Void && !facts[k] {
			t.Errorf("no sample of the fact %q", name)
		}
	}
}

// Ask is the question asked back instead of guessing. names gives paddock and herd
// ids as people say them.
func Ask(o Options, q diary.Question, names map[string]string) string {
	v := newVoice(o)
	return v.text(ladder.AnswerAsk, []ladder.Facts{cleaned(&ladder.QuestionFacts{Question: &q, Answered: ladder.Answered{Names: names}})})
}
