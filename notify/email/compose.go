package email

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"net/mail"
	"regexp"
	"strings"

	gomail "github.com/wneessen/go-mail"

	"stubbled/notify"
)

// headerAutoSubmitted is RFC 3834 section 5.
const headerAutoSubmitted gomail.Header = "Auto-Submitted"

// lineEnds makes every end of a line one that the library turns into mail's.
var lineEnds = strings.NewReplacer("\r\n", "\n", "\r", "\n")

// compose writes the mail of an envelope: the same bytes each time.
func (s *Sender) compose(e notify.Envelope) ([]byte, error) {
	m := gomail.NewMsg(gomail.WithNoDefaultUserAgent())
	s.head(m, e)
	m.SetBodyString(gomail.TypeTextPlain, lineEnds.Replace(e.Text))
	if e.HTML != "" {
		m.AddAlternativeString(gomail.TypeTextHTML, lineEnds.Replace(e.HTML))
	}
	for _, f := range e.Files {
		if err := addFile(m, f, e.HTML != ""); err != nil {
			return nil, fmt.Errorf("file %q: %w", f.Name, err)
		}
	}
	var b bytes.Buffer
	if _, err := m.WriteTo(&b); err != nil {
		return nil, fmt.Errorf("write mail %s: %w", e.ID, err)
	}
	return steady(b.Bytes(), e.ID), nil
}

func (s *Sender) head(m *gomail.Msg, e notify.Envelope) {
	m.FromMailAddress(&mail.Address{Name: notify.OneLine(s.o.From.Name), Address: s.o.From.Address})
	m.AddToMailAddress(&mail.Address{Name: notify.OneLine(e.ToName), Address: e.Address})
	m.Subject(notify.OneLine(e.Subject))
	m.SetMessageIDWithValue(s.messageID(e))
	m.SetDateWithValue(e.Date)
	auto := "auto-generated"
	if e.Answer {
		auto = "auto-replied"
	}
	m.SetGenHeader(headerAutoSubmitted, auto)
	// Keeps holiday notices from being written at all where the other side
	// knows it (common practice among mail servers).
	m.SetGenHeader(gomail.HeaderXAutoResponseSuppress, "All")
	if id := bareID(e.InReplyTo); id != "" {
		m.SetGenHeader(gomail.HeaderInReplyTo, "<"+id+">")
		m.SetGenHeader(gomail.HeaderReferences, "<"+id+">")
	}
	if s.o.Replies != nil {
		m.ReplyToMailAddress(&mail.Address{
			Name:    notify.OneLine(s.o.From.Name),
			Address: s.o.Replies.ReplyTo(e.ID, e.Address),
		})
	}
}

// messageID is the one frozen with the envelope, or one that follows from its
// ID.
func (s *Sender) messageID(e notify.Envelope) string {
	if id := bareID(e.MessageID); id != "" {
		return id
	}
	if s.o.Replies != nil {
		return s.o.Replies.MessageID(e.ID, e.Address)
	}
	sum := sha256.Sum256([]byte(e.ID))
	return hex.EncodeToString(sum[:16]) + s.o.From.Address[strings.LastIndexByte(s.o.From.Address, '@'):]
}

func addFile(m *gomail.Msg, f notify.File, html bool) error {
	opts := []gomail.FileOption{gomail.WithFileContentType(gomail.ContentType(notify.OneLine(f.Type)))}
	name := notify.OneLine(f.Name)
	if f.CID == "" || !html {
		return m.AttachReader(name, bytes.NewReader(f.Data), opts...)
	}
	cid := strings.Trim(notify.OneLine(f.CID), "<>")
	return m.EmbedReader(name, bytes.NewReader(f.Data), append(opts, gomail.WithFileContentID("<"+cid+">"))...)
}

var boundary = regexp.MustCompile(`boundary=([0-9a-f]{60})`)

// steady puts boundaries that follow from the ID where the library has put
// random ones: it can be told one boundary only, and nested parts need several.
func steady(msg []byte, id string) []byte {
	for n, b := range boundary.FindAllSubmatch(msg, 3) {
		sum := sha256.Sum256(fmt.Appendf(nil, "%s boundary %d", id, n))
		msg = bytes.ReplaceAll(msg, b[1], []byte(hex.EncodeToString(sum[:])[:60]))
	}
	return msg
}
