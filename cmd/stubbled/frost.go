package main

import (
	"cmp"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/archive"
	"stubbled/cmd/stubbled/report"
	"stubbled/cmd/stubbled/usage"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/station"
)

type frostFlags struct {
	station, threshold, years, chart, units string
	near, archive                           string
	take                                    int
	columns                                 frost.Columns
	json                                    bool
}

func frostCmd(e *env) *cobra.Command {
	f := frostFlags{}
	c := &cobra.Command{
		Use:   "frost --station FILE | --near PLACE",
		Short: "Shows a station's first fall frosts, their spread and trend",
		Long: `frost reads a daily record (GHCN-Daily .dly, USCRN daily, NOAA's CSV download, or a
CSV with date and tmin_c or tmin_f; gzipped or not) and shows every fall's first frost, which falls
were left out and why, the spread, the trend, and the cutoffs each choice gives.

With --near it shows the stations of NOAA's public archive that suit a place best,
by distance, height, complete falls and freshness, with their average first frost
side by side. A place is a town with its state, a ZIP code, or degrees north and
east with the height where it is known.`,
		Example: "  stubbled frost --station quail-fork.csv\n  stubbled frost --near 40.00,-100.00,2600ft --take 2",
		Args:    noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if f.near != "" && f.station == "" {
				return e.near(c.Context(), f)
			}
			return showFrost(e, f)
		},
	}
	fl := c.Flags()
	fl.StringVar(&f.station, "station", "", "the record's `file`")
	fl.StringVar(&f.near, "near", "", "the `place` whose stations are shown: 'TOWN, STATE', ZIP or LAT,LON")
	fl.IntVar(&f.take, "take", 0, "write the record of the first, second or third of them here")
	fl.StringVar(&f.archive, "archive", archive.Base, "the `address` of the archive")
	fl.StringVar(&f.threshold, "threshold", "32F", "the `temperature` counted back from")
	fl.StringVar(&f.years, "years", "", "only these `years`, such as 1991-2020")
	fl.StringVar(&f.chart, "chart", "", "draw the spread into a .png or .svg `file`")
	fl.BoolVar(&f.json, "json", false, "as JSON")
	fl.StringVar(&f.columns.Date, "date-column", "", "`name` of a CSV's date column where it is not date")
	fl.StringVar(&f.columns.Min, "tmin-column", "", "`name` of a CSV's minimum column")
	fl.StringVar(&f.columns.Max, "tmax-column", "", "`name` of a CSV's maximum column")
	fl.StringVar(&f.columns.Rain, "rain-column", "", "`name` of a CSV's rain column")
	fl.StringVar(&f.units, "units", "", "`C`, F or tenths (of a degree C), where neither the column names nor a July say it")
	return c
}

func showFrost(e *env, f frostFlags) error {
	if f.station == "" {
		return usage.Errorf("want --station FILE or --near PLACE")
	}
	th, err := frost.ParseThreshold(f.threshold)
	if err != nil {
		return usage.Error{Err: err}
	}
	pick, err := parseYears(f.years)
	if err != nil {
		return err
	}
	if f.columns.Unit, err = frost.ParseUnit(f.units); err != nil {
		return usage.Errorf("--units: %w", err)
	}
	r, err := frost.ReadFile(f.station, frost.Options{Columns: f.columns})
	if err != nil {
		return err
	}
	spread := frost.NewReport(r, th, pick)
	if f.chart != "" {
		if err := report.FrostChart(f.chart, spread); err != nil {
			return err
		}
	}
	if f.json {
		return report.JSON(e.out, spread.Summary())
	}
	return spread.WriteTable(e.out)
}

// parseYears reads 1991-2020, or one year.
func parseYears(text string) (frost.Pick, error) {
	if text == "" {
		return frost.Pick{}, nil
	}
	first, last, ranged := strings.Cut(text, "-")
	if !ranged {
		last = first
	}
	from, errFrom := strconv.Atoi(strings.TrimSpace(first))
	to, errTo := strconv.Atoi(strings.TrimSpace(last))
	if errFrom != nil || errTo != nil || from < 1 || to < from {
		return frost.Pick{}, usage.Errorf("--years: want years such as 1991-2020, got %q", text)
	}
	return frost.Pick{From: from, To: to}, nil
}

// archiveAt is NOAA's archive, or one like it at another address, with its lists
// kept where the service keeps things, or among the user's own.
func (e *env) archiveAt(base string) archive.Archive {
	dir := os.Getenv("STATE_DIRECTORY")
	if dir == "" {
		cache, err := os.UserCacheDir()
		if err != nil {
			cache = os.TempDir()
		}
		dir = filepath.Join(cache, service)
	}
	say := func(what string) { fmt.Fprintln(e.err, what) }
	return archive.Archive{Base: base, Dir: dir, Now: e.clock.Now(), Say: say}
}

// near shows the stations that suit a place, and keeps the record of the one
// that is taken.
func (e *env) near(ctx context.Context, f frostFlags) error {
	place, err := station.FindPlace(f.near)
	if err != nil {
		return usage.Errorf("--near: %w", err)
	}
	best, err := e.archiveAt(f.archive).Choose(ctx, place)
	if err != nil {
		return err
	}
	if f.take > len(best) {
		return usage.Errorf("--take: want 1 to %d, got %d", len(best), f.take)
	}
	if f.take > 0 {
		line, err := keepRecord(best[f.take-1], ".")
		if err == nil {
			fmt.Fprintf(e.out, "In the farm file beside it:\n\nfrost: {%s}\n", line)
		}
		return err
	}
	fmt.Fprintf(e.out, "Stations near %s\n\n", cmp.Or(place.Name, f.near))
	if err := archive.Print(e.out, best); err != nil {
		return err
	}
	_, err = fmt.Fprintf(e.out, "\nstubbled frost --near %q --take 1  writes its record here, and says what to put into the farm file.\n", f.near)
	return err
}

// keepRecord writes a station's record into a folder, and gives the keys of the
// farm file that name it.
func keepRecord(c archive.Choice, dir string) (string, error) {
	name := c.ID + ".dly"
	if err := archive.Keep(filepath.Join(dir, name), c.Data); err != nil {
		return "", fmt.Errorf("keep the record: %w", err)
	}
	return fmt.Sprintf("station: %s, from: %q, place: %q", name, c.From, c.Name), nil
}
