package report

import (
	"embed"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"
	"text/template"

	"stubbled/scheduler/herd"
	"stubbled/scheduler/season"
)

// A page is what a report prints for people, with a tab between columns.
//
//go:embed *.txt
var pages embed.FS

func printPage(w io.Writer, name string, farm *season.Farm, about any) error {
	page, err := template.New(name).Funcs(pageWords(farm)).ParseFS(pages, name)
	if err != nil {
		return fmt.Errorf("page %s: %w", name, err)
	}
	columns := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	if err := page.Execute(columns, about); err != nil {
		return fmt.Errorf("page %s: %w", name, err)
	}
	return columns.Flush()
}

// pageWords are the words that a page may use of a figure or an id.
func pageWords(farm *season.Farm) template.FuncMap {
	return template.FuncMap{
		"longDay": longDay, "shortDay": ShortDay, "planWords": PlanWords, "placeWords": PlaceWords,
		"join": strings.Join, "inches": inches, "amount": amount, "stretches": stretches,
		"daysShort": daysShort, "hayShort": hayShort,
		"spaced":  func(a season.Action) string { return strings.ReplaceAll(string(a), "_", " ") },
		"pounds":  func(lb float64) string { return fmt.Sprintf("%.0f lb", lb) },
		"percent": func(chance float64) string { return fmt.Sprintf("%.0f %%", chance*100) },
		"reaches": func(chance, wanted float64) bool { return chance >= wanted },
		"fit":     func(f herd.Fit) string { return fitWords[f] },
		"ground":  func(ids string) string { return groundWords(farm, ids) },
		"paddock": func(id string) *season.Paddock { p, _ := farm.Paddock(id); return p },
	}
}
