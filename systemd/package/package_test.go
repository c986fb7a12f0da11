package main

import (
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"
)

func TestDpkgOrdersVersionsAsGoDoes(t *testing.T) {
	date := time.Date(2026, 9, 1, 6, 30, 0, 0, time.UTC)
	// In the order in which they come into the world; each is newer than the last.
	stamps := []string{
		"(devel)", // dated sources without a repository
		"v0.0.0-20261125134300-67b8c24e4f0a",
		"v0.0.0-20261126070000-07b8c24e4f0a",
		"v0.0.0-20261126070000-07b8c24e4f0a+dirty",
		"v0.9.0-rc.1",
		"v0.9.0",
		"v0.9.1-0.20270101000000-67b8c24e4f0a",
		"v0.9.1",
		"v0.10.0",
	}
	if _, err := exec.LookPath("dpkg"); err != nil && os.Getenv("CI") != "true" {
		t.Skip("skipped: dpkg is not here")
	}
	for i := 1; i < len(stamps); i++ {
		older, newer := debianVersion(stamps[i-1], date), debianVersion(stamps[i], date)
		if said, err := exec.Command("dpkg", "--compare-versions", older, "lt", newer).CombinedOutput(); err != nil {
			t.Errorf("%s is not before %s: %v %s", older, newer, err, said)
		}
	}
}

func TestAScriptsHeadBecomesItsPage(t *testing.T) {
	page, err := scriptPage("#!/bin/sh\n# a-script - does a thing\n#\n# It does it.\n#\n#   a-script --now\nset -eu\n", "2026-09-01")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{".SH NAME\na\\-script \\- does a thing\n", "\nIt does it.\n", ".nf\n.RS\na\\-script \\-\\-now\n.RE\n.fi\n"} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q in\n%s", want, page)
		}
	}
	for _, bad := range []string{"#!/bin/sh\nset -e\n", "#!/bin/sh\n# does a thing\n"} {
		if page, err := scriptPage(bad, "2026-09-01"); err == nil {
			t.Errorf("%q became\n%s", bad, page)
		}
	}
}

// The text of the licence goes, the names of those who hold the rights stay.
func TestTheApacheLicenseIsReferredTo(t *testing.T) {
	whole := "Apache License\nVersion 2.0\nTERMS AND CONDITIONS FOR USE, REPRODUCTION, AND DISTRIBUTION\n...\n   Copyright [yyyy] [name]\n   Copyright 2026 Somebody\n"
	if got := withoutApache(whole); strings.Contains(got, "TERMS") || strings.Contains(got, "[yyyy]") || !strings.Contains(got, "Copyright 2026 Somebody") {
		t.Errorf("got %q", got)
	}
	if mit := "MIT License\nCopyright 2026 Somebody\n"; withoutApache(mit) != mit {
		t.Error("another licence was touched")
	}
}
