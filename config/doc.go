// Package config is in charge of the farm file: it is read whole, checked
// whole, and every problem is told at once with its line and the mend.
//
// It never half-applies a file, never decides what is due, and keeps no
// secret: the file names where secrets are kept.
//
// Which keys there are stands once, in file.go and in config/links;
// config/settings reads them with their lines, defaults and environment
// (STUBBLED_*), and config/values turns every value with its unit into the types
// of the trade: inches, acres, lb, days and degrees C. What is left to config is
// what the values say together. A Farm that comes out is complete and never
// changes.
package config
