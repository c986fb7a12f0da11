// Package email is in charge of mail both ways: envelopes out by SMTP, and
// what people write back in by IMAP.
//
// It never decides what is said or what a reply means, and it never trusts a
// From line by itself: a reply is heard only from a listed address that holds
// the token of the mail it answers. Mail that a machine wrote is neither heard
// nor answered.
//
// Invariants: an envelope rendered twice is the same to the byte; a mail whose
// end was written but not acknowledged is unknown, never failed; the place in
// the mailbox moves only together with what was read there; no body, password
// or whole address reaches a log or an error.
package email
