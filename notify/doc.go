// Package notify is in charge of carrying words out and in. Drain claims what
// is due from the store, has it worded, hands it to a carrier and settles the
// outcome; what carriers hear is in the store before their peers are told so.
//
// It never decides what is due, to whom, or what a text means.
package notify
