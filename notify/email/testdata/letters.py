"""Writes mails by Python's own email package, one JSON object a line: name,
mail (base64) and the text that the person typed. All people are invented."""
import base64, email.policy, json, sys
from email.message import EmailMessage
from email.mime.multipart import MIMEMultipart
from email.mime.text import MIMEText
from email.mime.application import MIMEApplication

sys.setrecursionlimit(20_000)

QUOTE = "On Sat, Aug 22, 2026 at 6:30 AM Quail Fork <farm@example.org> wrote:\n> Creek shuts Sep 1.\n> Reply STOP to end these mails.\n"


def head(m):
    m["From"] = "Ana Ruiz <ana@example.org>"
    m["To"] = "farm@example.org"
    m["Subject"] = "Re: Creek shuts Sep 1"
    m["Date"] = "Sat, 22 Aug 2026 07:15:00 -0500"
    m["Message-ID"] = "<1@phone.example.org>"
    return m


def say(name, m, typed):
    raw = m if isinstance(m, bytes) else m.as_bytes(policy=email.policy.SMTP)
    print(json.dumps({"name": name, "mail": base64.b64encode(raw).decode(), "typed": typed}))


def plain(text, charset="utf-8", cte=None, **params):
    m = head(EmailMessage())
    m.set_content(text, charset=charset, cte=cte, **({"params": params} if params else {}))
    return m


say("7 bit", plain("creek 14 8 6 8\n\n" + QUOTE), "creek 14 8 6 8")
say("quoted-printable, UTF-8", plain("mañana vacío — creek 22 cm\n\n" + QUOTE, cte="quoted-printable"), "mañana vacío — creek 22 cm")
say("base64, Latin-1", plain("año de sequía: creek 9½\n", "iso-8859-1", "base64"), "año de sequía: creek 9½")
say("8 bit, Latin-15", plain("creek 9 €\n", "iso-8859-15", "8bit"), "creek 9 €")
say("8 bit, Windows-1252", plain("creek “nine” … 9\n", "windows-1252", "8bit"), "creek “nine” … 9")
say("Shift JIS", plain("creek 9 牧草\n", "shift_jis", "base64"), "creek 9 牧草")
say("GB 18030", plain("creek 9 草\n", "gb18030", "base64"), "creek 9 草")
say("KOI8-R", plain("creek 9 трава\n", "koi8-r", "8bit"), "creek 9 трава")
say("flowed", plain("creek 14 8 \n6 8\n\n" + QUOTE, format="flowed"), "creek 14 8 6 8")
say("flowed, spaces go", plain("nort \nh 40 12\n", format="flowed", delsp="yes"), "north 40 12")

m = plain("off creek\n\n" + QUOTE)
m.add_alternative("<p>off creek</p><blockquote>Reply STOP</blockquote>", subtype="html")
say("plain and HTML", m, "off creek")

m = head(EmailMessage())
m.set_content("<div>off creek</div><blockquote type=cite>Creek shuts. Reply STOP</blockquote>", subtype="html", cte="base64")
say("HTML alone", m, "off creek")

m = head(EmailMessage())
m.set_content("<p>ma\u00f1ana: creek 9</p>", subtype="html", charset="iso-8859-1", cte="quoted-printable")
say("HTML alone, Latin-1", m, "mañana: creek 9")

m = plain("\n\n")
m.add_alternative("<p>creek 9</p>", subtype="html")
say("an empty plain part beside HTML", m, "creek 9")

m = plain("creek 9\n")
m.add_attachment(b"\x89PNG" + bytes(range(256)) * 40, maintype="image", subtype="png", filename="grass.png")
say("a photo goes with it", m, "creek 9")

m = head(MIMEMultipart("mixed"))
m.attach(MIMEText("stop\n", "plain"))
m.get_payload()[0]["Content-Disposition"] = 'attachment; filename="notes.txt"'
m.attach(MIMEText("creek 9\n", "plain"))
say("an attached text is not what was typed", m, "creek 9")

m = head(MIMEMultipart("mixed"))
m.attach(MIMEApplication(b"PK\x03\x04" + b"\0" * 50_000, "zip"))
m.attach(MIMEText("creek 9\n", "plain"))
say("a zip comes first", m, "creek 9")

m = plain("creek 9\n")
fwd = plain("stop\n")
m.add_attachment(fwd)
say("a mail inside a mail is not what was typed", m, "creek 9")

outer = inner = head(MIMEMultipart("mixed"))
for _ in range(6):
    deeper = MIMEMultipart("mixed")
    inner.attach(deeper)
    inner = deeper
inner.attach(MIMEText("creek 9\n", "plain"))
say("six levels deep", outer, "creek 9")

outer = inner = head(MIMEMultipart("mixed"))
for _ in range(300):
    deeper = MIMEMultipart("mixed")
    inner.attach(deeper)
    inner = deeper
inner.attach(MIMEText("creek 9\n", "plain"))
say("three hundred levels deep is not read", outer, "")

CRLF = "\r\n"
HEAD = CRLF.join(["From: ana@example.org", "To: farm@example.org", "Subject: Re: x", "MIME-Version: 1.0"]) + CRLF
say("UTF-16", (HEAD + "Content-Type: text/plain; charset=utf-16" + CRLF + "Content-Transfer-Encoding: base64" + CRLF * 2).encode() + base64.b64encode("creek 9 8 11\n".encode("utf-16")), "creek 9 8 11")
say("a character set that is a lie", (HEAD + "Content-Type: text/plain; charset=utf-8" + CRLF * 2).encode() + "a\u00f1o: creek 9".encode("latin-1"), "año: creek 9")
say("a character set that nobody knows", (HEAD + "Content-Type: text/plain; charset=x-barn" + CRLF * 2 + "creek 9").encode(), "creek 9")
say("no content type at all", (HEAD.replace("MIME-Version: 1.0" + CRLF, "") + CRLF + "creek 9").encode(), "creek 9")
say("a content type that is none", (HEAD + "Content-Type: ;;;" + CRLF * 2 + "creek 9").encode(), "creek 9")
say("a transfer encoding that nobody knows", (HEAD + "Content-Type: text/plain" + CRLF + "Content-Transfer-Encoding: x-hay" + CRLF * 2 + "creek 9").encode(), "creek 9")
say("bare carriage returns", (HEAD + CRLF).encode() + b"creek 9\rhill 8\r\r", "creek 9\nhill 8")
say("bare line feeds", (HEAD + CRLF).replace(CRLF, "\n").encode() + b"creek 9\nhill 8\n", "creek 9\nhill 8")
say("marks that turn the text round", (HEAD + "Content-Type: text/plain; charset=utf-8" + CRLF * 2).encode() + "\u202ecreek\u200b 9\u2066\x00\x07".encode(), "creek 9")
say("base64 broken off", (HEAD + "Content-Type: text/plain" + CRLF + "Content-Transfer-Encoding: base64" + CRLF * 2).encode() + base64.b64encode(b"creek 9 8 11")[:-3], "creek 9 8")
say("a multipart never ended", (HEAD + 'Content-Type: multipart/mixed; boundary="b"' + CRLF * 2 + "--b" + CRLF * 2 + "creek 9" + CRLF).encode(), "creek 9")
say("a multipart without a boundary", (HEAD + "Content-Type: multipart/mixed" + CRLF * 2 + "--b" + CRLF * 2 + "creek 9" + CRLF).encode(), "")
say("stop in the subject alone", (HEAD.replace("Re: x", "stop") + CRLF).encode(), "stop")
say("our own subject is not what was typed", (HEAD.replace("Re: x", "Re: Reply STOP") + CRLF).encode(), "")
