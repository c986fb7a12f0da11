package email

import (
	"io"
	"iter"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/emersion/go-message"
	// Teaches the reader the character sets of mail.
	_ "github.com/emersion/go-message/charset"
	"golang.org/x/text/encoding/charmap"
)

// bodies are the readable parts of a mail.
type bodies struct {
	texts, pages []string // of the text parts, and of the HTML ones
	parts, size  int
}

// partsOf are the parts of a multipart as far as they can be read.
func partsOf(mr message.MultipartReader) iter.Seq[*message.Entity] {
	return func(yield func(*message.Entity) bool) {
		for {
			if p, err := mr.NextPart(); p == nil || broken(err) || !yield(p) {
				return
			}
		}
	}
}

// read takes the text parts of an entity and of what is inside it. A part
// that is broken off or not understood is left at that: what was read before
// stands.
func (b *bodies) read(e *message.Entity, depth int) {
	if depth > maxDepth {
		return
	}
	if mr := e.MultipartReader(); mr != nil {
		for p := range partsOf(mr) {
			if b.parts++; b.parts > maxParts {
				return
			}
			b.read(p, depth+1)
		}
		return
	}
	kind, params, err := e.Header.ContentType()
	if err != nil && !strings.Contains(kind, "/") { // RFC 2045 section 5.2
		kind = "text/plain"
	}
	disposition, _, _ := e.Header.ContentDisposition()
	if strings.EqualFold(disposition, "attachment") || b.size >= maxMail {
		return
	}
	switch strings.ToLower(kind) {
	case "text/plain":
		text := b.text(e)
		if strings.EqualFold(params["format"], "flowed") {
			text = unflow(text, strings.EqualFold(params["delsp"], "yes"))
		}
		b.texts = append(b.texts, text)
	case "text/html":
		b.pages = append(b.pages, b.text(e))
	}
}

func (b *bodies) text(e *message.Entity) string {
	raw, _ := io.ReadAll(io.LimitReader(e.Body, int64(maxMail-b.size))) // what was read before an error is good
	b.size += len(raw)
	return tidy(utf8Text(raw))
}

// utf8Text makes text of bytes whose character set was unknown or a lie:
// what is UTF-8 is taken so, anything else as Windows-1252, of which Latin-1
// is a part (common practice among mail readers).
func utf8Text(b []byte) string {
	if utf8.Valid(b) {
		return string(b)
	}
	out, _ := charmap.Windows1252.NewDecoder().Bytes(b) // which knows every byte
	return string(out)
}

// tidy leaves letters, line ends and spaces: no control characters, no marks
// that turn or hide what stands beside them.
func tidy(s string) string {
	s = strings.ReplaceAll(s, "\r\n", "\n")
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return r
		case r == '\r', r == '\u2028', r == '\u2029', r == '\v', r == '\f':
			return '\n'
		case r == '\u00ad' || unicode.Is(unicode.Cf, r):
			return -1
		case unicode.IsControl(r) && r != '\t':
			return -1
		case unicode.IsSpace(r), r == '\u2800':
			return ' '
		}
		return r
	}, s)
}

// unflow joins the lines that format=flowed has broken (RFC 3676 section 4.2):
// a line that ends in a space goes on in the next one of the same quote depth.
// Quote marks are kept; the signature line `-- ` is never joined.
func unflow(text string, delSp bool) string {
	var (
		out   []string
		open  bool // the last line of out goes on
		depth int
	)
	for line := range strings.SplitSeq(text, "\n") {
		d := 0
		for d < len(line) && line[d] == '>' {
			d++
		}
		body := strings.TrimPrefix(line[d:], " ") // space-stuffing, section 4.4
		signature := body == "-- "
		flows := strings.HasSuffix(body, " ") && !signature
		if delSp && flows {
			body = strings.TrimSuffix(body, " ")
		}
		if open && d == depth && !signature {
			out[len(out)-1] += body
		} else {
			out = append(out, strings.Repeat(">", d)+body)
		}
		open, depth = flows, d
	}
	return strings.Join(out, "\n")
}
