package wording

import (
	"strings"
	"testing"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

func TestAFactIsTypedTheWayAThumbTypesIt(t *testing.T) {
	for _, c := range []struct {
		name string
		o    Options
		f    diary.Fact
		want string
	}{
		{"a reading", Options{}, diary.Fact{Kind: diary.Reading, Paddock: "creek", Heights: []float64{14, 8.5, 6}}, "creek 14 8.5 6"},
		{"a reading in centimetres", Options{Centimetres: true}, diary.Fact{Kind: diary.Reading, Paddock: "creek", Heights: []float64{14, 8}}, "creek 36 20"},
		{"off", Options{}, diary.Fact{Kind: diary.Off, Paddock: "creek"}, "off creek"},
		{"off in Spanish", Options{Lang: "es"}, diary.Fact{Kind: diary.Off, Paddock: "creek"}, "fuera creek"},
		{"frost on the farm", Options{}, diary.Fact{Kind: diary.Frost}, "frost"},
		{"undo in Spanish", Options{Lang: "es"}, diary.Fact{Kind: diary.Undo}, "deshacer"},
	} {
		if got := Typed(c.o, c.f, "Creek"); got != c.want {
			t.Errorf("%s: got %q, want %q", c.name, got, c.want)
		}
	}
}

// Typed is a fact as somebody types it in a language: what a text may ask for
// is understood when it comes back. name is the paddock's or herd's name or
// alias; heights are in the farm's unit.
func Typed(o Options, f diary.Fact, name string) string {
	v := newVoice(o)
	at := ladder.Place{Say: name}
	if f.Kind == diary.Reading {
		hs := make([]string, len(f.Heights))
		for i, h := range f.Heights {
			hs[i] = v.bare(h)
		}
		return v.say("command.with", "command", v.typed(at), "with", strings.Join(hs, " "))
	}
	if f.Paddock == "" {
		return v.say("command." + string(f.Kind))
	}
	return v.command(f.Kind, at)
}

// Command is the word that a kind of fact is texted with: off, fuera. Empty
// where there is none.
func Command(lang string, kind diary.Kind) string {
	if key := "command." + string(kind); has(key) {
		return newVoice(Options{Lang: lang}).say(key)
	}
	return ""
}
