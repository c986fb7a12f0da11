// Package spool is in charge of texting through a modem in this machine: it
// writes messages into the file spool of Debian's smstools and reads what
// comes back. smsd of that package owns the modem.
//
// It never opens the modem, and never decides anything. Invariants: a message
// is one file named by its envelope, so it is handed over once however often
// this program dies; what came in is accepted before its file is moved; a
// file that is not ours, half written or locked is left where it is.
//
// Folders of the spool, by whom they are filled:
//
//	outgoing   by us; smsd takes from here
//	checked    by smsd: waiting for the modem (there may be more such queues)
//	sent       by smsd: given to the network
//	failed     by smsd: refused
//	incoming   by smsd: texts and delivery reports
//	done       by us: new (being written), sent, failed, back (taken back
//	           unsent) and told (so, and recorded), heard (accepted), odd (not
//	           understood)
package spool
