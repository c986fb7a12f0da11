package daemon

import (
	"bytes"
	"fmt"
	"os"
	"testing"
)

// resident is the memory of this process that is mapped from files, in kB.
func resident(t *testing.T) (kB int) {
	t.Helper()
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		t.Skip("this system does not say what memory is in use")
	}
	_, rest, _ := bytes.Cut(status, []byte("RssFile:"))
	if _, err := fmt.Sscan(string(rest), &kB); err != nil {
		t.Fatal(err)
	}
	return kB
}

func TestWhatOnlyTheStartNeededIsLetGoOf(t *testing.T) {
	before := resident(t)
	letGo()
	if after := resident(t); after > before/2 {
		t.Errorf("%d kB of the program were in memory, and %d still are", before, after)
	}
}
