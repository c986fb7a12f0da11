// Package disk is in charge of the database as a file: who has it, whether it
// is whole, its copies, the room kept free for it, and transactions on it.
//
// It knows no table and no row, and never says what a row means.
//
// Invariants:
//   - One process at a time holds the lock and owns the file.
//   - A commit is on the disk before Write returns.
//   - A copy is complete and checked before it has its name.
//   - What cannot be used is refused with the mend in words, and stays as it is.
//   - A loss that was found is remembered until somebody was told.
package disk
