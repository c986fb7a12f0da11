package reply

import (
	"slices"
	"strings"
	"testing"

	"stubbled/scheduler/diary"
)

// What empties a paddock, lifts a hold, ends a rest or stops the messages is confirmed
// by its letter or by the same statement again; what is said besides is a nod or news.
func TestANodLoosensNothing(t *testing.T) {
	r, ana := quail()
	for _, loose := range []diary.Fact{
		{Kind: diary.Off, Paddock: "hill", Words: "cows are off hill i think"}, {Kind: diary.Brown, Paddock: "hill"},
		{Kind: diary.NoFrost}, {Kind: diary.DryOver}, {Kind: diary.Stop},
	} {
		waits := Asked{Choices: []diary.Choice{{Facts: []diary.Fact{loose}}}}
		for _, text := range []string{"ok", "yes", "hill looks good", "ok will check", "hill", "sounds good", "si", "hill is fine, thanks"} {
			if h := r.Read(text, ana, waits, testDay); slices.ContainsFunc(h.Facts, func(f diary.Fact) bool { return f.Kind == loose.Kind }) {
				t.Errorf("%q was taken for a yes to %s: %s", text, loose.Kind, show(h))
			}
		}
		for _, text := range []string{"a", "a.", "Cows are off Hill I think"} {
			h := r.Read(text, ana, waits, testDay)
			if yes := len(h.Facts) == 1 && h.Facts[0].Kind == loose.Kind; yes != (text[0] == 'a' || loose.Words != "") {
				t.Errorf("%q, asked about %s: %s", text, loose.Kind, show(h))
			}
		}
	}
	creek := diary.Choice{Facts: []diary.Fact{{Kind: diary.Reading, Paddock: "creek", Heights: []float64{9}}}}
	if h := r.Read("yes", ana, Asked{Choices: []diary.Choice{creek}}, testDay); show(h) != "[reading creek [9]]" && len(h.Facts) != 1 {
		t.Errorf("a yes to a height: %s", show(h))
	}
	if h := r.Read("hill looks good", ana, creekOrHill(), testDay); len(h.Facts) > 0 {
		t.Errorf("praise of Hill chose it as the one that is empty: %s", show(h))
	}
}

func TestAnEmergencyIsPlacedByTheNameOfAPaddock(t *testing.T) {
	r, ana := quail()
	for text, want := range map[string]string{
		"hill": "[emergency hill]", "in hill": "[emergency hill]", "its in hill": "[emergency hill]", "at the hill pasture": "[emergency hill]",
		"en hill": "[emergency hill]", "hill 9": "[reading hill [9]]", "off hill": "[off hill]", "hill or creek": "ask",
	} {
		if got := strings.TrimSpace(show(r.Read(text, ana, Asked{Emergency: true}, testDay))); !strings.HasPrefix(got, want) {
			t.Errorf("%q: got %s, want %s", text, got, want)
		}
	}
	if h := r.Read("in hill", ana, Asked{}, testDay); len(h.Facts) > 0 {
		t.Errorf("nobody told of an emergency: %s", show(h))
	}
}

// The words that the texts themselves give for putting animals in, on a farm with one
// herd and on one with none on file.
func TestTheWordForAnimalsInIsHeardWhereItLeavesOneHerdToMean(t *testing.T) {
	farm := testFarms["quail"]
	for _, c := range []struct {
		herds []Herd
		who   string
		text  string
		want  string
	}{
		{nil, "Ana", "on hill", "[on hill]"},
		{nil, "Luis", "dentro hill", "[on hill]"},
		{farm.herds[:1], "Ana", "on hill", "[on hill cows]"},
		{farm.herds[:1], "Luis", "dentro hill", "[on hill cows]"},
		{farm.herds, "Ana", "on hill", "ask"},
		{farm.herds, "Luis", "dentro hill", "ask"},
	} {
		h := New(farm.places, c.herds, farm.units).Read(c.text, farm.people[c.who], Asked{}, testDay)
		if got := strings.TrimSpace(show(h)); !strings.HasPrefix(got, c.want) {
			t.Errorf("%d herds, %q: got %s, want %s", len(c.herds), c.text, got, c.want)
		}
	}
}

// A paddock may be called as a plant is, or as people call it: Johnson, Clover. Its name
// is the paddock, and tells of no plant.
func TestANameOfAPlantIsThePaddockThatIsCalledSo(t *testing.T) {
	farm := testFarms["quail"]
	r := New([]Place{{ID: "john", Name: "Johnson"}, {ID: "cl", Name: "Clover"}}, farm.herds[:1], farm.units)
	for text, want := range map[string]string{
		"johnson 12": "[reading john [12]]", "clover 14 12 13": "[reading cl [14 12 13]]", "on johnson": "[on john cows]", "off clover": "[off cl cows]",
		"dead cow in johnson": "[emergency john]", "regrowth johnson": "[regrowth john]", "johnsongrass in clover": "[plant cl]",
	} {
		if got := strings.TrimSpace(show(r.Read(text, farm.people["Ana"], Asked{}, testDay))); got != want {
			t.Errorf("%q: got %s, want %s", text, got, want)
		}
	}
}

// A word of small talk that begins as a paddock is called is that paddock behind 'on' or
// 'in', whatever was asked about: 'on home now' is no way home.
func TestAPaddockCalledHomeIsNoSmallTalk(t *testing.T) {
	farm := testFarms["quail"]
	r := New([]Place{{ID: "home", Name: "Home Fescue"}, {ID: "gama", Name: "Gama"}}, farm.herds[:1], farm.units)
	asked := Asked{Paddocks: []string{"gama"}}
	for text, want := range map[string]string{
		"cows are on home now": "[on home cows]", "cows in home now": "[on home cows]", "off gama, home now": "[off gama cows]",
	} {
		if got := strings.TrimSpace(show(r.Read(text, farm.people["Ana"], asked, testDay))); got != want {
			t.Errorf("%q: got %s, want %s", text, got, want)
		}
	}
}

func TestWhereTheHerdBelongsIsAskedInManyWords(t *testing.T) {
	farm := testFarms["quail"]
	r := New(farm.places, farm.herds, farm.units)
	for who, texts := range map[string][]string{
		"Ana":  {"where are the cows supposed to be", "where do the cows go", "where do i put them?", "where should the cows be"},
		"Luis": {"a donde las llevo", "¿donde meto las vacas?", "¿A dónde las muevo?"},
	} {
		for _, text := range texts {
			if got := show(r.Read(text, farm.people[who], Asked{}, testDay)); !strings.Contains(got, "where-next") {
				t.Errorf("%q: got %s", text, got)
			}
		}
	}
}

// Who finds one may not say what it was: an animal, one, a lamb.
func TestADeadAnimalOfAnySortIsAnEmergency(t *testing.T) {
	farm := testFarms["quail"]
	r := New([]Place{{ID: "pond", Name: "Pond"}}, farm.herds[:1], farm.units)
	for who, texts := range map[string][]string{
		"Ana":  {"dead animal in pond", "an animal is down in pond", "animal died in pond", "bloated animal in pond", "dead lamb in pond", "found one dead in pond"},
		"Luis": {"un animal muerto en pond", "animal muerto en pond", "hay un animal tirado en pond"},
	} {
		for _, text := range texts {
			if got := strings.TrimSpace(show(r.Read(text, farm.people[who], Asked{}, testDay))); got != "[emergency pond]" {
				t.Errorf("%q: got %s", text, got)
			}
		}
	}
}
