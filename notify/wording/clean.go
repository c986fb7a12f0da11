package wording

import (
	"math"
	"reflect"
	"strings"
	"unicode"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/ladder"
)

// What words are made of comes from a file on disk and from what people typed:
// a number or a name that no farm can have must not reach a phone.
const (
	mostNumber  = 999_999 // lb of hay go this far; heights and days stay far below
	longestText = 400     // characters of any one string
	mostItems   = 200     // of any one list
)

// ready is what is said of a bundle: copies in the type of their kind, empty
// where they are of another one, and never none.
func ready(kind ladder.Kind, facts []ladder.Facts) []ladder.Facts {
	if len(facts) == 0 {
		facts = []ladder.Facts{nil}
	}
	out := make([]ladder.Facts, len(facts))
	for i, f := range facts {
		if out[i] = kind.NewFacts(); reflect.TypeOf(f) == reflect.TypeOf(out[i]) {
			out[i] = cleaned(f)
		}
	}
	return out
}

// cleaned is a copy in which every number can be said: what is no number counts
// as not said, strings are one line of printable characters, a day that no
// calendar has is no day.
func cleaned[T any](facts T) T {
	var out T
	copyClean(reflect.ValueOf(&out).Elem(), reflect.ValueOf(&facts).Elem())
	return out
}

func copyClean(dst, src reflect.Value) {
	switch src.Kind() {
	case reflect.Float64:
		dst.SetFloat(saneNumber(src.Float()))
	case reflect.Int:
		dst.SetInt(max(-mostNumber, min(mostNumber, src.Int())))
	case reflect.String:
		dst.SetString(oneLine(src.String()))
	case reflect.Pointer:
		if src.IsNil() || src.Elem().Kind() == reflect.Float64 && math.IsNaN(src.Elem().Float()) {
			return
		}
		dst.Set(reflect.New(src.Type().Elem()))
		copyClean(dst.Elem(), src.Elem())
	case reflect.Interface:
		if !src.IsNil() {
			val := reflect.New(src.Elem().Type()).Elem()
			copyClean(val, src.Elem())
			dst.Set(val)
		}
	case reflect.Slice:
		n := min(src.Len(), mostItems)
		dst.Set(reflect.MakeSlice(src.Type(), n, n))
		for i := range n {
			copyClean(dst.Index(i), src.Index(i))
		}
	case reflect.Map:
		dst.Set(reflect.MakeMap(src.Type()))
		for it := src.MapRange(); it.Next(); {
			val := reflect.New(src.Type().Elem()).Elem()
			copyClean(val, it.Value())
			dst.SetMapIndex(it.Key(), val)
		}
	case reflect.Struct:
		copyStruct(dst, src)
	default:
		dst.Set(src)
	}
}

func copyStruct(dst, src reflect.Value) {
	if d, ok := src.Interface().(civil.Date); ok {
		if d.IsValid() && d.Year > 0 && d.Year < 10000 {
			dst.Set(src)
		}
		return
	}
	for i := range src.NumField() {
		if !src.Type().Field(i).IsExported() {
			dst.Set(src) // an instant: kept as it is
			return
		}
	}
	for i := range src.NumField() {
		copyClean(dst.Field(i), src.Field(i))
	}
}

func saneNumber(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return max(-mostNumber, min(mostNumber, x))
}

// oneLine makes a single line of printable characters with single spaces.
func oneLine(s string) string {
	if len(s) > 4*longestText {
		s = s[:4*longestText]
	}
	s = strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return ' '
		}
		if unicode.IsControl(r) || r == unicode.ReplacementChar {
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, ""))
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > longestText {
		s = string(r[:longestText])
	}
	return s
}
