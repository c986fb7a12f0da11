package main

import (
	"net/mail"
	"strings"

	"stubbled/config"
	"stubbled/notify/email"
	"stubbled/notify/sms/spool"
	"stubbled/scheduler/ladder"
)

// outside adds what reaches beyond this machine.
func (l *links) outside(e *env, now *inForce) {
	farm := now.Load()
	switch farm.Carriers.SMS.Via {
	case config.Spool:
		l.without(ladder.AlarmSMSDown, ladder.Text, "carriers.sms", l.modem(e, farm))
	case config.HTTP:
		l.without(ladder.AlarmSMSDown, ladder.Text, "carriers.sms", l.provider(e, farm))
	}
	if c := farm.Carriers.Email; c != nil {
		tokens, err := tokensOf(*c)
		l.without(ladder.AlarmRepliesDown, "", "carriers.email", err)
		l.without(ladder.AlarmMailDown, ladder.Mail, "carriers.email.smtp", l.mailOut(e, farm, *c, tokens))
		if c.IMAP != nil && err == nil {
			l.without(ladder.AlarmRepliesDown, "", "carriers.email.imap", l.mailIn(e, now, *c, tokens))
		}
	}
	l.weather(e, farm)
}

// modem is the spool of the SMS server that drives a modem in this machine.
func (l *links) modem(e *env, farm *config.Farm) error {
	o := spoolOptions(farm)
	o.Log = logger(e)
	s, err := spool.New(o, e.clock.Now)
	if err != nil {
		return err
	}
	l.carriers = append(l.carriers, s)
	l.receivers = append(l.receivers, s)
	return nil
}

// spoolOptions is the spool as the farm file describes it.
func spoolOptions(farm *config.Farm) spool.Options {
	c := farm.Carriers.SMS.Spool
	return spool.Options{
		Name: "sms", Dir: c.Dir, Queues: c.Queues, PIDFile: c.PIDFile, LogFile: c.LogFile, StateFile: c.StateFile,
		Poll: c.Poll, Stale: c.StuckAfter, TakeBack: c.TakeBack, Keep: c.Keep, Validity: c.Validity,
		Zone: farm.Zone, Region: c.Region,
	}
}

// mailOut is the server that takes mail; without tokens no answer is bound to
// what it answers.
func (l *links) mailOut(e *env, farm *config.Farm, c config.Email, tokens *email.Tokens) error {
	server, err := mailServer(c.SMTP)
	if err != nil {
		return err
	}
	sender, err := email.NewSender(email.Outgoing{
		Server: server, From: mail.Address{Name: farm.Name, Address: c.From}, Replies: tokens, Patience: c.SMTP.Timeout,
	}, e.clock.Now)
	if err != nil {
		return err
	}
	l.carriers = append(l.carriers, sender)
	return nil
}

// mailIn is the mailbox that answers come to.
func (l *links) mailIn(e *env, now *inForce, c config.Email, tokens *email.Tokens) error {
	box, err := mailServer(c.IMAP.MailServer)
	if err != nil {
		return err
	}
	receiver, err := email.NewReceiver(email.Incoming{
		Server: box, Folder: c.IMAP.Mailbox, Replies: tokens, AuthServID: c.Authserv, Poll: c.IMAP.Poll, Patience: c.IMAP.Timeout, Log: logger(e),
		Known:    func(address string) bool { return knownMail(now.Load(), address) },
		Everyone: func() []string { return mailboxes(now.Load()) },
	}, e.clock.Now)
	if err != nil {
		return err
	}
	l.receivers = append(l.receivers, receiver)
	return nil
}

// tokensOf binds replies to what they answer; nil where no mail is read.
func tokensOf(c config.Email) (*email.Tokens, error) {
	if c.IMAP == nil || c.Token.IsZero() {
		return nil, nil
	}
	var keys [][]byte
	for _, secret := range []config.Secret{c.Token, c.OldToken} {
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

func mailServer(m config.MailServer) (email.Server, error) {
	s := email.Server{Host: m.Host, Port: m.Port, Security: email.Security(m.TLS), User: m.User}
	if m.Password.IsZero() {
		return s, nil
	}
	password, err := m.Password.Read()
	s.Password = string(password)
	return s, err
}

func knownMail(farm *config.Farm, address string) bool {
	for _, m := range mailboxes(farm) {
		if strings.EqualFold(m, address) {
			return true
		}
	}
	return false
}

func mailboxes(farm *config.Farm) []string {
	var all []string
	for _, c := range farm.Contacts {
		if c.Email != "" {
			all = append(all, c.Email)
		}
	}
	return all
}
