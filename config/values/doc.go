// Package values is in charge of single values of the farm file: what is
// written with its unit becomes a value of the trade (inches, acres, lb, days,
// degrees C), or an error that says what to write instead. It is also where
// names are compared as they are heard in texts.
//
// It never knows where a value stands or what goes together with what: that is
// config's. What it quotes back is kept short.
package values
