package page

import (
	"io"
	"strings"
	"time"

	"stubbled/notify/wording"
	"stubbled/scheduler/record"
)

// Record is the grazing record of a farm's year, a page for each paddock.
type Record struct {
	Farm  string
	Zone  *time.Location
	Pages []record.Page
}

// Write writes it as HTML for print.
func (r Record) Write(w io.Writer, o wording.Options) error {
	return write(w, "record.html", wording.OnPage(o), r)
}

// By is who told of a stay, each once, and when: the day and time on the farm's
// clock.
func (r Record) By(s record.Stay) string {
	var all []string
	for _, said := range s.Said {
		all = append(all, said.By+" "+said.At.In(r.Zone).Format("2006-01-02 15:04"))
	}
	return strings.Join(all, "; ")
}
