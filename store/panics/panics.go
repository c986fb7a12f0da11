// Package panics makes errors of panics. In a daemon that nobody watches a fault
// of the program must fail one piece of work and be told: ended by it, the daemon
// would be started and end again.
package panics

import (
	"fmt"
	"log/slog"
	"runtime/debug"
)

// Error is f's error, or what f fell over; the log gets the stack.
func Error(log *slog.Logger, f func() error) (err error) {
	defer func() {
		if fault := recover(); fault != nil {
			log.Error("a fault of the program", "fault", fault, "stack", string(debug.Stack()))
			err = fmt.Errorf("a fault of the program: %v", fault)
		}
	}()
	return f()
}
