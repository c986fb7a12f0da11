package report

import (
	"strings"
	"testing"
)

func TestAGrassIsShownWithItsRangeItsMarkAndItsSources(t *testing.T) {
	var out strings.Builder
	if !Grasses(&out, "Johnson grass") {
		t.Fatal("johnsongrass is not known")
	}
	for _, want := range []string{"johnsongrass\n  leave: 8 in (6-8), from memory: ", "  wait: 14 days (3-14), read: ", "  safe from: 18 in (15-24), derived: "} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("want %q in\n%s", want, out.String())
		}
	}
	if strings.Contains(out.String(), "bluestem\n") {
		t.Error("another grass is shown too")
	}
	out.Reset()
	if !Grasses(&out, "") || strings.Count(out.String(), "\n  ") < 100 {
		t.Errorf("not all are shown:\n%.500s", out.String())
	}
	if Grasses(&out, "thistle") {
		t.Error("thistle is no grass")
	}
}
