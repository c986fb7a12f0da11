package email

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The quotes are written as mail programs write them (from memory; the words
// around them are invented).
func TestWhatThePersonTyped(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"nothing but the text", "creek 14 8 6 8", "creek 14 8 6 8"},
		{"text above the quote", "off creek\n\nOn Sat, Aug 22, 2026 at 6:30 AM Quail Fork <farm@example.org> wrote:\n\n> Creek shuts Sep 1.\n> Reply STOP to end these mails.\n", "off creek"},
		{"the line before the quote is broken in two", "9\n\nOn Sat, Aug 22, 2026 at 6:30 AM Quail Fork\n<farm+r.o-17.abcdefghijklmnop@example.org> wrote:\n> Creek\n", "9"},
		{"and in three", "9\n\nOn Saturday, August 22, 2026 at 6:30 AM CDT,\nQuail Fork <farm+r.o-17.abc@example.org>\nwrote:\n> Creek\n", "9"},
		{"in Spanish", "creek 22 cm\n\nEl sáb, 22 ago 2026 a las 6:30, Quail Fork (<farm@example.org>) escribió:\n> Creek se cierra\n", "creek 22 cm"},
		{"in Spanish, by another program", "ya está vacío\n\nEl 22/8/26 a las 6:30, Quail Fork escribió:\n>\n> Creek", "ya está vacío"},
		{"in German", "off creek\n\nAm 22.08.26 um 06:30 schrieb Quail Fork:\n> Creek", "off creek"},
		{"in French", "off creek\n\nLe sam. 22 août 2026 à 06:30, Quail Fork <farm@example.org> a écrit :\n> Creek", "off creek"},
		{"in Portuguese", "off creek\n\nEm sáb., 22 de ago. de 2026 às 06:30, Quail Fork <farm@example.org> escreveu:\n> Creek", "off creek"},
		{"text below the quote", "On Sat, Aug 22, 2026 at 6:30 AM Quail Fork <farm@example.org> wrote:\n> Creek shuts Sep 1.\n> Text: creek 9 8 11\n\ncreek 9 8 11\n", "creek 9 8 11"},
		{"text between the quotes", "On 8/22/26 6:30 AM, Quail Fork wrote:\n> Creek?\ncreek 9\n> Hill?\nhill 10\n", "creek 9\nhill 10"},
		{"the quote is not marked", "off creek\n\nOn Aug 22, 2026, at 6:30 AM, Quail Fork <farm@example.org> wrote:\n\nCreek shuts Sep 1. Text: off creek\nReply STOP to end these mails.", "off creek"},
		{"a divider", "9 8 11\n\n-----Original Message-----\nFrom: Quail Fork\nSent: Saturday\nTo: Ana\nCreek shuts", "9 8 11"},
		{"a Spanish divider", "9 8 11\n\n-----Mensaje original-----\nDe: Quail Fork\n\nCreek", "9 8 11"},
		{"a line of underscores", "off creek\nGet Outlook for iOS\n________________________________\nFrom: Quail Fork <farm@example.org>\nSent: Saturday, August 22, 2026 6:30 AM\nTo: Ana\nSubject: Creek shuts\n\nCreek shuts Sep 1", "off creek"},
		{"a head without a divider", "off creek\n\nFrom: Quail Fork <farm@example.org>\nDate: Saturday, August 22, 2026 at 6:30 AM\nTo: Ana <ana@example.org>\nSubject: Creek shuts Sep 1\n\nCreek shuts", "off creek"},
		{"a head in bold stars, in Spanish", "off creek\n\n*De:* Quail Fork\n*Enviado el:* sábado, 22 de agosto\n*Para:* Ana\n*Asunto:* Creek\n\nCreek", "off creek"},
		{"a signature", "creek 9\n-- \nAna Ruiz\nInvented Ranch, 5 miles north 40", "creek 9"},
		{"a phone's own line", "creek 9\n\nSent from my iPhone", "creek 9"},
		{"a phone's own line in Spanish", "creek 9\n\nEnviado desde mi iPhone\n\n> El 22 ago", "creek 9"},
		{"a phone's line, then the quote, then text below", "Sent from my phone\n> Creek?\n\ncreek 9", "creek 9"},
		{"our own line on opting out comes back unmarked", "creek 9\n\nReply STOP to end these mails.", "creek 9"},
		{"and in Spanish", "creek 9\nResponda STOP para no recibir más.", "creek 9"},
		{"and nothing else", "> Creek\n\nReply STOP to opt out, HELP for help.", ""},
		{"a real stop", "STOP\n\nOn Sat, Aug 22, 2026 Quail Fork wrote:\n> Reply STOP to end these mails.", "STOP"},
		{"a stop in a sentence", "please stop writing me", "please stop writing me"},
		{"several lines", "creek 9 8 11\nhill 7 7\n\nthanks", "creek 9 8 11\nhill 7 7\n\nthanks"},
		{"a sentence that begins like a quote", "On creek: 9 8 11", "On creek: 9 8 11"},
		{"'on hill cows' is a fact", "on hill cows", "on hill cows"},
		{"'on' with a number is no quote", "on hill 38 cows", "on hill 38 cows"},
		{"a mail that begins From", "From creek to hill, all cows", "From creek to hill, all cows"},
		{"only a quote", "> Creek shuts Sep 1.\n> Leave 8 in.", ""},
		{"nothing", "", ""},
		{"three quote marks deep", ">>> a\n>> b\n> c\noff creek", "off creek"},
	} {
		if got := typed(c.text); got != c.want {
			t.Errorf("%s: got %q, want %q", c.name, got, c.want)
		}
	}
}

func TestMarkedQuotesNeverComeThrough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := rapid.SliceOfN(rapid.StringMatching(`> ?[a-z ]{0,20}(stop|quoted)[a-z ]{0,20}`), 0, 8).Draw(t, "quoted")
		own := rapid.StringMatching(`[a-z]{2,8} [1-9][0-9]?`).Draw(t, "typed")
		at := rapid.IntRange(0, len(lines)).Draw(t, "at")
		all := append(append(append([]string{}, lines[:at]...), own), lines[at:]...)
		if got := typed(strings.Join(all, "\n")); got != own {
			t.Fatalf("%q: got %q, want %q", all, got, own)
		}
	})
}

// RFC 3676 section 4.
func TestFlowedLinesAreJoined(t *testing.T) {
	for _, c := range []struct {
		name, text string
		delSp      bool
		want       string
	}{
		{"a soft break", "creek 14 8 \n6 8", false, "creek 14 8 6 8"},
		{"a soft break whose space goes", "nort \nh 40", true, "north 40"},
		{"a hard break", "creek 14\nhill 8", false, "creek 14\nhill 8"},
		{"quotes join only at one depth", ">a \n>b \n>>c\nd", false, ">a b \n>>c\nd"},
		{"a stuffed line", " >not a quote\n From", false, ">not a quote\nFrom"},
		{"the signature line is no soft break", "creek 9\n-- \nAna", false, "creek 9\n-- \nAna"},
		{"a soft break before the signature line", "creek 9 \n-- \nAna", false, "creek 9 \n-- \nAna"},
	} {
		if got := unflow(c.text, c.delSp); got != c.want {
			t.Errorf("%s: got %q, want %q", c.name, got, c.want)
		}
	}
}

func TestHTMLBecomesTextWithItsQuotesMarked(t *testing.T) {
	for _, c := range []struct{ name, page, want string }{
		{"a web mail's reply", `<div dir="ltr">off creek</div><br><div class="gmail_quote gmail_quote_container"><div dir="ltr" class="gmail_attr">On Sat, Aug 22, 2026 at 6:30 AM Quail Fork &lt;<a href="mailto:x">farm@example.org</a>&gt; wrote:<br></div><blockquote class="gmail_quote"><p>Creek shuts.</p><p>Reply STOP to end.</p></blockquote></div>`, "off creek"},
		{"a desktop program's reply below the quote", `<html><head><style>p{}</style><title>x</title></head><body><div class="moz-cite-prefix">On 8/22/26 06:30, Quail Fork wrote:<br></div><blockquote type="cite"><p>Creek?</p></blockquote><p>creek&nbsp;9 8&nbsp;11</p></body></html>`, "creek 9 8 11"},
		{"an office program's reply", `<div>hill 10 9</div><div id="appendonsend"></div><hr><div id="divRplyFwdMsg"><b>From:</b> Quail Fork<br><b>Sent:</b> Saturday</div><div>Creek shuts. Text: off creek</div>`, "hill 10 9"},
		{"a phone's reply", `<div dir="auto">9 8 11<div><br></div><div id="ms-outlook-mobile-signature">Get an app</div></div>`, "9 8 11"},
		{"a quote without marks but a line before it", `<p>off creek</p><p>On Aug 22, 2026, at 6:30, Quail Fork wrote:</p><p>Creek shuts. off hill</p>`, "off creek"},
		{"hidden text", `<div style="display: none">stop</div><script>stop</script><!-- stop --><p>creek 9</p>`, "creek 9"},
		{"tags never closed", `<div><blockquote>stop</blockquote><b>creek <i>9`, "creek 9"},
		{"closing tags never opened", `</blockquote></div>creek 9</p>`, "creek 9"},
		{"entities", `Creek &#52; &frac12; &amp; 9`, "Creek 4 ½ & 9"},
	} {
		if got := typed(tidy(htmlText(c.page))); got != c.want {
			t.Errorf("%s: got %q, want %q", c.name, got, c.want)
		}
	}
}

func TestDeepHTMLIsBounded(t *testing.T) {
	page := strings.Repeat("<blockquote><div>", 100_000) + "creek 9"
	if got := typed(tidy(htmlText(page))); got != "" {
		t.Errorf("got %q", got)
	}
}
