package weather

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"stubbled/notify"
)

// A quantity is a value with its unit and the outcome of its checks, as the
// service writes it.
type quantity struct {
	UnitCode string   `json:"unitCode"`
	Value    *float64 `json:"value"`
	QC       string   `json:"qualityControl"`
}

var (
	errNoValue = errors.New("no value")
	errQC      = errors.New("failed its quality check")
)

// celsius is the value in degrees C. Units may have a prefix (wmoUnit:degC);
// any other than degC and degF is refused.
func (q quantity) celsius() (float64, error) {
	if q.Value == nil {
		return 0, errNoValue
	}
	unit := q.UnitCode[strings.LastIndexByte(q.UnitCode, ':')+1:]
	c := *q.Value
	switch unit {
	case "degC":
	case "degF":
		c = fromF(c)
	default:
		return 0, fmt.Errorf("temperature in unit %q: want degC or degF", notify.Brief(q.UnitCode))
	}
	if !possible(c) {
		return 0, fmt.Errorf("temperature %.1f C: no air is that cold or warm", c)
	}
	return c, nil
}

// checked reports whether a value may be used, and whether it was checked at
// all. The flags are those of MADIS: V verified, S screened, C coarse pass; Z
// has had no check; everything else (X rejected, Q questioned, B subjectively
// bad...) is left out.
func checked(flag string) (checked bool, err error) {
	switch flag {
	case "V", "S", "C":
		return true, nil
	case "Z", "":
		return false, nil
	}
	return false, errQC
}

// A periodTemp is the temperature of a forecast period: a bare number with its
// unit beside it, the older form, or a quantity.
type periodTemp struct {
	quantity
}

// UnmarshalJSON reads both forms.
func (p *periodTemp) UnmarshalJSON(b []byte) error {
	var n *float64
	if err := json.Unmarshal(b, &n); err == nil {
		p.Value = n
		return nil
	}
	return json.Unmarshal(b, &p.quantity)
}
