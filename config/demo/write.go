//go:build ignore

// Write makes quail-fork.csv anew: go generate ./config/...
package main

import (
	"log"
	"os"

	"stubbled/config/demo"
)

func main() {
	f, err := os.Create("quail-fork.csv")
	if err != nil {
		log.Fatal(err)
	}
	if err := demo.Write(f); err != nil {
		log.Fatal(err)
	}
	if err := f.Close(); err != nil {
		log.Fatal(err)
	}
}
