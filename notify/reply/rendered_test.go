package reply

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
)

// Render writes a fact as a text in English that is read back as the same fact
// on the given day. It is empty for facts that nobody texts: a measured frost,
// one that takes another back.
func (r *Reader) Render(f diary.Fact, day civil.Date) string {
	place := ""
	if i := r.index(f.Paddock); i >= 0 {
		place = r.places[i].Name
	}
	herd := r.herdText(f.Herd)
	var words []string
	switch f.Kind {
	case diary.Reading, diary.Hayed:
		if f.Kind == diary.Hayed {
			words = append(words, "hayed")
		}
		words = append(words, place)
		for _, h := range f.Heights {
			words = append(words, strconv.FormatFloat(h, 'f', -1, 64))
		}
		if len(f.Heights) > 0 {
			words = append(words, "inches")
		}
		if f.Adds {
			words = words[1:]
		}
	case diary.Off:
		words = []string{herd, "off", place}
	case diary.On:
		if herd == "" {
			herd = "all"
		}
		words = []string{"on", place, herd}
	case diary.Burned, diary.Brown, diary.Regrowth, diary.Clear, diary.Frost:
		words = []string{string(f.Kind), place}
	case diary.Dry:
		words = []string{"dry"}
	case diary.Wean:
		words = []string{"weaned", herd}
	case diary.Later:
		words = []string{"later", place, waitText(f.Wait)}
	case diary.Ack:
		return "ok"
	case diary.Undo:
		words = []string{"undo", f.Words}
	case diary.Status:
		words = []string{"status", place}
	case diary.Help, diary.Stop, diary.Start:
		return string(f.Kind)
	}
	if f.Measured() || len(words) == 0 {
		return ""
	}
	if f.Day.IsValid() && f.Day != day {
		words = append(words, fmt.Sprintf("on %s %d", strings.ToLower(f.Day.Month.String()), f.Day.Day))
	}
	return strings.Join(strings.Fields(strings.Join(words, " ")), " ")
}

func (r *Reader) herdText(id string) string {
	for _, h := range r.herds {
		if h.ID == id {
			return h.ID
		}
	}
	return ""
}

func waitText(d time.Duration) string {
	switch {
	case d == 0:
		return ""
	case d%(24*time.Hour) == 0:
		return fmt.Sprintf("%dd", d/(24*time.Hour))
	}
	return fmt.Sprintf("%dh", d/time.Hour)
}
