package wording

import (
	"maps"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/golang-sql/civil"

	"stubbled/notify/gsm"
	"stubbled/notify/language"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

const (
	longName  = "Wwwwwww Creek Bottom" // 20 septets, as long as the farm file lets a name be
	longAlias = "wcreekbottom"         // 12
)

// longest gives every name of a sample its greatest length, and every number a
// form that takes room.
func longest(s sample) sample {
	out := sample{name: s.name, kind: s.kind, facts: cleaned(s.facts)}
	for i := range out.facts {
		stretch(reflect.ValueOf(&out.facts[i]).Elem(), "", i)
		f := &out.facts[i]
		for id := range f.Names {
			f.Names[id] = longName
		}
	}
	return out
}

// stretch walks facts by the names of their fields.
func stretch(v reflect.Value, field string, n int) {
	numbered := func(name string) string { return name[:len(name)-1] + string(rune('A'+n%26)) }
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			stretch(v.Elem(), field, n)
		}
	case reflect.Slice:
		for i := range v.Len() {
			stretch(v.Index(i), field, n+i)
		}
	case reflect.Struct:
		if _, isDate := v.Interface().(civil.Date); isDate {
			if !v.Interface().(civil.Date).IsZero() {
				v.Set(reflect.ValueOf(day(9, 30))) // a Wednesday: 'mié 30 sep'
			}
			return
		}
		if f, isFact := v.Interface().(diary.Fact); isFact && f.ID == 0 {
			v.FieldByName("Day").Set(reflect.ValueOf(day(9, 30)))
			return
		}
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				stretch(v.Field(i), v.Type().Field(i).Name, n)
			}
		}
	case reflect.String:
		switch field {
		case "Name", "Farm", "MoveTo", "Missing", "Who", "Place", "ByWho", "To":
			if v.String() != "" && strings.ContainsFunc(v.String(), isLetter) {
				v.SetString(numbered(longName))
			}
		case "Say":
			if v.Type().Name() == "string" { // not the verdict
				v.SetString(numbered(longAlias))
			}
		}
	case reflect.Float64:
		if x := v.Float(); x > 1 && field != "HayLb" {
			v.SetFloat(float64(int(x)) + 0.5)
		}
	}
}

func isLetter(r rune) bool { return r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' }

// everywhere calls check with every sample in every language, in inches and in
// centimetres, as it is and with the longest names.
func everywhere(t *testing.T, check func(t *testing.T, o Options, s sample, text string)) {
	for _, lang := range language.Tags() {
		for _, cm := range []bool{false, true} {
			o := Options{Lang: lang, Centimetres: cm}
			for _, s := range samples() {
				for _, size := range []sample{s, longest(s)} {
					t.Run(lang+"/"+string(s.kind)+"/"+s.name, func(t *testing.T) {
						check(t, o, size, Text(o, size.kind, size.said()))
					})
				}
			}
		}
	}
}

// mayTakeTwo are the messages that may take two segments: status, whole-farm
// lists, bundles and cautions. It states the rule anew, apart from the program.
func mayTakeTwo(s sample) bool {
	f := s.facts[0]
	if len(f.Cautions) > 0 { // of where they are sent
		return true
	}
	switch s.kind {
	case ladder.AnswerStatus, ladder.AnswerHelp, ladder.AnswerAsked, ladder.FallAhead, ladder.MondayMail, ladder.LessonsMail, // lists
		ladder.FrostWarning, ladder.HazardAhead, ladder.HoldBegins, ladder.HoldAnimals, ladder.HoldUnsure, ladder.WaitAnimals, ladder.FrostAsk, ladder.EmergencyTold, ladder.PassedOn, ladder.HoldOver, ladder.StillShut, ladder.RestOver, ladder.KillingFreeze: // cautions
		return true
	case ladder.AnswerVerdict:
		return len(s.facts) > 1 || f.Hold != nil || len(f.Verdict.Cautions)+len(f.Verdict.Plants) > 0 || f.Verdict.Reason == season.Hurt || f.Verdict.Who != ""
	case ladder.AnswerRecorded:
		caution := f.Hold != nil || f.Wait != nil || f.Fescue || f.DroughtOver || f.FrostSeen != nil && f.FrostSeen.RestOver
		for _, r := range f.Recorded {
			caution = caution || slices.Contains([]diary.Kind{diary.Brown, diary.Clear, diary.Regrowth,
				diary.NoFrost, diary.Dry, diary.DryOver, diary.Plant, diary.Danger, diary.Horses, diary.Emergency}, r.Kind)
		}
		return caution || len(f.Recorded) > 1
	case ladder.AnswerAsk:
		return len(f.Recorded) > 0
	case ladder.AnswerUndo, ladder.TakenBack:
		return len(f.Undone) > 1 || len(f.Shuts) > 0
	case ladder.FrostSeen, ladder.FreezeSeen:
		return len(s.facts) > 1 || len(f.Shuts) > 1 || f.FrostSeen != nil && f.FrostSeen.RestOver
	}
	return len(s.facts) > 1
}

func TestEveryTextFitsItsSegmentsWithTheLongestNames(t *testing.T) {
	everywhere(t, func(t *testing.T, o Options, s sample, text string) {
		limit := 1
		if mayTakeTwo(s) {
			limit = 2
		}
		if n := gsm.Segments(text); n > limit || !gsm.Has(text) {
			t.Errorf("%d septets in %d segments, want %d: %q", gsm.Septets(text), n, limit, text)
		}
		v := newVoice(o)
		if _, whole := fit(roomFor(s.kind, s.said()), v.parts(s.kind, s.said())); !whole {
			t.Errorf("it had to be cut off: %q", text)
		}
	})
}

var (
	wrongPlural = regexp.MustCompile(`\b1 (days|plants|hours|tons|falls|messages|días|dias|matas|horas|toneladas|cabezas|otoños|mensajes)\b`)
	wrongOne    = regexp.MustCompile(`\b(0|[2-9]|\d\d+) (day|plant|hour|ton|fall|día|dia|mata|hora|tonelada|cabeza|otoño)\b`)
	command     = regexp.MustCompile(`(?:[Tt]ext|onteste|Answer)(?: each)?(?:,? like| uno por uno| así| asi)?: ([^.?!]+)`)
)

// optWords are the phone networks' own words for opting in and out, in both
// languages: the words that US carriers act on, from memory, and their Spanish kin.
var optWords = regexp.MustCompile(`(?i)\b(yes|end|quit|cancel|stopall|unsubscribe|revoke|optout|unstop|arret|remove|cancelar|baja|alto|fin|alta|salir)\b`)

func TestNoTextHasAFaultThatAPersonWouldSee(t *testing.T) {
	everywhere(t, func(t *testing.T, o Options, s sample, text string) {
		for fault, there := range map[string]bool{
			"two spaces":            strings.Contains(text, "  "),
			"a formatting error":    strings.Contains(text, "%!"),
			"an open variable":      strings.Contains(text, "${"),
			"no number":             regexp.MustCompile(`\b(NaN|Inf)\b`).MatchString(text),
			"an unwritten plural":   wrongPlural.MatchString(text) || wrongOne.MatchString(text),
			"a space before a stop": strings.Contains(text, " .") || strings.Contains(text, " ,"),
			"two stops":             strings.Contains(text, "..") || strings.Contains(text, ".,") || strings.Contains(text, ":."),
			"a day not set":         strings.Contains(text, newVoice(o).say("date.none")),
			"nothing at all":        strings.TrimSpace(text) == "" || text != strings.TrimSpace(text),
			"an opt-out word":       optWords.MatchString(text),
			"a decimal of nothing":  strings.Contains(text, ".0 "),
		} {
			if there {
				t.Errorf("%s: %q", fault, text)
			}
		}
	})
}

// The words STOP and START are said only by the messages about opting out.
func TestStopAndStartAreSaidOnlyWhereTheyAreMeant(t *testing.T) {
	everywhere(t, func(t *testing.T, _ Options, s sample, text string) {
		switch s.kind {
		case ladder.Enrolment, ladder.AnswerHelp, ladder.AnswerStop, ladder.AnswerStart:
			return
		}
		if regexp.MustCompile(`(?i)\b(stop|start)\b`).MatchString(text) {
			t.Errorf("%q", text)
		}
	})
}

// With animals in a wait begins with the order: nobody may read it as 'wait and see'.
func TestAnAnswerToAHeightBeginsWithItsWord(t *testing.T) {
	words := map[string]map[season.Action]string{
		"en": {season.TurnIn: "GO ", season.Stay: "GO ", season.KeepShut: "WAIT ", season.ReadIt: "WAIT ", season.TakeOff: "WAIT, TAKE THEM OFF "},
		"es": {season.TurnIn: "META el ganado en ", season.Stay: "BIEN ", season.KeepShut: "ESPERE, ", season.ReadIt: "ESPERE ", season.TakeOff: "SAQUE el ganado de "},
	}
	everywhere(t, func(t *testing.T, o Options, s sample, text string) {
		if s.kind != ladder.AnswerVerdict {
			return
		}
		if len(s.facts) > 1 { // the order is another: each line begins with a word
			for _, line := range strings.Split(text, "\n") {
				if !slices.ContainsFunc(slices.Collect(maps.Values(words[o.Lang])), func(w string) bool { return strings.HasPrefix(line, w) }) {
					t.Errorf("want a word first: %q", line)
				}
			}
			return
		}
		d := s.facts[0].Verdict
		if head := words[o.Lang][d.Action] + newVoice(o).paddock(s.facts[0].place()); d.Say != "" && !strings.HasPrefix(text, head) {
			t.Errorf("want %q first: %q", head, text)
		}
	})
}

// What to do and the paddock come before any date; how to answer comes last.
func TestATextSaysWhatToDoThenWhereThenWhenAndLastHowToAnswer(t *testing.T) {
	dated := regexp.MustCompile(`\b(Sep|Aug|Oct|Nov|sep|ago|oct|nov)\b`)
	everywhere(t, func(t *testing.T, o Options, s sample, text string) {
		if len(s.facts) != 1 || strings.Contains(text, "\n") {
			return
		}
		v := newVoice(o)
		if name := v.paddock(s.facts[0].place()); s.facts[0].Name != "" && s.facts[0].WasCutoff.IsZero() && !s.kind.Answer() && s.kind != ladder.Alarm {
			at, date := strings.Index(text, name), dated.FindStringIndex(text)
			if at < 0 && len(s.facts[0].Shuts) == 0 {
				t.Errorf("the paddock is not named: %q", text)
			}
			if date != nil && at > date[0] {
				t.Errorf("a date comes before the paddock: %q", text)
			}
		}
		marks := command.FindAllStringSubmatchIndex(text, -1)
		if len(marks) == 0 {
			return
		}
		last := marks[len(marks)-1]
		if rest := strings.TrimSpace(text[last[1]:]); rest != "" && rest != "." && s.kind != ladder.AnswerHelp {
			t.Errorf("something follows how to answer: %q in %q", rest, text)
		}
		if len(marks) > 1 && s.kind != ladder.AnswerHelp {
			t.Errorf("two ways to answer: %q", text)
		}
	})
}

// A message that ends a rest or a hold promises nothing and defers.
func TestWhatEndsARestOrAHoldNeverPromisesSafety(t *testing.T) {
	calendar := map[string]string{"en": "calendar only", "es": "lo por calendario"}
	vet := map[string][]string{"en": {"vet", "extension office"}, "es": {"veterinario", "extension"}}
	everywhere(t, func(t *testing.T, o Options, s sample, text string) {
		low := strings.ToLower(text)
		for _, promise := range []string{"safe", "seguro para", "sin peligro", "harmless"} {
			if strings.Contains(low, promise) {
				t.Errorf("it promises: %q", text)
			}
		}
		switch s.kind {
		case ladder.HoldOver, ladder.RestOver, ladder.KillingFreeze:
			if !strings.Contains(text, calendar[o.Lang]) {
				t.Errorf("it does not say that it goes by the calendar only: %q", text)
			}
		case ladder.HoldBegins, ladder.HoldAnimals, ladder.HoldUnsure, ladder.WaitAnimals:
		default:
			return
		}
		for _, word := range vet[o.Lang] {
			if !strings.Contains(low, word) {
				t.Errorf("it does not send to the %s: %q", word, text)
			}
		}
	})
}

// With three paddocks or more still too long, those that fit are named, the
// others counted, and what to do is still said.
func TestManyPaddocksShortenGracefully(t *testing.T) {
	action := map[string]map[ladder.Kind]string{
		"en": {ladder.ShutToday: "Take them off", ladder.Overdue: "Take them off", ladder.HeadsUp: "Walk ", ladder.RestOver: "Walk ", ladder.FrostSeen: "Keep shut", ladder.FrostWarning: "OFF "},
		"es": {ladder.ShutToday: "Saque el ganado", ladder.Overdue: "Saquelo", ladder.HeadsUp: "Mida ", ladder.RestOver: "Revise ", ladder.FrostSeen: "Deje cerrados", ladder.FrostWarning: "SAQUE "},
	}
	for _, lang := range language.Tags() {
		for kind, does := range action[lang] {
			for _, n := range []int{3, 8, 15, 40} {
				s := longest(sample{kind: kind, facts: many(n, restDay(3), hold(day(11, 10), "johnsongrass"),
					cold(ladder.Frost{Day: day(9, 30), MinC: ptr(1.1), Place: "Quail Fork"}))})
				text := Text(Options{Lang: lang}, kind, s.said())
				if gsm.Segments(text) > 2 || !strings.Contains(text, does) {
					t.Errorf("%s, %d paddocks: %d septets: %q", kind, n, gsm.Septets(text), text)
				}
				if n >= 15 && !regexp.MustCompile(`\+\d+ (more|mas)`).MatchString(text) {
					t.Errorf("%s, %d paddocks: those left out are not counted: %q", kind, n, text)
				}
			}
		}
	}
}

// A text of 306 septets is three segments where a bracket would be split
// between the first two.
func TestATextWithABracketAtTheSeamIsShortenedByOneMore(t *testing.T) {
	seam := strings.Repeat("a", 152) + "[" + strings.Repeat("a", 140)
	text, whole := fit(gsm.TwoSegments, []part{must(seam), may(rankRemark, "or so it is.", "so it is.")})
	if gsm.Segments(text) > 2 || !whole {
		t.Errorf("%d septets in %d segments: %q", gsm.Septets(text), gsm.Segments(text), text)
	}
}

// What does not fit into one text goes into the next: no list about poison ends in
// '+3 more'.
func TestAListAboutPoisonIsNeverCut(t *testing.T) {
	for _, lang := range language.Tags() {
		for _, kind := range []ladder.Kind{ladder.HoldBegins, ladder.HoldAnimals, ladder.HoldUnsure, ladder.WaitAnimals, ladder.HoldOver, ladder.StillShut} {
			neverCut(t, lang, kind, 14, "johnsongrass")
			neverCut(t, lang, kind, 20, "johnsongrass", "indiangrass", "sorghum-sudangrass", "alfalfa")
		}
	}
}

// neverCut looks at the texts in which forty paddocks with some plants are named.
func neverCut(t *testing.T, lang string, kind ladder.Kind, most int, plants ...string) {
	t.Helper()
	var left []ladder.Facts
	for i, f := range many(40, hold(day(11, 10), plants...), notKnown) {
		of := plants[i%len(plants) : i%len(plants)+1]
		f.Hold, f.Wait = &ladder.Hold{Plants: of, Until: f.Hold.Until}, &ladder.Wait{Why: f.Wait.Why, Plants: of}
		f.Name = longName[:18] + string(rune('A'+i/26)) + string(rune('A'+i%26))
		left = append(left, sample{kind: kind, facts: []flat{f}}.said()...)
	}
	texts := 0
	for o := (Options{Lang: lang}); len(left) > 0; texts++ {
		n := Fit(o, kind, left)
		text := Text(o, kind, left[:n])
		for _, f := range left[:n] {
			if !strings.Contains(text, f.About().Name) {
				t.Fatalf("%s %s: %s is not named: %q", lang, kind, f.About().Name, text)
			}
		}
		if gsm.Segments(text) > 2 {
			t.Fatalf("%s %s: %d segments: %q", lang, kind, gsm.Segments(text), text)
		}
		left = left[n:]
	}
	if texts < 4 || texts > most {
		t.Errorf("%s %s: 40 paddocks in %d texts", lang, kind, texts)
	}
}
