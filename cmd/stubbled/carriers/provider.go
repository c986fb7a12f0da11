package carriers

import (
	"strings"

	"stubbled/config/links"
	"stubbled/notify/sms/provider"
	"stubbled/notify/sms/signature"
	"stubbled/scheduler/ladder"
)

// provider is a service of texts or calls over HTTP, as the farm file describes it.
func (l *Links) provider(o Options, m ladder.Medium, where string, c *links.HTTPCarrier) error {
	service, err := providerOptions(c)
	service.Medium, service.Language = m, func(number string) string {
		to, _, _ := ladder.OwnerOf(o.Farm().Contacts, number)
		return to.Language
	}
	l.without(ladder.AlarmRepliesDown, "", where+".webhook", err)
	service.Log = o.Log
	if service.Webhook != nil {
		service.Webhook.Sure = o.Sure
	}
	p, err := provider.New(service, o.Now)
	if err != nil {
		return err
	}
	l.Carriers = append(l.Carriers, p)
	if service.Poll != nil || service.Webhook != nil {
		l.Receivers = append(l.Receivers, p)
	}
	return nil
}

// providerOptions is the service as the farm file describes it; the secret of
// its webhook is read; where that cannot be, all but the webhook is given.
func providerOptions(c *links.HTTPCarrier) (provider.Options, error) {
	o := provider.Options{Request: c.Request, Auth: provider.Auth{Auth: c.Auth.Auth}, Answer: c.Answer}
	if !c.Auth.Secret.IsZero() {
		o.Auth.Secret = c.Auth.Secret.Read
	}
	if c.Poll != nil {
		o.Poll = &c.Poll.Poll
	}
	if w := c.Webhook; w != nil {
		scheme, err := schemeOf(w.Signature)
		if err != nil {
			return o, err
		}
		o.Webhook = &provider.Webhook{Webhook: w.Webhook, Paths: w.Paths, Scheme: scheme}
	}
	return o, nil
}

// schemeOf is how a webhook's requests are signed.
func schemeOf(s links.Signature) (signature.Scheme, error) {
	secret, err := s.Secret.Read()
	if err != nil {
		return nil, err
	}
	keys := strings.Fields(string(secret)) // two while they are being changed
	switch s.Scheme {
	case links.HMACOverURL:
		return signature.HMACOverURL(secret, s.Header, s.Hash)
	case links.HMACOverBody:
		all := make([][]byte, len(keys))
		for i, k := range keys {
			all[i] = []byte(k)
		}
		return signature.HMACOverBody(s.Layout, all...)
	case links.Ed25519OverBody:
		return signature.Ed25519OverBody(s.Layout, keys...)
	}
	return signature.StandardWebhooks(keys...)
}
