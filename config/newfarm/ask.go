package newfarm

import (
	"bufio"
	"fmt"
	"io"
	"strings"
)

// Rows are paddocks, herds and people as they are typed, a text each.
type Rows struct{ Paddocks, Herds, People []string }

// Ask asks for what neither the answers nor the rows have yet.
func Ask(in io.Reader, out io.Writer, a *Answers, rows *Rows) error {
	q := questions{in: bufio.NewScanner(in), out: out}
	q.one(&a.Name, "The farm's name")
	q.one(&a.Timezone, "Its time zone (such as America/Chicago)")
	if a.Station == "" {
		q.one(&a.FrostDate, "Usual first frost, 32 F (such as 10-18); a station's record is better: --station FILE")
	}
	q.list(&rows.Paddocks, "A paddock as NAME:AREA:GRASS, such as Creek Bottom:22 acres:eastern gamagrass (empty: no more)")
	q.list(&rows.Herds, "A herd as NAME:HEAD:KIND:PADDOCK, such as cows:38:cow with calf:Creek Bottom (empty: no more)")
	q.list(&rows.People, "A person as NAME:ROLE:PHONE, such as Ana:manager:+15555550142 (empty: no more)")
	return q.in.Err()
}

// questions asks until the input has ended.
type questions struct {
	in   *bufio.Scanner
	out  io.Writer
	over bool
}

func (q *questions) line(wanted string) string {
	if q.over {
		return ""
	}
	fmt.Fprintf(q.out, "%s: ", wanted)
	if q.over = !q.in.Scan(); q.over {
		fmt.Fprintln(q.out)
		return ""
	}
	return strings.TrimSpace(q.in.Text())
}

func (q *questions) one(value *string, wanted string) {
	if *value == "" {
		*value = q.line(wanted)
	}
}

func (q *questions) list(rows *[]string, wanted string) {
	if len(*rows) > 0 {
		return
	}
	for text := q.line(wanted); text != ""; text = q.line(wanted) {
		*rows = append(*rows, text)
	}
}
