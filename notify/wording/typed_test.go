package wording

import (
	"testing"

	"stubbled/scheduler/diary"
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
