package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/config"
)

// typing is what somebody types, a line each.
func typing(all ...string) string { return strings.Join(all, "\n") + "\n" }

// aTalk is all that init asks, with a slip at every other answer.
var aTalk = []string{
	"Owl Hill",    // the farm
	"Central", "", // its zone: Enter takes America/Chicago
	"",           // no place
	"Oct 16", "", // 10-16
	"10", "", // 10 days
	"long", "", // 45 days
	"Off", "Creek Bottom", // a word of the texts is no paddock
	"22", "", // 22 acres
	"eastern gamagras", "", // eastern gamagrass
	"jonsongrass", "", // johnsongrass
	"creek bottom", "Hill", // taken
	"9 ha", "?", "big bluestem", "none", // the list of grasses
	"", // no more
	"cows", "38", "cows", "cow with calf", "Crek Bottom", "Creek Bottom", "",
	"Ana", "", "555 555 0142", "", "ana@example", "ana@example.org", "",
	"Luis", "", "", "luis@example.org", "es",
	"",
	"", // the console
	"farm@example.org", "smtp.example.org", "", "",
}

func TestInitAsksOneThingAtATimeAndTakesTheLikelyCorrection(t *testing.T) {
	dir := t.TempDir()
	out, _, err := answered(t, dir, dir, typing(aTalk...)+"no\n", "init")
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	last := -1
	for _, ask := range []string{"The farm's name", "Its time zone [America/Chicago]", "Where it is", "[10-16]", "[10 days]", "Paddock 1, its name", "means something else in a text",
		"[22 acres]", "[eastern gamagrass]", "is already what Creek Bottom", "sideoats grama", "Herd 1, its name", "Who is told, 1", "[+15555550142]",
		"want a mail address", "How texts travel", "The address that mail is sent from", "wrote farm.yaml", "fine   farm file", "Send Ana a test now"} {
		at := strings.Index(out, ask)
		if at <= last {
			t.Errorf("%q does not come where it should:\n%s", ask, out)
		}
		last = max(last, at)
	}
	farm, err := config.Load(filepath.Join(dir, "farm.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	if farm.Zone.String() != "America/Chicago" || farm.Paddocks[0].Acres != 22 || farm.Paddocks[0].Grass.Name != "eastern gamagrass" || farm.Herds[0].Paddock != "creekbottom" ||
		farm.Contacts[0].Phone != "+15555550142" || farm.Contacts[1].Language != "es" || farm.Contacts[1].Role != "helper" || farm.Plan.Hand.Spread != 10 || farm.Carriers.Email == nil {
		t.Errorf("%+v", farm)
	}
	if farmtest.Exists(filepath.Join(dir, "farm.yaml.draft")) {
		t.Error("the draft was left")
	}
}

// At whichever answer it is broken off, the same command goes on from there and
// writes the same file.
func TestATalkThatIsBrokenOffLosesNoAnswer(t *testing.T) {
	whole := t.TempDir()
	if out, _, err := answered(t, whole, whole, typing(aTalk...), "init"); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	want, err := os.ReadFile(filepath.Join(whole, "farm.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	for at := 1; at < len(aTalk)-1; at += 3 {
		dir := t.TempDir()
		out, _, err := answered(t, dir, dir, typing(aTalk[:at]...), "init")
		if err == nil || !strings.Contains(err.Error(), "what was answered is kept in farm.yaml.draft") {
			t.Fatalf("broken off at %d: %v\n%s", at, err, out)
		}
		// A slip is no answer: what came of it is asked again.
		rest := aTalk[at:]
		if slips := map[string][]string{"Central": {"Central"}, "Oct 16": {"Oct 16"}, "10": {"10"}, "22": {"22"}, "eastern gamagras": {"eastern gamagras"}, "jonsongrass": {"jonsongrass"}, "555 555 0142": {"555 555 0142"}}[aTalk[at-1]]; slips != nil {
			rest = append(slips, rest...)
		}
		if out, _, err = answered(t, dir, dir, typing(rest...), "init"); err != nil {
			t.Fatalf("taken up at %d (%q): %v\n%s", at, aTalk[at-1], err, out)
		}
		if got, err := os.ReadFile(filepath.Join(dir, "farm.yaml")); err != nil || string(got) != string(want) {
			t.Errorf("taken up at %d it wrote\n%s", at, got)
		}
	}
}

func TestAPlaceGivesTheBestStationsToChooseFrom(t *testing.T) {
	dir, noaa := t.TempDir(), farmtest.NewNOAA(t)
	t.Setenv("STATE_DIRECTORY", "")
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	talk := typing("Owl Hill", "America/Chicago", "Nowhere", "39,-96,1000ft", "7", "2", "", "Creek", "22 acres", "switchgrass", "", "", "", "Ana", "", "+15555550142", "", "", "", "", "")
	out, _, err := answered(t, dir, dir, talk, "init", "--archive", noaa.URL)
	if err != nil || !strings.Contains(out, "OWL HILL (XX000000001)") || !strings.Contains(out, `"Nowhere" names no state`) || !strings.Contains(out, "want 0 to 3") {
		t.Fatalf("%v\n%s", err, out)
	}
	farm, err := config.Load(filepath.Join(dir, "farm.yaml"))
	if err != nil || farm.Plan.Record.Station != "XX000000002" || farm.From != noaa.URL+"/all/XX000000002.dly" {
		t.Errorf("%v, %+v", err, farm)
	}
}

func TestWithoutANetworkInitGoesOnWithADateByHand(t *testing.T) {
	dir, noaa := t.TempDir(), farmtest.NewNOAA(t)
	noaa.Close()
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	talk := typing("Owl Hill", "America/Chicago", "39,-96", "", "10-16", "", "", "Creek", "22 acres", "switchgrass", "", "", "", "Ana", "", "+15555550142", "", "", "", "", "")
	if out, _, err := answered(t, dir, dir, talk, "init", "--archive", noaa.URL); err != nil || !strings.Contains(out, "is this machine online?") {
		t.Errorf("%v\n%s", err, out)
	}
}

func TestUnderAServiceManagerInitAsksForTheCarrierAndKeepsTheRecordWhereTheDaemonMayWrite(t *testing.T) {
	root, noaa := t.TempDir(), farmtest.NewNOAA(t)
	told, kept := filepath.Join(root, "etc", "stubbled"), filepath.Join(root, "var", "lib", "stubbled")
	for _, dir := range []string{told, kept} {
		if err := os.MkdirAll(dir, 0o700); err != nil {
			t.Fatal(err)
		}
	}
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	t.Setenv("PATH", t.TempDir())
	talk := typing("Owl Hill", "America/Chicago", "39,-96,1000ft", "", "", "Creek", "22 acres", "switchgrass", "", "", "", "Ana", "", "+15555550142", "ana@example.org", "", "",
		"console", "provider", "https://sms.example.org/messages", "", "", "body", "", "farm42", "farm@example.org", "smtp.example.org", "", "imap.example.org", "no")
	out, _, err := answered(t, root, root, talk, "init", "--archive", noaa.URL, "--out", filepath.Join(told, "farm.yaml"))
	if err != nil || !strings.Contains(out, "nobody sees the console of a service") || !strings.Contains(out, "sudo stubbled-farm check") {
		t.Fatalf("%v\n%s", err, out)
	}
	farm, err := config.Load(filepath.Join(told, "farm.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	h := farm.Carriers.SMS.HTTP
	if farm.Station != filepath.Join(kept, "XX000000001.dly") || h == nil || h.Auth.User != "farm42" || h.Fields[1].Name != "body" || farm.Carriers.Email.IMAP.User != "farm@example.org" {
		t.Errorf("station %s, texts %+v", farm.Station, h)
	}
}
