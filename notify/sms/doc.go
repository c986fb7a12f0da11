// Package sms is in charge of what every way of texting shares: phone numbers
// as they are sent, heard and logged. The ways themselves are below it: spool
// hands texts to a modem in the machine, provider to a texting service over
// HTTP; signature proves who called a webhook.
//
// None of them decides what is said, to whom or when, none keeps anything but
// its own files, and no body and no secret reaches a log.
package sms
