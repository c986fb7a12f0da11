// Package store is in charge of everything that outlives the process: one
// SQLite file with the diary, what came in, what is to be said and what was
// said. It is the only place that changes durable state.
//
// It never judges: what is due, to whom, what a text means and how a message
// is worded are passed in. It reads no clock; every write is given its now.
//
// Invariants:
//   - Facts are never changed or deleted; a correction voids one and stands
//     beside it. One fact is voided at most once.
//   - What was received is durable before Accept returns.
//   - A notice's key is unique for ever, so nothing is said twice by accident.
//   - The attempt is durable before a carrier is called; a crash in between
//     is an unknown outcome, never a second try by itself.
//   - No transaction is open while a carrier talks to its peer.
//   - One process at a time holds the lock and owns the outbox.
package store
