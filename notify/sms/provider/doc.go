// Package provider is in charge of texting through a service over HTTP. All
// such services differ only in names: where to send, what the fields are
// called, how the password is shown, where the answer holds the message's id.
// So one transport is told those names and knows no service.
//
// It never decides anything and keeps nothing. Invariants: a value reaches the
// request through its encoder and never by pasting; a request that the service
// may have read is not sent again unless it is marked so that it counts once;
// redirects are not followed; answers are bounded; TLS is verified always, and
// plain HTTP is for this machine only; what came in is accepted before the
// service is told so; no body and no secret is logged or named in an error.
package provider
