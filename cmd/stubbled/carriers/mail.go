package carriers

import (
	"net/mail"

	"stubbled/config/links"
	"stubbled/config/settings"
	"stubbled/notify/email"
	"stubbled/scheduler/ladder"
)

// mail is mail out, and the mailbox that answers come to where there is one.
func (l *Links) mail(o Options, c links.Email) {
	tokens, err := tokensOf(c)
	l.without(ladder.AlarmRepliesDown, "", "carriers.email", err)
	l.without(ladder.AlarmMailDown, ladder.Mail, "carriers.email.smtp", l.mailOut(o, c, tokens))
	if c.IMAP != nil && err == nil {
		l.without(ladder.AlarmRepliesDown, "", "carriers.email.imap", l.mailIn(o, c, tokens))
	}
}

// mailOut is the server that takes mail; without tokens no answer is bound to
// what it answers.
func (l *Links) mailOut(o Options, c links.Email, tokens *email.Tokens) error {
	server, err := mailServer(c.SMTP.MailServer)
	if err != nil {
		return err
	}
	sender, err := email.NewSender(email.Outgoing{
		Server: server, From: mail.Address{Name: o.Farm().Name, Address: c.From}, Replies: tokens, Patience: c.SMTP.Timeout,
	})
	if err != nil {
		return err
	}
	l.Carriers = append(l.Carriers, sender)
	return nil
}

func (l *Links) mailIn(o Options, c links.Email, tokens *email.Tokens) error {
	box, err := mailServer(c.IMAP.MailServer)
	if err != nil {
		return err
	}
	everyone := func() (all []string) {
		for _, c := range o.Farm().Contacts {
			if c.Email != "" {
				all = append(all, c.Email)
			}
		}
		return all
	}
	receiver, err := email.NewReceiver(email.Incoming{
		Server: box, Folder: c.IMAP.Mailbox, Replies: tokens, AuthServID: c.Authserv, Poll: c.IMAP.Poll, Patience: c.IMAP.Timeout, Log: o.Log,
		Known: func(address string) bool {
			_, _, ok := ladder.OwnerOf(o.Farm().Contacts, address)
			return ok
		},
		Everyone: everyone,
	}, o.Now)
	if err != nil {
		return err
	}
	l.Receivers = append(l.Receivers, receiver)
	return nil
}

// tokensOf binds replies to what they answer; nil where no mail is read.
func tokensOf(c links.Email) (*email.Tokens, error) {
	if c.IMAP == nil || c.Token.IsZero() {
		return nil, nil
	}
	var keys [][]byte
	for _, secret := range []settings.Secret{c.Token, c.OldToken} {
		if secret.IsZero() {
			continue
		}
		key, err := secret.Read()
		if err != nil {
			return nil, err
		}
		keys = append(keys, key)
	}
	return email.NewTokens(c.ReplyTo, keys...)
}

func mailServer(m links.MailServer) (email.Server, error) {
	s := email.Server{Host: m.Host, Port: m.Port, Security: email.Security(m.TLS), User: m.User}
	if m.Password.IsZero() {
		return s, nil
	}
	password, err := m.Password.Read()
	s.Password = string(password)
	return s, err
}
