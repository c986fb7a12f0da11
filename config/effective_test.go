package config_test

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"stubbled/config"
)

func TestWhatIsInForceIsPrintedWithWhereItCameFrom(t *testing.T) {
	t.Chdir("testdata/good")
	t.Setenv("STUBBLED_REST_CONFIDENCE", "75%")
	t.Setenv("STUBBLED_FARM_CAP", "4 texts")
	f, err := config.Load("everything.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var got bytes.Buffer
	if err := f.Effective(&got); err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile("everything.effective", got.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile("everything.effective")
	if err != nil {
		t.Fatal(err)
	}
	if got.String() != string(want) {
		t.Errorf("got\n%s\nwant\n%s", got.String(), want)
	}
	if strings.Contains(got.String(), "+15555550142") {
		t.Error("a whole phone number is printed")
	}
}
