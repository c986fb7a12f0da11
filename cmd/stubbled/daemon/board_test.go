package daemon

import (
	"strings"
	"testing"

	"stubbled/cmd/stubbled/internal/farmtest"
)

func TestTheWallCardOfAMailIsThatOfTheFarmInForce(t *testing.T) {
	o := newOffice(t, farmtest.File(t, farmtest.Text), "2026-07-02 07:00")
	o.turn("2026-07-02 07:00")
	for language, want := range map[string]string{"en": "Whom to call", "es": "A quién llamar"} {
		page, err := o.d.rules().Card(language)
		if text := string(page); err != nil || !strings.Contains(text, "Creek Bottom") || !strings.Contains(text, want) {
			t.Errorf("%v; in %s it is\n%.400s", err, language, text)
		}
	}
}
