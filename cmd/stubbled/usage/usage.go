// Package usage marks what the caller did wrong, as against what failed: the
// program ends with another status then, and points to its help.
package usage

import "fmt"

// Error says that the program was called wrongly.
type Error struct{ Err error }

func (e Error) Error() string { return e.Err.Error() }
func (e Error) Unwrap() error { return e.Err }

// Errorf makes an error of the caller's.
func Errorf(format string, args ...any) error { return Error{fmt.Errorf(format, args...)} }
