package config

import (
	"bytes"
	"fmt"
	"io"
	"io/fs"

	_ "embed" // the demo farm is in the binary

	"stubbled/config/settings"
)

//go:embed demo/quail-fork.yaml
var exampleFile []byte

//go:embed demo/quail-fork.csv
var exampleRecord []byte

// ExampleRecord is the name of the station file that the example names.
const ExampleRecord = "quail-fork.csv"

// Example is the commented example farm file, which is the demo farm. Place,
// people and numbers are invented.
func Example() []byte { return bytes.Clone(exampleFile) }

// Keys are all that a farm file may say.
func Keys() []settings.Key { return farmFile.Keys() }

// ExampleStation is the demo farm's temperature record, invented by a seeded
// generator.
func ExampleStation() []byte { return bytes.Clone(exampleRecord) }

// Demo loads the demo farm from the binary. Neither files nor the environment
// change it.
func Demo() (*Farm, error) {
	from := newSource("demo farm", nil)
	from.Environment, from.Touch, from.Dir = false, nil, ""
	from.open = func(name string) (io.ReadCloser, error) {
		if name != ExampleRecord {
			return nil, fmt.Errorf("the demo farm has no file %q: %w", name, fs.ErrNotExist)
		}
		return io.NopCloser(bytes.NewReader(exampleRecord)), nil
	}
	return from.load(exampleFile)
}
