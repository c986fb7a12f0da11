package report

import (
	"strings"
	"testing"
)

func TestAGrassIsShownWithItsRangeItsMarkAndItsSources(t *testing.T) {
	var out strings.Builder
	if !Figures(&out, "Johnson grass") {
		t.Fatal("johnsongrass is not known")
	}
	for _, want := range []string{"johnsongrass\n  leave: 8 in (6-8), second-hand: about 8 leafy inches", "  wait: 14 days (3-14), read: ", "  safe from: 18 in (15-24), derived: "} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("want %q in\n%s", want, out.String())
		}
	}
	if strings.Contains(out.String(), "bluestem\n") {
		t.Error("another grass is shown too")
	}
	out.Reset()
	if !Figures(&out, "") || strings.Count(out.String(), "\n  ") < 100 {
		t.Errorf("not all are shown:\n%.500s", out.String())
	}
	if Figures(&out, "thistle") {
		t.Error("thistle is no grass")
	}
}

func TestFiguresOfHayAndStockAreShownLikeThoseOfGrass(t *testing.T) {
	for name, want := range map[string]string{
		"hay":         "hay\n  eaten, bunk: 0.905 of what is put out (0.89-0.92), read: Kansas State (krex 6266): shredded into a bunk\n",
		"dry cow":     "cow, dry\n  as the table has it: 0.92 animal units (0.92-1), read: eXtension",
		"growth":      "growth\n  paddocks differ by: 0.22 of growth, assumption: ",
		"switchgrass": "  late growth: 0.8 of its pair's (0.5-1), assumption: slow from late June",
	} {
		var out strings.Builder
		if !Figures(&out, name) || !strings.Contains(out.String(), want) {
			t.Errorf("%s: want %q in\n%s", name, want, out.String())
		}
	}
}
