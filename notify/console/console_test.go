package console_test

import (
	"bytes"
	"context"
	"errors"
	"io"
	"strings"
	"testing"
	"time"

	"stubbled/notify"
	"stubbled/notify/console"
	"stubbled/scheduler/ladder"
)

var chicago = time.FixedZone("CDT", -5*3600)

// heard is what a terminal's input comes to.
func heard(t *testing.T, typed string) ([]notify.Received, string) {
	t.Helper()
	var out bytes.Buffer
	var got []notify.Received
	l := console.Lines{
		In: strings.NewReader(typed), Out: console.NewScreen(&out, chicago), Run: "run1",
		Now:     func() time.Time { return time.Unix(1787000000, 0) },
		Address: func(name string) (string, bool) { return "+15555550142", strings.EqualFold(name, "ana") },
	}
	accept := func(_ context.Context, r []notify.Received, _ string) error { got = append(got, r...); return nil }
	if err := l.Receive(t.Context(), "", accept, func(error) {}); err != nil {
		t.Fatal(err)
	}
	return got, out.String()
}

func TestATerminalIsEverybodysPhone(t *testing.T) {
	got, hint := heard(t, "Ana: creek 14 8 6 8\n\nana : off creek: all of them\n")
	if len(got) != 2 || got[0].Text != "creek 14 8 6 8" || got[1].Text != "off creek: all of them" || hint != "" {
		t.Errorf("heard %+v, said %q", got, hint)
	}
	if got[0].ID == got[1].ID {
		t.Error("two lines have one id")
	}
}

func TestALineFromNobodyIsAnsweredWithHowToType(t *testing.T) {
	got, hint := heard(t, "creek 9\nMallory: off creek\n")
	if len(got) != 0 || strings.Count(hint, "type a name") != 2 {
		t.Errorf("heard %+v, said %q", got, hint)
	}
}

func TestAMessageIsPrintedWithTheFarmsTime(t *testing.T) {
	var out bytes.Buffer
	phone := console.Phone{Out: console.NewScreen(&out, chicago), For: ladder.Mail, Called: "console"}
	e := notify.Envelope{ToName: "Ana", Subject: "Shut Creek today", Text: "Take them off.\nThen text.", Date: time.Date(2026, 9, 1, 11, 30, 0, 0, time.UTC)}
	if got := phone.Deliver(t.Context(), e); got.State != notify.Sent {
		t.Errorf("%+v", got)
	}
	want := "Tue Sep 1 06:30  to Ana (mail)\n    Shut Creek today\n    Take them off.\n    Then text.\n"
	if out.String() != want {
		t.Errorf("printed %q, want %q", out.String(), want)
	}
}

// broken is a terminal that went away.
type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, errors.New("gone") }

func TestATerminalThatWentAwayIsAnUnknownOutcome(t *testing.T) {
	phone := console.Phone{Out: console.NewScreen(broken{}, nil), For: ladder.Text}
	if got := phone.Deliver(t.Context(), notify.Envelope{Text: "x"}); got.State != notify.UnknownState {
		t.Errorf("%+v", got)
	}
	if phone.Retry() != notify.Never {
		t.Error("the console may say a thing twice")
	}
}

func TestATerminalNobodyTypesOnDoesNotHoldTheEndUp(t *testing.T) {
	never, typist := io.Pipe()
	defer typist.Close()
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	l := console.Lines{In: never, Out: console.NewScreen(io.Discard, nil)}
	if err := l.Receive(ctx, "", nil, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("it ended with %v", err)
	}
}
