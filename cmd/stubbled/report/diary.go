package report

import (
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"stubbled/scheduler/diary"
	"stubbled/store"
)

// Diary is everything that was written down, corrections included.
func Diary(ctx context.Context, w io.Writer, s *store.Store) error {
	return s.EachFact(ctx, 0, func(f diary.Fact) error {
		_, err := fmt.Fprintf(w, "%5d  %s  %-8s %-10s %s\n", f.ID, f.Day, f.Kind, f.Paddock, about(f))
		return err
	})
}

// about is what a fact says besides its kind and place.
func about(f diary.Fact) string {
	var parts []string
	if f.Voids != 0 {
		parts = append(parts, fmt.Sprintf("takes back %d", f.Voids))
	}
	if len(f.Heights) > 0 {
		parts = append(parts, heightsText(f.Heights)+" in")
	}
	if f.TempC != nil {
		parts = append(parts, fmt.Sprintf("%.1f C", *f.TempC))
	}
	if f.Kind == diary.Rain && f.Amount > 0 {
		parts = append(parts, strconv.FormatFloat(f.Amount, 'f', -1, 64)+" in")
	}
	for _, name := range []string{f.Herd, f.Plant} {
		if name != "" {
			parts = append(parts, name)
		}
	}
	if f.Wait > 0 {
		parts = append(parts, durationText(f.Wait))
	}
	if f.By != "" {
		parts = append(parts, "by "+f.By)
	}
	if f.Words != "" {
		parts = append(parts, strconv.Quote(f.Words))
	}
	return strings.Join(parts, ", ")
}

func heightsText(heights []float64) string {
	texts := make([]string, len(heights))
	for i, h := range heights {
		texts[i] = strconv.FormatFloat(h, 'f', -1, 64)
	}
	return strings.Join(texts, " ")
}

// DiaryCSV is Diary for a spreadsheet.
func DiaryCSV(ctx context.Context, out io.Writer, s *store.Store, zone *time.Location) error {
	w := csv.NewWriter(out)
	head := []string{"id", "at", "day", "kind", "paddock", "herd", "heights_in", "temp_c", "wait", "by", "source", "takes_back", "words", "plant", "amount"}
	if err := w.Write(head); err != nil {
		return err
	}
	err := s.EachFact(ctx, 0, func(f diary.Fact) error {
		temp, voids := "", ""
		if f.TempC != nil {
			temp = strconv.FormatFloat(*f.TempC, 'f', -1, 64)
		}
		if f.Voids > 0 {
			voids = strconv.FormatInt(f.Voids, 10)
		}
		return w.Write([]string{
			strconv.FormatInt(f.ID, 10), f.At.In(zone).Format(time.RFC3339), f.Day.String(), string(f.Kind), f.Paddock, f.Herd,
			heightsText(f.Heights), temp, durationText(f.Wait), plain(f.By), f.Source, voids, plain(f.Words), plain(f.Plant), strconv.FormatFloat(f.Amount, 'f', -1, 64),
		})
	})
	if err != nil {
		return err
	}
	w.Flush()
	return w.Error()
}

// plain keeps a spreadsheet from taking what somebody texted for a formula, at
// the beginning of a cell and behind whatever it may take for the end of one,
// and leaves out what no cell may hold.
func plain(text string) string {
	var b strings.Builder
	begins := true
	for _, r := range strings.ReplaceAll(text, "\x00", "") {
		if begins && strings.ContainsRune("=+-@\t\r", r) {
			b.WriteByte('\'')
		}
		b.WriteRune(r)
		begins = strings.ContainsRune(";,\t\r\n", r) || begins && r == ' '
	}
	return b.String()
}
