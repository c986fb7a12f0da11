package spell

import (
	"testing"

	"pgregory.net/rapid"
)

type plant struct {
	name    string
	aliases []string
}

func (p plant) Called() (string, []string) { return p.name, p.aliases }

var pasture = Table[plant]{
	{"eastern gamagrass", []string{"gama grass", "egg"}},
	{"big bluestem", []string{"bluestem", "turkey-foot"}},
	{"rye", nil},
	{"oats", []string{"oat"}},
	{"queen anne's lace", nil},
}

func TestANameIsFoundHoweverItIsTyped(t *testing.T) {
	for _, c := range []struct{ name, typed, want string }{
		{"by its own name", "big bluestem", "big bluestem"},
		{"in capitals, with a hyphen and spaces at both ends", "  Big-Bluestem ", "big bluestem"},
		{"the words turned as in a list, with a comma, are another name", "bluestem, big", ""},
		{"by an alias with a space for its hyphen", "turkey foot", "big bluestem"},
		{"with an underscore", "gama_grass", "eastern gamagrass"},
		{"with the apostrophe that a phone types", "Queen Anne\u2019s lace", "queen anne's lace"},
		{"a tab and two spaces", "big\t  bluestem", "big bluestem"},
		{"nothing", "", ""},
		{"only marks", " -,. ", ""},
		{"a slip is not found", "big bluestm", ""},
	} {
		got, ok := pasture.Find(c.typed)
		if got.name != c.want || ok != (c.want != "") {
			t.Errorf("%s: %q is %q (%v), want %q", c.name, c.typed, got.name, ok, c.want)
		}
	}
}

func TestAMisspeltNameIsPutRight(t *testing.T) {
	for _, c := range []struct{ name, typed, want string }{
		{"one slip", "bluestm", "big bluestem"},
		{"two slips in a long name", "estern gamagras", "eastern gamagrass"},
		{"three slips are another word", "estrn gamagras", ""},
		{"one slip in a short name", "rie", "rye"},
		{"two slips in a short name are another word", "rues", ""},
		{"two slips in a name of four letters are another word", "boots", ""},
		{"the alias is near, the name is given", "turky-foot", "big bluestem"},
		{"no slip at all", "RYE", "rye"},
		{"nothing is near nothing", "", ""},
		{"a weed nobody listed", "thistle", ""},
	} {
		got, ok := pasture.Nearest(c.typed)
		if got != c.want || ok != (c.want != "") {
			t.Errorf("%s: %q is near %q (%v), want %q", c.name, c.typed, got, ok, c.want)
		}
	}
	twins := Table[plant]{{"red clover", nil}, {"rid clover", nil}}
	if got, _ := twins.Nearest("rod clover"); got != "red clover" {
		t.Errorf("of two names equally near %q was given, want the first", got)
	}
}

func TestWhatIsKnownIsNearestToItselfAndFoldingTwiceIsFoldingOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		typed := rapid.StringMatching(`[A-Za-z ,'_/.\t-]{0,30}`).Draw(t, "typed")
		if once := Fold(typed); Fold(once) != once {
			t.Fatalf("%q folds to %q and that to %q", typed, once, Fold(once))
		}
		table := Table[plant]{{"rye", nil}, {typed, []string{typed + "s"}}}
		found, ok := table.Find(typed)
		near, isNear := table.Nearest(typed)
		if ok && (!isNear || near != found.name) {
			t.Fatalf("%q is %q, but nearest to %q", typed, found.name, near)
		}
	})
}
