package report

import (
	"fmt"
	"strings"

	"github.com/golang-sql/civil"

	"stubbled/cmd/stubbled/usage"
	"stubbled/config"
	"stubbled/notify/wording"
	"stubbled/scheduler/herd"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// Voice is how a farm is spoken of in a language.
func Voice(farm *config.Farm, lang string) wording.Options {
	return wording.Options{Lang: lang, Centimetres: farm.Units == config.Centimetres, Stock: farm.OtherStock()}
}

// Words of the tables that a person reads at the farm's own machine.

func longDay(d civil.Date) string {
	return fmt.Sprintf("%s %d, %d", d.Month.String()[:3], d.Day, d.Year)
}

// ShortDay is a day of this year, or a dash for none.
func ShortDay(d civil.Date) string {
	if d.IsZero() {
		return "-"
	}
	return fmt.Sprintf("%s %d", d.Month.String()[:3], d.Day)
}

// PlanWords is the frost that a farm counts back from.
func PlanWords(plan season.Plan) string {
	if plan.Hand != nil {
		return "a date by hand"
	}
	if plan.Level == 0 {
		return "the average " + plan.Threshold.String()
	}
	return fmt.Sprintf("the %d %% date of %s", plan.Level, plan.Threshold)
}

// PlaceWords is where that frost is.
func PlaceWords(plan season.Plan) string {
	if plan.Place == "" {
		return "the farm"
	}
	return plan.Place
}

var fitWords = map[herd.Fit]string{
	herd.Fits:    "may be used whole",
	herd.Lone:    "may be used whole, the smallest that can",
	herd.PartOf:  "part of it, behind a temporary fence",
	herd.TooBig:  "too big for what is allowed",
	herd.LastOne: "used last fall",
}

func inches(h float64) string { return amount(h, 0, "%.1f in") }

// amount is a dash where a figure is not above what stands for unknown.
func amount(x, unknown float64, form string) string {
	if x <= unknown {
		return "-"
	}
	return fmt.Sprintf(form, x)
}

// ContactNamed finds a contact of the farm.
func ContactNamed(farm *config.Farm, name string) (*ladder.Contact, error) {
	c, ok := farm.Contact(name)
	if !ok {
		return nil, usage.Errorf("no contact is called %q; the farm file has %s", name, Names(farm))
	}
	return c, nil
}

// Names are those of the farm's contacts.
func Names(farm *config.Farm) string {
	all := make([]string, len(farm.Contacts))
	for i, c := range farm.Contacts {
		all[i] = c.Name
	}
	return strings.Join(all, ", ")
}
