package main

import (
	"fmt"
	"net/mail"
	"strings"

	"stubbled/config"
	"stubbled/notify/email"
	"stubbled/notify/sms/spool"
)

// outside adds what reaches beyond this machine.
func (l *links) outside(e *env, farm *config.Farm) error {
	switch farm.Carriers.SMS.Via {
	case config.Spool:
		if err := l.modem(e, farm); err != nil {
			return fmt.Errorf("carriers.sms: %w", err)
		}
	case config.HTTP:
		if err := l.provider(e, farm); err != nil {
			return fmt.Errorf("carriers.sms: %w", err)
		}
	}
	if farm.Carriers.Email != nil {
		if err := l.mail(e, farm, *farm.Carriers.Email); err != nil {
			return fmt.Errorf("carriers.email: %w", err)
		}
	}
	if err := l.weather(e, farm); err != nil {
		return fmt.Errorf("weather: %w", err)
	}
	return nil
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

// mail is mail out, and in where the farm file names a mailbox.
func (l *links) mail(e *env, farm *config.Farm, c config.Email) error {
	tokens, err := tokensOf(c)
	if err != nil {
		return err
	}
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
	if c.IMAP == nil {
		return nil
	}
	box, err := mailServer(c.IMAP.MailServer)
	if err != nil {
		return err
	}
	receiver, err := email.NewReceiver(email.Incoming{
		Server: box, Folder: c.IMAP.Mailbox, Replies: tokens, AuthServID: c.Authserv, Poll: c.IMAP.Poll, Patience: c.IMAP.Timeout, Log: logger(e),
		Known:    func(address string) bool { return knownMail(farm, address) },
		Everyone: func() []string { return mailboxes(farm) },
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
