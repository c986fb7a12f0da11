package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strings"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
)

// JSON prints a whole report for other programs.
func JSON(w io.Writer, v any) error {
	out := json.NewEncoder(w)
	out.SetIndent("", "  ")
	return out.Encode(v)
}

// An object is a JSON object: its keys in order, each with its value. One that
// ends in omitempty is left out where its value is the zero value.
type object []member

type member struct {
	key   string
	value any
}

// MarshalJSON writes the members as encoding/json does those of a struct.
func (o object) MarshalJSON() ([]byte, error) {
	var all [][]byte
	for _, m := range o {
		key, omitempty := strings.CutSuffix(m.key, ",omitempty")
		if omitempty && reflect.ValueOf(m.value).IsZero() {
			continue
		}
		value, err := json.Marshal(m.value)
		if err != nil {
			return nil, err
		}
		all = append(all, fmt.Appendf(nil, "%q:%s", key, value))
	}
	return slices.Concat([]byte("{"), bytes.Join(all, []byte(",")), []byte("}")), nil
}

// orNull is nil for the zero value, which stands for unknown.
func orNull[T comparable](v T) *T {
	var unknown T
	if v == unknown {
		return nil
	}
	return &v
}

func isoDate(d civil.Date) *string {
	if d.IsZero() {
		return nil
	}
	return new(d.String())
}

// above is a value where it is one, nil where it stands for unknown.
func above(x, unknown float64) *float64 {
	if x <= unknown {
		return nil
	}
	return &x
}

// Fact is one as other programs read it.
type Fact struct {
	Kind     diary.Kind `json:"kind"`
	Paddock  string     `json:"paddock,omitempty"`
	Heights  []float64  `json:"heights_in,omitempty"`
	Herd     string     `json:"herd,omitempty"`
	Date     string     `json:"date,omitempty"`
	Duration string     `json:"duration,omitempty"`
	Plant    string     `json:"plant,omitempty"`
	Amount   float64    `json:"amount,omitempty"`
}

func factOf(f diary.Fact) Fact {
	j := Fact{Kind: f.Kind, Paddock: f.Paddock, Heights: f.Heights, Herd: f.Herd, Duration: durationText(f.Wait), Plant: f.Plant, Amount: f.Amount}
	if !f.Day.IsZero() {
		j.Date = f.Day.String()
	}
	return j
}

// durationText is a delay as people text it: 2d, 4h; empty for none.
func durationText(d time.Duration) string {
	switch {
	case d <= 0:
		return ""
	case d%(24*time.Hour) == 0:
		return fmt.Sprintf("%dd", d/(24*time.Hour))
	case d%time.Hour == 0:
		return fmt.Sprintf("%dh", d/time.Hour)
	}
	return fmt.Sprintf("%dm", d/time.Minute)
}
