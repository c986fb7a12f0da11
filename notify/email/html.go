package email

import (
	"strings"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"
)

// A mark says what an element of a page is to its reader.
type mark uint

const (
	void      mark = 1 << iota // it has no end
	block                      // it begins and ends a line
	hidden                     // it is not shown
	quote                      // it is quoted
	quoteRest                  // and so is all that follows
)

var elementMarks = map[atom.Atom]mark{
	atom.Br: void, atom.Img: void, atom.Input: void, atom.Meta: void, atom.Link: void, atom.Area: void, atom.Col: void,
	atom.Wbr: void, atom.Base: void, atom.Hr: void | block,

	atom.P: block, atom.Div: block, atom.Li: block, atom.Ul: block, atom.Ol: block, atom.Tr: block, atom.Table: block, atom.Pre: block,
	atom.H1: block, atom.H2: block, atom.H3: block, atom.H4: block, atom.H5: block, atom.H6: block,
	atom.Section: block, atom.Article: block, atom.Footer: block, atom.Header: block, atom.Blockquote: block | quote,

	atom.Script: hidden, atom.Style: hidden, atom.Head: hidden, atom.Title: hidden, atom.Template: hidden, atom.Textarea: hidden,
	atom.Noscript: hidden,
}

// The classes and ids by which mail programs tell the quote from the text, seen
// in the mails that they write (from memory).
var (
	classMarks = map[string]mark{
		"gmail_quote": quote, "gmail_attr": quote, "yahoo_quoted": quote, "moz-cite-prefix": quote, "protonmail_quote": quote,
		"zmail_extra": quote, "gmail_signature": hidden, "moz-signature": hidden, "ms-outlook-mobile-signature": hidden,
	}
	idMarks = map[string]mark{
		"divRplyFwdMsg": quoteRest, "appendonsend": quoteRest, "mail-editor-reference-message-container": quoteRest,
		"ms-outlook-mobile-signature": hidden, "Signature": hidden,
	}
)

func attributeMarks(a html.Attribute) (is mark) {
	switch a.Key {
	case "class":
		for c := range strings.FieldsSeq(a.Val) {
			is |= classMarks[c]
		}
	case "id":
		is = idMarks[a.Val]
	case "style":
		s := strings.ReplaceAll(strings.ToLower(a.Val), " ", "")
		if strings.Contains(s, "display:none") || strings.Contains(s, "visibility:hidden") {
			is = hidden
		}
	}
	return is
}

// htmlText is the text of an HTML mail. What is quoted begins with `> `, so
// that it is treated as in plain mail.
func htmlText(page string) string {
	z := html.NewTokenizer(strings.NewReader(page))
	z.SetMaxBuf(maxMail)
	w := htmlWriter{open: []element{{}}}
	for {
		switch z.Next() {
		case html.ErrorToken:
			return w.b.String()
		case html.TextToken:
			w.text(z.Token().Data)
		case html.StartTagToken:
			t := z.Token()
			w.edge(t.DataAtom)
			w.begin(t)
		case html.EndTagToken:
			w.end(z.Token().DataAtom)
		case html.SelfClosingTagToken:
			w.edge(z.Token().DataAtom)
		}
	}
}

// An element that is open: how it and all around it make it appear.
type element struct {
	atom   atom.Atom
	hidden bool
	quotes int
}

type htmlWriter struct {
	b      strings.Builder
	open   []element // the page itself, and in it what is open
	inLine bool
}

// maxOpen bounds the elements kept open: a page nested deeper is no reply.
const maxOpen = 500

func (w *htmlWriter) inner() element { return w.open[len(w.open)-1] }

func (w *htmlWriter) begin(t html.Token) {
	is, e := elementMarks[t.DataAtom], w.inner()
	if is&void != 0 || len(w.open) > maxOpen {
		return
	}
	for _, a := range t.Attr {
		is |= attributeMarks(a)
	}
	if is&quoteRest != 0 {
		w.newline()
		w.b.WriteString(strings.Repeat("_", 20) + "\n") // a divider, as in plain mail
	}
	e.atom = t.DataAtom
	e.hidden = e.hidden || is&hidden != 0
	if is&quote != 0 {
		w.newline()
		e.quotes++
	}
	w.open = append(w.open, e)
}

// end closes the innermost open element of a kind, and all in it.
func (w *htmlWriter) end(a atom.Atom) {
	if elementMarks[a]&block != 0 {
		w.newline()
	}
	for i := len(w.open) - 1; i > 0; i-- {
		if w.open[i].atom != a {
			continue
		}
		if w.inner().quotes > w.open[i-1].quotes {
			w.newline()
		}
		w.open = w.open[:i]
		return
	}
}

// edge is where a line ends, or an empty one stands.
func (w *htmlWriter) edge(a atom.Atom) {
	if a == atom.Br && !w.inLine && !w.inner().hidden {
		w.line()
	}
	if a == atom.Br || elementMarks[a]&block != 0 {
		w.newline()
	}
}

func (w *htmlWriter) text(s string) {
	if w.inner().hidden {
		return
	}
	for i, f := range strings.FieldsFunc(s, isHTMLSpace) {
		switch {
		case !w.inLine:
			w.line()
		case i > 0 || isHTMLSpace(rune(s[0])):
			w.b.WriteByte(' ')
		}
		w.b.WriteString(f)
	}
	if w.inLine && s != "" && isHTMLSpace(rune(s[len(s)-1])) {
		w.b.WriteByte(' ')
	}
}

func isHTMLSpace(r rune) bool { return strings.ContainsRune(" \t\n\r\f\u00a0", r) }

func (w *htmlWriter) line() {
	if w.inner().quotes > 0 {
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
