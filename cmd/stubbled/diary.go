package main

import (
	"context"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"stubbled/scheduler/diary"
	"stubbled/store"
)

func diaryCmd(e *env) *cobra.Command {
	var asCSV bool
	c := &cobra.Command{
		Use:   "diary",
		Short: "Shows everything that was written down, corrections included",
		Args:  noArgs,
		RunE:  func(c *cobra.Command, _ []string) error { return showDiary(c.Context(), e, asCSV) },
	}
	c.Flags().BoolVar(&asCSV, "csv", false, "as CSV, for a spreadsheet")
	return c
}

func showDiary(ctx context.Context, e *env, asCSV bool) error {
	farm, err := e.farm()
	if err != nil {
		return err
	}
	s, err := store.OpenRead(ctx, e.dbPath(farm.File))
	if err != nil {
		return err
	}
	defer s.Close()
	if asCSV {
		return diaryCSV(ctx, e, s, farm.Zone)
	}
	return s.EachFact(ctx, 0, func(f diary.Fact) error {
		_, err := fmt.Fprintf(e.out, "%5d  %s  %-8s %-10s %s\n", f.ID, f.Day, f.Kind, f.Paddock, about(f))
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
	if f.Herd != "" {
		parts = append(parts, f.Herd)
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

func diaryCSV(ctx context.Context, e *env, s *store.Store, zone *time.Location) error {
	w := csv.NewWriter(e.out)
	head := []string{"id", "at", "day", "kind", "paddock", "herd", "heights_in", "temp_c", "wait", "by", "source", "takes_back", "words"}
	if err := w.Write(head); err != nil {
		return err
	}
	err := s.EachFact(ctx, 0, func(f diary.Fact) error {
		temp, wait, voids := "", "", ""
		if f.TempC != nil {
			temp = strconv.FormatFloat(*f.TempC, 'f', -1, 64)
		}
		if f.Wait > 0 {
			wait = durationText(f.Wait)
		}
		if f.Voids > 0 {
			voids = strconv.FormatInt(f.Voids, 10)
		}
		return w.Write([]string{
			strconv.FormatInt(f.ID, 10), f.At.In(zone).Format(time.RFC3339), f.Day.String(), string(f.Kind), f.Paddock, f.Herd,
			heightsText(f.Heights), temp, wait, f.By, f.Source, voids, plain(f.Words),
		})
	})
	if err != nil {
		return err
	}
	w.Flush()
	return w.Error()
}

// plain keeps a spreadsheet from taking what somebody texted for a formula.
func plain(text string) string {
	if text != "" && strings.ContainsRune("=+-@\t\r", rune(text[0])) {
		return "'" + text
	}
	return text
}

func backupCmd(e *env) *cobra.Command {
	var to string
	c := &cobra.Command{
		Use:   "backup --to FILE",
		Short: "Copies the database while the daemon runs, and proves the copy",
		Args:  noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if to == "" {
				return usagef("want --to FILE")
			}
			farm, err := e.farm()
			if err != nil {
				return err
			}
			s, err := store.OpenRead(c.Context(), e.dbPath(farm.File))
			if err != nil {
				return err
			}
			defer s.Close()
			if err := s.Backup(c.Context(), to); err != nil {
				return err
			}
			fmt.Fprintf(e.out, "copied to %s and opened to prove it\n", to)
			return nil
		},
	}
	c.Flags().StringVar(&to, "to", "", "the `file` to write; it must not be there yet")
	return c
}
