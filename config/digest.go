package config

import (
	"bufio"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"reflect"
	"strconv"
	"time"

	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
)

// notMeaning are the fields of a Farm that may change while it means the same.
var notMeaning = map[string]bool{"File": true, "Station": true, "Digest": true, "Warnings": true, "settings": true, "text": true, "rules": true}

// digest is a short word for what a farm means: comments, the order of keys and
// the units it is written in don't change it, and everything else does.
func digest(f *Farm) string {
	h := sha256.New()
	w := bufio.NewWriter(h)
	v := reflect.ValueOf(f).Elem()
	for i := range v.NumField() {
		if name := v.Type().Field(i).Name; !notMeaning[name] {
			writeMeaning(w, name, v.Field(i))
		}
	}
	// A hash takes everything.
	_ = w.Flush()
	return hex.EncodeToString(h.Sum(nil)[:12])
}

var (
	recordType   = reflect.TypeFor[*frost.Record]()
	locationType = reflect.TypeFor[*time.Location]()
)

// known are rows of the trade's own tables: the file means their name.
var known = map[reflect.Type]bool{
	reflect.TypeFor[grass.Species](): true,
	reflect.TypeFor[grass.Hazard]():  true,
	reflect.TypeFor[herd.Kind]():     true,
}

// writeMeaning writes a value so that equal values, and only those, are
// written alike.
func writeMeaning(w io.Writer, name string, v reflect.Value) {
	fmt.Fprintf(w, "%s=", name)
	switch v.Kind() {
	case reflect.Pointer:
		switch {
		case v.IsNil():
			fmt.Fprint(w, "nil;")
		case v.Type() == locationType:
			fmt.Fprintf(w, "%s;", v.Interface().(*time.Location))
		case v.Type() == recordType:
			writeRecord(w, v.Interface().(*frost.Record))
		default:
			writeMeaning(w, "", v.Elem())
		}
	case reflect.Struct:
		if known[v.Type()] {
			fmt.Fprintf(w, "%q;", v.FieldByName("Name").String())
			return
		}
		fmt.Fprint(w, "{")
		for i := range v.NumField() {
			writeMeaning(w, v.Type().Field(i).Name, v.Field(i))
		}
		fmt.Fprint(w, "}")
	case reflect.Slice, reflect.Array:
		fmt.Fprintf(w, "[%d:", v.Len())
		for i := range v.Len() {
			writeMeaning(w, "", v.Index(i))
		}
		fmt.Fprint(w, "]")
	case reflect.String, reflect.Map: // of words, in the order of its keys
		fmt.Fprintf(w, "%#v;", v)
	case reflect.Float32, reflect.Float64:
		fmt.Fprintf(w, "%s;", strconv.FormatFloat(v.Float(), 'g', 9, 64))
	case reflect.Bool:
		fmt.Fprintf(w, "%t;", v.Bool())
	default:
		fmt.Fprintf(w, "%v;", v)
	}
}

// writeRecord writes what a station measured, whatever its file is called.
func writeRecord(w io.Writer, r *frost.Record) {
	fmt.Fprint(w, "record:")
	last := r.Last()
	for d := r.First(); !d.After(last); d = d.AddDays(1) {
		if day := r.Day(d); day.Min.Known() || day.Max.Known() || day.Rain.Known() {
			fmt.Fprintf(w, "%s %d %d %d;", d, day.Min, day.Max, day.Rain)
		}
	}
}
