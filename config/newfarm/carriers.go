package newfarm

import "fmt"

// Texts is how texts travel. Fields, and what is below it, are a provider's.
type Texts struct {
	Via           string // console, spool or http
	URL, Encoding string
	To, Text      string // what the fields are called
	Auth, User    string
}

// Mail is how mail travels; without From there is none.
type Mail struct{ From, SMTP, User, IMAP string }

// texts asks how texts travel.
func (t *Talk) texts() bool {
	w := &t.answers.Texts
	if w.Via != "" {
		return true
	}
	q := question{ask: "How texts travel: modem, provider or console", usual: "console", choices: []string{
		"modem     a USB modem with a SIM card at this machine",
		"provider  an account at a texting service on the internet",
		"console   they are printed on this terminal, to try it out",
	}}
	if t.Service {
		q.ask, q.usual, q.choices = "How texts travel: modem or provider", "modem", q.choices[:2]
	}
	for {
		var way string
		if !t.one(&way, q) {
			return false
		}
		switch {
		case way == "modem":
			w.Via = "spool"
			return true
		case way == "provider":
			w.Via = "http"
			return t.provider(w)
		case way == "console" && !t.Service:
			w.Via = way
			return true
		case way == "console":
			fmt.Fprintln(t.Out, "  nobody sees the console of a service; want modem or provider")
		default:
			fmt.Fprintf(t.Out, "  want one of these, got %q\n", way)
			t.show(q.choices)
		}
	}
}

// provider asks for what differs from one texting service to the next.
func (t *Talk) provider(w *Texts) bool {
	const at = "carriers.sms.http."
	return t.one(&w.URL, question{ask: "  the address that texts are sent to", key: at + "url", choices: []string{"from the service's own pages, such as https://sms.example.org/messages"}}) &&
		t.one(&w.Encoding, question{ask: "  sent as form or json", usual: "form", key: at + "encoding"}) &&
		t.one(&w.To, question{ask: "  what its field of the number is called", usual: "to"}) &&
		t.one(&w.Text, question{ask: "  what its field of the text is called", usual: "text", key: at + "fields"}) &&
		t.one(&w.Auth, question{ask: "  how it knows you: basic (user and password), bearer (a token) or none", usual: "basic", key: at + "auth.kind"}) &&
		(w.Auth != "basic" || t.one(&w.User, question{ask: "  the user or account", key: at + "auth.user"}))
}

// mail asks how mail travels.
func (t *Talk) mail() bool {
	m := &t.answers.Mail
	if m.From != "" {
		return true
	}
	return t.one(&m.From, question{ask: "The address that mail is sent from (empty: no mail)", key: "carriers.email.from", open: true}) && (m.From == "" ||
		t.one(&m.SMTP, question{ask: "  the server that it goes out by", key: "carriers.email.smtp.host", choices: []string{"from your mail provider, such as smtp.example.org"}}) &&
			t.one(&m.User, question{ask: "  the account there", usual: m.From}) &&
			t.one(&m.IMAP, question{ask: "  the server where answers are read (empty: they are not)", key: "carriers.email.imap.host", open: true}))
}
