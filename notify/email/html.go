package email

import (
	"slices"
	"strings"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"
)

// htmlText is the text of an HTML mail. What is quoted begins with `> `, so
// that it is treated as in plain mail.
func htmlText(page string) string {
	z := html.NewTokenizer(strings.NewReader(page))
	z.SetMaxBuf(maxMail)
	var w htmlWriter
	for {
		switch z.Next() {
		case html.ErrorToken:
			return w.b.String()
		case html.TextToken:
			w.text(z.Token().Data)
		case html.StartTagToken:
			w.open(z.Token())
		case html.EndTagToken:
			w.close(z.Token())
		case html.SelfClosingTagToken:
			w.void(z.Token().DataAtom)
		}
	}
}

// An element that is open.
type element struct {
	atom   atom.Atom
	hidden bool
	quoted bool
}

type htmlWriter struct {
	b      strings.Builder
	stack  []element
	hidden int // open elements that are not shown
	quoted int // open elements that are quoted
	inLine bool
}

// maxOpen bounds the elements kept open: a page nested deeper is no reply.
const maxOpen = 500

func (w *htmlWriter) open(t html.Token) {
	w.void(t.DataAtom)
	switch t.DataAtom {
	case atom.Br, atom.Hr, atom.Img, atom.Input, atom.Meta, atom.Link, atom.Area, atom.Col, atom.Wbr, atom.Base:
		return
	}
	if len(w.stack) >= maxOpen {
		return
	}
	e := element{atom: t.DataAtom}
	switch t.DataAtom {
	case atom.Script, atom.Style, atom.Head, atom.Title, atom.Template, atom.Textarea, atom.Noscript:
		e.hidden = true
	case atom.Blockquote:
		e.quoted = true
	}
	w.marks(t, &e)
	if e.hidden {
		w.hidden++
	}
	if e.quoted {
		w.newline()
		w.quoted++
	}
	w.stack = append(w.stack, e)
}

// marks are those by which mail programs tell the quote from the text, seen in
// the mails that they write (from memory).
func (w *htmlWriter) marks(t html.Token, e *element) {
	for _, a := range t.Attr {
		switch a.Key {
		case "class":
			for c := range strings.FieldsSeq(a.Val) {
				switch c {
				case "gmail_quote", "gmail_attr", "yahoo_quoted", "moz-cite-prefix", "protonmail_quote", "zmail_extra":
					e.quoted = true
				case "gmail_signature", "moz-signature", "ms-outlook-mobile-signature":
					e.hidden = true
				}
			}
		case "id":
			switch a.Val {
			case "divRplyFwdMsg", "appendonsend", "mail-editor-reference-message-container":
				w.newline()
				w.b.WriteString(strings.Repeat("_", 20)) // all that follows is quoted
				w.inLine = true
				w.newline()
			case "ms-outlook-mobile-signature", "Signature":
				e.hidden = true
			}
		case "style":
			s := strings.ReplaceAll(strings.ToLower(a.Val), " ", "")
			if strings.Contains(s, "display:none") || strings.Contains(s, "visibility:hidden") {
				e.hidden = true
			}
		}
	}
}

func (w *htmlWriter) close(t html.Token) {
	if block(t.DataAtom) {
		w.newline()
	}
	i := len(w.stack) - 1
	for i >= 0 && w.stack[i].atom != t.DataAtom {
		i--
	}
	if i < 0 {
		return
	}
	for _, e := range slices.Backward(w.stack[i:]) {
		if e.hidden {
			w.hidden--
		}
		if e.quoted {
			w.newline()
			w.quoted--
		}
	}
	w.stack = w.stack[:i]
}

func (w *htmlWriter) void(a atom.Atom) {
	switch {
	case a == atom.Br:
		if !w.inLine && w.hidden == 0 {
			w.begin()
		}
		w.newline()
	case block(a):
		w.newline()
	}
}

func block(a atom.Atom) bool {
	switch a {
	case atom.P, atom.Div, atom.Li, atom.Ul, atom.Ol, atom.Tr, atom.Table, atom.Blockquote, atom.Pre, atom.Hr,
		atom.H1, atom.H2, atom.H3, atom.H4, atom.H5, atom.H6, atom.Section, atom.Article, atom.Footer, atom.Header:
		return true
	}
	return false
}

func (w *htmlWriter) text(s string) {
	if w.hidden > 0 {
		return
	}
	for i, f := range strings.FieldsFunc(s, isHTMLSpace) {
		switch {
		case !w.inLine:
			w.begin()
		case i > 0 || isHTMLSpace(rune(s[0])):
			w.b.WriteByte(' ')
		}
		w.b.WriteString(f)
	}
	if w.inLine && s != "" && isHTMLSpace(rune(s[len(s)-1])) {
		w.b.WriteByte(' ')
	}
}

func isHTMLSpace(r rune) bool {
	return r == ' ' || r == '\t' || r == '\n' || r == '\r' || r == '\f' || r == '\u00a0'
}

func (w *htmlWriter) begin() {
	if w.quoted > 0 {
		w.b.WriteString("> ")
	}
	w.inLine = true
}

func (w *htmlWriter) newline() {
	if w.inLine {
		w.b.WriteByte('\n')
		w.inLine = false
	}
}
