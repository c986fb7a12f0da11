package values

import (
	"testing"
)

// 3GPP TS 23.038, section 6.2.1: letters of the basic table take one septet,
// those of the extension table two.
func TestSeptetsOfAName(t *testing.T) {
	for name, want := range map[string]int{
		"Creek Bottom": 12, "Peña": 4, "Río Seco": 8, "O'Brien’s": 9, "A{1}": 6, "50 € patch": 11, "Müller": 6, "Łąka": -1, "牧場": -1, "Hill 🐄": -1,
		"Cañada «B»": -1, "": 0, "Ólafur": 6,
	} {
		got, err := Septets(name)
		if err != nil {
			got = -1
		}
		if got != want {
			t.Errorf("%q takes %d septets (%v), want %d", name, got, err, want)
		}
	}
}

func TestNamesAreOneWithoutCaseSpacesAndMarks(t *testing.T) {
	for _, same := range [][]string{{"North 40", "north40", "NORTH-40", "north  40"}, {"Peña", "pena", "PEÑA"}, {"O'Brien", "o’brien", "obrien"}} {
		for _, n := range same {
			if Fold(n) != Fold(same[0]) {
				t.Errorf("%q and %q fold to %q and %q", n, same[0], Fold(n), Fold(same[0]))
			}
		}
	}
	if Fold("p3") == Fold("p4") {
		t.Error("p3 and p4 are one")
	}
}

// The words of the phone networks for opt-in and opt-out, and those that an
// answer begins with, are nobody's name.
func TestWordsOfTheNetworksAreNobodysName(t *testing.T) {
	for _, w := range []string{"stop", "stopall", "unsubscribe", "cancel", "end", "quit", "revoke", "optout", "start", "unstop", "yes", "help", "info",
		"off", "on", "ok", "a", "b", "frost", "brown", "regrowth", "clear", "dry", "later", "undo", "status", "hayed",
		"helada", "fuera", "ayuda", "alto", "estado"} {
		if !Commands()[Fold(w)] {
			t.Errorf("a paddock could be called %q", w)
		}
	}
}

// A name is heard with its numbers in digits, so these would be one paddock.
func TestNamesThatSoundTheSameAreOne(t *testing.T) {
	for _, same := range [][]string{{"Pasture Three", "pasture 3", "Pasture 03", "pasture tres", "pasture-3"}, {"Nine Oaks", "9 oaks"},
		{"Hill & Dale", "hill and dale"}, {"North Forty", "north 40"}, {"Forty Two", "42"}, {"O'Brien's", "obriens"}, {"Peña 1", "PENA ONE"}} {
		for _, n := range same {
			if Heard(n) != Heard(same[0]) {
				t.Errorf("%q is heard as %q, %q as %q", n, Heard(n), same[0], Heard(same[0]))
			}
		}
	}
	for _, apart := range [][2]string{{"p3", "p30"}, {"North 40", "North 4"}, {"P 0", "P"}} {
		if Heard(apart[0]) == Heard(apart[1]) {
			t.Errorf("%q and %q are both heard as %q", apart[0], apart[1], Heard(apart[0]))
		}
	}
}
