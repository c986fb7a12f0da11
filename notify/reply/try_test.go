package reply

import (
	"bufio"
	"fmt"
	"os"
	"strings"
	"testing"
)

func TestTry(t *testing.T) {
	f, err := os.Open(os.Getenv("TRY"))
	if err != nil {
		t.Skip()
	}
	farm := "quail"
	sc := bufio.NewScanner(f)
	for sc.Scan() {
		line := sc.Text()
		if strings.HasPrefix(line, "# farm: ") {
			farm = line[8:]
			continue
		}
		c := strings.Split(line, "|")
		if len(c) == 1 {
			c = []string{"Ana", "-", c[0]}
		}
		if len(c) != 3 || line == "" {
			continue
		}
		l := sampleLine{who: c[0], context: c[1], text: unescape(c[2]), farm: farm}
		fmt.Printf("%-5s %-6s %-58s %s\n", c[0], c[1], c[2], show(l.read(t)))
	}
}
