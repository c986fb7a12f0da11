package main

import (
	"context"
	"io"
	"strings"
	"testing"
)

// BenchmarkRehearseASeason plays the demo season whole.
func BenchmarkRehearseASeason(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if code := run(context.Background(), []string{"rehearse"}, strings.NewReader(""), io.Discard, io.Discard); code != exitFine {
			b.Fatalf("rehearse: exit status %d", code)
		}
	}
}
