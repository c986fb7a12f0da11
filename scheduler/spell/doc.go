// Package spell is in charge of names as people type them: which thing of a
// table a typed name is, and which one a misspelt name was probably meant for.
//
// It knows no table and takes no decision: a near name is for a "did you
// mean", never to be acted on. It imports none of our packages.
//
// Invariants:
//
//   - A name of at most 64 letters that Find knows, Nearest gives as well.
//   - Of names equally near, the first of the table wins.
package spell
