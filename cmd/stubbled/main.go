// Command stubbled reminds people who graze native warm-season grass, by text
// message and mail, when each paddock must be empty, and keeps it shut until
// frost. This package wires: flags, files, signals, start and stop. It holds
// no rule of the trade, and is the only place that reads a clock.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"stubbled/cmd/stubbled/daemon"
	"stubbled/cmd/stubbled/usage"
)

// Exit statuses.
const (
	exitFine   = 0
	exitFailed = 1
	exitUsage  = 2
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	go func() {
		<-ctx.Done()
		stop() // a second signal ends it at once
	}()
	os.Exit(run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// run is the whole program; tests call it too.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	root := newRoot(&env{in: stdin, out: stdout, err: stderr, clock: machineClock{}, root: "/", patience: answerWithin})
	root.SetArgs(args)
	root.SetIn(stdin)
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := root.ExecuteContext(ctx)
	var wrong usage.Error
	switch {
	case err == nil:
		return exitFine
	case errors.As(err, &wrong):
		fmt.Fprintf(stderr, "stubbled: %v\nTry 'stubbled --help'.\n", err)
		return exitUsage
	}
	fmt.Fprintln(stderr, daemon.LastWords(err))
	return exitFailed
}
