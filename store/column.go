package store

import (
	"database/sql/driver"
	"encoding/json"
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/golang-sql/civil"
)

// An instant is kept in unix seconds, and NULL where it is none.
type instant time.Time

func (i instant) Value() (driver.Value, error) {
	if time.Time(i).IsZero() {
		return nil, nil
	}
	return time.Time(i).Unix(), nil
}

func (i *instant) Scan(from any) error {
	switch n := from.(type) {
	case nil:
		*i = instant{}
	case int64:
		*i = instant(time.Unix(n, 0).UTC())
	default:
		return fmt.Errorf("%v is no instant", from)
	}
	return nil
}

// A date is kept as text, empty where it is none.
type date civil.Date

func (d date) Value() (driver.Value, error) {
	if civil.Date(d).IsZero() {
		return "", nil
	}
	return civil.Date(d).String(), nil
}

func (d *date) Scan(from any) (err error) {
	if text, _ := from.(string); text != "" {
		*(*civil.Date)(d), err = civil.ParseDate(text)
	}
	return err
}

// A list is kept as JSON, and NULL where it is empty.
type list[T any] []T

func (l list[T]) Value() (driver.Value, error) {
	if len(l) == 0 {
		return nil, nil
	}
	return jsonList(l)
}

func (l *list[T]) Scan(from any) error {
	if text, ok := from.(string); ok {
		return json.Unmarshal([]byte(text), (*[]T)(l))
	}
	return nil
}

// jsonList is a list for json_each.
func jsonList[T any](l []T) (string, error) {
	b, err := json.Marshal(l)
	return string(b), err
}

// A ref is another row's id, and NULL where it is 0.
type ref int64

func (r ref) Value() (driver.Value, error) {
	if r == 0 {
		return nil, nil
	}
	return int64(r), nil
}

// maxText is the longest text kept, in bytes; more than a person types.
const maxText = 16 << 10

// clean keeps what can be kept of outside text: valid UTF-8, bounded.
func clean(s string) string {
	if len(s) > maxText {
		s = s[:maxText]
		for len(s) > 0 && !utf8.RuneStart(s[len(s)-1]) {
			s = s[:len(s)-1]
		}
		if r, n := utf8.DecodeLastRuneInString(s); r == utf8.RuneError && n == 1 {
			s = s[:len(s)-1]
		}
	}
	return strings.ToValidUTF8(s, "\uFFFD")
}
