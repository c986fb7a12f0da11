package panics

import (
	"errors"
	"log/slog"
	"strings"
	"testing"
)

func TestAFaultOfTheProgramIsAnErrorWithItsStack(t *testing.T) {
	var journal strings.Builder
	log := slog.New(slog.NewTextHandler(&journal, nil))
	var none []int
	err := Error(log, func() error { _ = none[len(journal.String())]; return nil })
	if err == nil || !strings.HasPrefix(err.Error(), "a fault of the program: runtime error: index out of range") {
		t.Errorf("got %v", err)
	}
	if !strings.Contains(journal.String(), "panics_test.go") {
		t.Errorf("the journal does not say where:\n%s", journal.String())
	}
}

func TestWhatDoesNotFallIsAsItWas(t *testing.T) {
	plain := errors.New("plain")
	log := slog.New(slog.DiscardHandler)
	if err := Error(log, func() error { return plain }); err != plain {
		t.Errorf("got %v", err)
	}
	if err := Error(log, func() error { return nil }); err != nil {
		t.Errorf("got %v", err)
	}
}
