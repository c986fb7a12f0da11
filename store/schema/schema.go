// Package schema is in charge of what the database's tables are: the steps
// that make them, each applied once and in order. It never runs them.
package schema

import (
	"embed"
	"fmt"
	"io/fs"
	"strconv"
	"strings"
)

//go:embed *.sql
var embedded embed.FS

// Steps is the steps of the schema; a test adds one to them.
var Steps fs.FS = embedded

// ApplicationID marks the file as ours: 'stub'.
const ApplicationID = 0x73747562

// Newest is the schema that this program writes.
func Newest() int64 {
	files, err := fs.Glob(Steps, "*.sql")
	if err != nil {
		panic(err) // the pattern is a constant
	}
	var n int64
	for _, f := range files {
		number, _, _ := strings.Cut(f, "_")
		v, err := strconv.ParseInt(number, 10, 64)
		if err != nil {
			panic(fmt.Sprintf("migration %s has no number", f)) // a test runs this
		}
		n = max(n, v)
	}
	return n
}
