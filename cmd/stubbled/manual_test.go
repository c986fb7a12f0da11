package main

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Every command's page says how it ends and where things lie; the farm file has
// a page of its own, with what the reader of the file would say itself.
func TestThePagesSayHowACommandEndsAndWhatAFarmFileHolds(t *testing.T) {
	dir := t.TempDir()
	if status := run(t.Context(), []string{"docs", "--dir", dir}, strings.NewReader(""), io.Discard, os.Stderr); status != exitFine {
		t.Fatalf("status %d", status)
	}
	pages, _ := filepath.Glob(filepath.Join(dir, "*.1"))
	if len(pages) < 15 {
		t.Errorf("only %v", pages)
	}
	for _, name := range append(pages, filepath.Join(dir, "stubbled-farm.5")) {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		want := []string{".SH EXIT STATUS\n.TP\n0\n", ".TP\n2\nIt was called wrongly.", ".SH ENVIRONMENT\n", ".SH FILES\n", "/var/lib/stubbled/stubbled.db", ".SH SEE ALSO\nstubbled\\-farm(5)"}
		if strings.HasSuffix(name, ".5") {
			want = []string{"\\fBpaddocks[].area\\fP\nan area such as \"22 acres\" or \"9 ha\"; must be written\n", "\\fBrest.days\\fP\na number of days such as \"45 days\"; usually 45 days\n",
				"\\fBpaddocks[].grass\\fP\none of eastern gamagrass, big bluestem", "\\fBherds[].head\\fP\n0 to 100000;", "\\fBcarriers.email.imap.host\\fP\ntext;", "\nfarm:\n  name: Quail Fork\n"}
		}
		for _, w := range want {
			if strings.Count(string(data), w) != 1 {
				t.Errorf("%s has %q %d times", filepath.Base(name), w, strings.Count(string(data), w))
			}
		}
	}
}
