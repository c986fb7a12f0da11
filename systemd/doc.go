// Package systemd is in charge of what keeps the daemon alive and how it comes
// to a machine: the unit with its drop-ins, the scripts that the package brings
// along, and the package itself. It holds no code of the daemon and imports
// none of it; what stands here are the tests.
//
// Invariants: the unit's exposure stays at 1.5 or below by systemd-analyze, the
// package brings nothing to run before there is a farm file, removal never
// takes the farm's data along, and one commit makes one sequence of bytes.
//
// The folder package is a module of its own that builds the .deb files.
package systemd
