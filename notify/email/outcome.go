package email

import (
	"context"
	"errors"
	"fmt"
	"net/textproto"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"stubbled/notify"
)

// A step of handing a mail over.
type step int

const (
	atGreeting step = iota // dial, TLS, EHLO
	atLogin
	atSender    // MAIL FROM
	atRecipient // RCPT TO
	atData      // DATA
	atContent   // the mail itself, its end not yet written
	atEnd       // the end was written, the answer is awaited
)

// classify says what became of a mail that broke off at a step. Only an
// explicit 5xx is permanent. A 5xx to the login or the sender speaks of the
// account and would hit every mail: the carrier is down, the mail can wait.
func classify(at step, err error, s Server) notify.Outcome {
	var reply *textproto.Error
	if !errors.As(err, &reply) || reply.Code < 400 || reply.Code > 599 {
		return silent(at, err, s)
	}
	o := notify.Outcome{State: notify.Temporary, Code: code(reply)}
	words := fmt.Sprintf("%s answers %s", s.Host, told(o.Code+" "+strings.TrimSpace(strings.TrimPrefix(reply.Msg, enhanced.FindString(reply.Msg)))))
	switch {
	case at == atLogin, slices.Contains([]int{530, 534, 535, 538}, reply.Code): // RFC 4954 section 6
		o.Down = true
		o.Detail = words + "; " + loginMend(s, reply.Code)
	case at == atSender && reply.Code >= 500 && !tooLarge(reply):
		o.Down = true
		o.Detail = words + "; the account may not send from this address: set from to the account's own"
	case reply.Code >= 500 && at >= atSender:
		o.State = notify.Permanent
		o.Detail = words + "; " + permanentMend(at, reply)
	case reply.Code == 421 || at < atSender:
		o.Down = true
		o.Detail = words + "; it will be tried again"
	default:
		o.Detail = words + "; it will be tried again"
	}
	return o
}

// silent is an end without an answer of the server.
func silent(at step, err error, s Server) notify.Outcome {
	f := faultOf(s, err)
	if at == atEnd {
		return notify.Outcome{State: notify.UnknownState, Down: !errors.Is(err, context.Canceled),
			Detail: f.what + " after the whole mail was written, so it may have been taken or not"}
	}
	return notify.Outcome{State: notify.Temporary, Down: !errors.Is(err, context.Canceled), Detail: f.Error()}
}

func loginMend(s Server, code int) string {
	switch {
	case code == 530 && s.User == "":
		return "the server wants a login: set user and password file"
	case code == 530:
		return "the server wants TLS or a login: check port and security"
	case code < 500:
		return "the server cannot check passwords just now; it will be tried again"
	}
	return "the password is not taken: check user and password file (some providers want an app password made for this program)"
}

func permanentMend(at step, reply *textproto.Error) string {
	switch {
	case tooLarge(reply):
		return "the mail is too large for the server"
	case strings.HasPrefix(reply.Msg, "5.2.2"):
		return "the contact's mailbox is full: tell them by phone"
	case at == atRecipient:
		return "check the contact's address in the farm file"
	}
	return "the server will not take this mail"
}

// tooLarge: RFC 1870 section 6. A 552 that says more may mean another thing: 5.2.2
// is a full mailbox (RFC 3463 section 3.3).
func tooLarge(reply *textproto.Error) bool {
	bare := reply.Code == 552 && !enhanced.MatchString(reply.Msg)
	return bare || strings.HasPrefix(reply.Msg, "5.3.4") || strings.HasPrefix(reply.Msg, "5.2.3")
}

// ownFault reports whether a refusal speaks of the address or the size of the one
// mail: 5.1 and 5.2 of RFC 3463, 5.3.4, and the bare codes of RFC 5321 section
// 4.2.3 that do.
func ownFault(code string) bool {
	bare, why, _ := strings.Cut(code, " ")
	if why == "" {
		return slices.Contains([]string{"551", "552", "553"}, bare)
	}
	return strings.HasPrefix(why, "5.1.") || strings.HasPrefix(why, "5.2.") || why == "5.3.4"
}

var enhanced = regexp.MustCompile(`^[245]\.\d{1,3}\.\d{1,3}\b`) // RFC 3463

// code is the reply code and, where there is one, the enhanced status code.
func code(reply *textproto.Error) string {
	c := strconv.Itoa(reply.Code)
	if e := enhanced.FindString(reply.Msg); e != "" {
		c += " " + e
	}
	return c
}
