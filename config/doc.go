// Package config is in charge of the farm file: it is read whole, checked
// whole, and every problem is told at once with its line and the mend.
//
// It never half-applies a file, never decides what is due, and keeps no
// secret: the file names where secrets are kept.
//
// Two passes go over the same bytes. The first walks the YAML with its line
// numbers against the known keys and refuses whatever it doesn't know. The
// second lays defaults, the environment (STUBBLED_*) over it, and turns every value with its unit into the types of the trade: inches, acres,
// lb, days and degrees C. A Farm that comes out is complete and never changes.
package config
