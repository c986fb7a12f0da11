package provider

import (
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"net"
	"net/url"
)

// Check proves the service without sending anything: the secret can be read,
// the address answers with a good certificate, and, where there is an address
// to ask, the password is right. The webhook's port is free or ours.
func (p *Provider) Check(ctx context.Context) error {
	if p.o.Auth.Kind != "none" {
		if _, err := p.secret(); err != nil {
			return err
		}
	}
	errs := []error{p.reach(ctx, p.o.URL)}
	switch {
	case p.o.CheckURL != "":
		_, err := p.get(ctx, p.o.CheckURL)
		errs = append(errs, err)
	case p.o.Poll != nil:
		address, err := p.pollURL("")
		if err == nil {
			var tree any
			if tree, err = p.page(ctx, address); err == nil && tree != nil {
				_, err = list(tree, p.o.Poll.List)
			}
		}
		errs = append(errs, err)
	}
	return errors.Join(errs...)
}

// reach opens a connection to an address, and closes it.
func (p *Provider) reach(ctx context.Context, address string) error {
	u, err := url.Parse(address)
	if err != nil {
		return err
	}
	port := u.Port()
	if port == "" {
		port = u.Scheme
	}
	ctx, cancel := context.WithTimeout(ctx, p.o.Timeout)
	defer cancel()
	var d interface {
		DialContext(context.Context, string, string) (net.Conn, error)
	} = &net.Dialer{}
	if u.Scheme == "https" {
		d = &tls.Dialer{Config: verified(p.o)}
	}
	conn, err := d.DialContext(ctx, "tcp", net.JoinHostPort(u.Hostname(), port))
	if err != nil {
		return fmt.Errorf("%s: %s", u.Host, inWords(err))
	}
	return conn.Close()
}
