package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/config"
)

func TestTheRecordThatIsTakenIsKeptWithWhatTheFarmFileNeeds(t *testing.T) {
	noaa := farmtest.NewNOAA(t).URL
	dir := t.TempDir()
	t.Setenv("STATE_DIRECTORY", t.TempDir())
	out, errs, err := found(t, dir, dir, "frost", "--near", "39,-96,1000ft", "--archive", noaa)
	if err != nil || !strings.Contains(out, "OWL HILL (XX000000001)") || !strings.Contains(errs, "fetching") {
		t.Fatalf("%v\n%s\n%s", err, out, errs)
	}
	out, _, err = found(t, dir, dir, "frost", "--near", "39,-96,1000ft", "--archive", noaa, "--take", "2")
	if err != nil {
		t.Fatal(err)
	}
	_, line, _ := strings.Cut(out, "\n\n")
	file := filepath.Join(dir, "farm.yaml")
	text := strings.Replace(farmtest.Text, "frost: {date: 10-16}", strings.TrimSpace(line), 1)
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	farm, err := config.Load(file)
	if err != nil || farm.Plan.Record.Station != "XX000000002" || !strings.HasSuffix(farm.From, "/all/XX000000002.dly") {
		t.Errorf("%v\n%s", err, text)
	}
	for _, args := range [][]string{{"--near", "Nowhere"}, {"--near", "39,-96,1000ft", "--take", "7"}} {
		if _, _, err := found(t, dir, dir, append([]string{"frost", "--archive", noaa}, args...)...); err == nil {
			t.Errorf("%v was taken", args)
		}
	}
}
