package checkup

import "testing"

func TestOneOfAThingIsNoPlural(t *testing.T) {
	for n, want := range map[int]string{0: "0 contacts", 1: "1 contact", 3: "3 contacts"} {
		if got := count(n, "contact"); got != want {
			t.Errorf("%d: %q, want %q", n, got, want)
		}
	}
}
