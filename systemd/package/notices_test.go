package main

import (
	"strings"
	"testing"
)

// What others made and the program holds is named with its licence; what was
// written for it is not.
func TestTheDataThatOthersMadeIsNamed(t *testing.T) {
	got := (&work{top: findTop()}).data()
	for _, want := range []string{"notify/language/en/common.txt, which", "Copyright 2000-2011 by Kevin Atkinson", "this permission notice appear",
		"scheduler/station/places.tsv.gz, which", "GeoNames (geonames.org)", "https://creativecommons.org/licenses/by/4.0/"} {
		if strings.Count(got, want) != 1 {
			t.Errorf("%q stands %d times in\n%s", want, strings.Count(got, want), got)
		}
	}
	for _, own := range []string{"quail-fork", "language/es/common.txt", "farm.yaml.tmpl"} {
		if strings.Contains(got, own) {
			t.Errorf("%s is the work of others:\n%s", own, got)
		}
	}
}
