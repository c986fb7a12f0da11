package email

import (
	"context"
	"errors"
	"fmt"
	"net"
	"slices"
	"time"

	"github.com/emersion/go-imap/v2"
	"github.com/emersion/go-imap/v2/imapclient"
	"github.com/emersion/go-sasl"

	"stubbled/notify"
)

// A mailbox is one open conversation with an IMAP server. Every command runs
// under its own deadline, and a deadline that passes closes the connection:
// the library waits for the first byte of an answer for ever, and closing is
// the one thing that frees it.
type mailbox struct {
	conn     net.Conn
	client   *imapclient.Client
	patience time.Duration
	news     chan struct{} // the server said that the mailbox has changed
	idles    bool          // the server can tell by itself

	validity uint32
}

var errStalled = fmt.Errorf("no answer to a command: %w", context.DeadlineExceeded)

// openMailbox connects, logs in and opens the folder for reading only: what a
// person sees as unread stays unread.
func openMailbox(ctx context.Context, s Server, folder string, patience time.Duration) (*mailbox, error) {
	dialCtx, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	conn, err := dialServer(dialCtx, s)
	if err != nil {
		return nil, faultOf(s, err)
	}
	m := &mailbox{conn: conn, patience: patience, news: make(chan struct{}, 1)}
	if err := m.begin(ctx, s, folder); err != nil {
		m.close()
		return nil, err
	}
	return m, nil
}

func (m *mailbox) begin(ctx context.Context, s Server, folder string) error {
	// The handler does no more than leave word: commands from inside it hang.
	tell := func() {
		select {
		case m.news <- struct{}{}:
		default:
		}
	}
	opts := &imapclient.Options{TLSConfig: s.tls(), UnilateralDataHandler: &imapclient.UnilateralDataHandler{
		Mailbox: func(*imapclient.UnilateralDataMailbox) { tell() },
		Expunge: func(uint32) { tell() },
	}}
	err := m.within(ctx, m.patience, func() (err error) {
		if s.Security == TLS || s.Security == Plain {
			m.client = imapclient.New(m.conn, opts)
		} else {
			m.client, err = imapclient.NewStartTLS(m.conn, opts)
		}
		if err == nil {
			err = m.client.WaitGreeting()
		}
		return err
	})
	if no, ok := errors.AsType[*imap.Error](err); ok && s.Security != TLS && s.Security != Plain {
		return &fault{noStartTLS(s), "use security tls with port 993", no}
	}
	if err != nil {
		return faultOf(s, err)
	}
	if s.User != "" {
		if err := m.within(ctx, m.patience, func() error { return m.login(s) }); err != nil {
			return loginFault(s, err)
		}
	}
	return m.within(ctx, m.patience, func() error {
		d, err := m.client.Select(folder, &imap.SelectOptions{ReadOnly: true}).Wait()
		if err != nil {
			return folderFault(s, folder, err)
		}
		m.validity = d.UIDValidity
		m.idles = m.client.Caps().Has(imap.CapIdle)
		return nil
	})
}

func (m *mailbox) login(s Server) error {
	if m.client.Caps().Has(imap.AuthCap(sasl.Plain)) {
		return m.client.Authenticate(sasl.NewPlainClient("", s.User, s.Password))
	}
	return m.client.Login(s.User, s.Password).Wait()
}

// within runs a command under a deadline.
func (m *mailbox) within(ctx context.Context, d time.Duration, command func() error) error {
	ctx, cancel := context.WithTimeoutCause(ctx, d, errStalled)
	defer cancel()
	stop := closeWith(ctx, m.conn)
	err := command()
	if !stop() && ctx.Err() != nil {
		return context.Cause(ctx)
	}
	return err
}

// close ends the conversation without ceremony.
func (m *mailbox) close() {
	_ = m.conn.Close()
	if m.client != nil {
		<-m.client.Closed()
	}
}

// after lists the UIDs above one, in order.
func (m *mailbox) after(ctx context.Context, uid uint32) ([]imap.UID, error) {
	uids, err := m.search(ctx, &imap.SearchCriteria{UID: []imap.UIDSet{{imap.UIDRange{Start: imap.UID(uid) + 1}}}})
	// `n:*` gives the last message even where n is beyond it.
	return slices.DeleteFunc(uids, func(u imap.UID) bool { return uint32(u) <= uid }), err
}

// search lists the UIDs of what is asked for, in order.
func (m *mailbox) search(ctx context.Context, c *imap.SearchCriteria) (uids []imap.UID, err error) {
	err = m.within(ctx, m.patience, func() error {
		d, err := m.client.UIDSearch(c, nil).Wait()
		if err == nil {
			uids = d.AllUIDs()
		}
		return err
	})
	slices.Sort(uids)
	return uids, err
}

// fetch takes the first bytes of a mail's header or of the whole; nil where the
// mail is gone.
func (m *mailbox) fetch(ctx context.Context, uid imap.UID, part imap.PartSpecifier, size int64) (raw []byte, err error) {
	section := &imap.FetchItemBodySection{Specifier: part, Peek: true, Partial: &imap.SectionPartial{Size: size}}
	slow := m.patience * time.Duration(size/maxHeader) // a weak signal is no fault: about 1 KiB/s is enough
	err = m.within(ctx, m.patience+slow, func() error {
		got, err := m.client.Fetch(imap.UIDSetNum(uid), &imap.FetchOptions{UID: true, BodySection: []*imap.FetchItemBodySection{section}}).Collect()
		if err != nil {
			return err
		}
		for _, g := range got {
			if g.UID == uid && len(g.BodySection) > 0 {
				raw = g.BodySection[0].Bytes
			}
		}
		return nil
	})
	return raw[:min(int64(len(raw)), size)], err
}

// wait comes back when the server says that something has changed, or after a
// time; what has changed is for a search to find. The connection is proved
// alive each time: a peer that went silent is noticed here.
func (m *mailbox) wait(ctx context.Context, d time.Duration) error {
	if !m.idles {
		if err := notify.Wait(ctx, d); err != nil {
			return err
		}
		return m.within(ctx, m.patience, func() error { return m.client.Noop().Wait() })
	}
	var idle *imapclient.IdleCommand
	err := m.within(ctx, m.patience, func() (err error) {
		idle, err = m.client.Idle()
		return err
	})
	if err != nil {
		return err
	}
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-t.C:
	case <-m.news:
	case <-m.client.Closed():
	case <-ctx.Done():
		return ctx.Err()
	}
	return m.within(ctx, m.patience, func() error { return errors.Join(idle.Close(), idle.Wait()) })
}

var errLogin = errors.New("login refused")

func loginFault(s Server, err error) error {
	no, ok := errors.AsType[*imap.Error](err)
	if !ok {
		return faultOf(s, err)
	}
	what := fmt.Sprintf("%s refuses the login: %s", s, told(no.Text))
	if no.Code == imap.ResponseCodeUnavailable {
		return &fault{what, "the server cannot check passwords just now; it will be tried again", err}
	}
	return &fault{what, "check user and password file (some providers want an app password, or IMAP switched on in the account)", errLogin}
}

func folderFault(s Server, folder string, err error) error {
	no, ok := errors.AsType[*imap.Error](err)
	if !ok {
		return faultOf(s, err)
	}
	return &fault{fmt.Sprintf("%s does not open the folder %q: %s", s, folder, told(no.Text)), "name a folder that is there; INBOX always is", err}
}
