"""Answers a mail as a person's mail program would: fetches the newest mail of
Ana's mailbox, writes below it or above it by Python's own email package, and
sends that through the mail server. Everybody here is invented.

answer.py IMAPPORT SMTPPORT CA PASSWORD SUBJECT HOW FROM TEXT"""
import email, email.policy, email.utils, imaplib, smtplib, ssl, sys, time

imap_port, smtp_port, ca, password, subject, how, sender, text = sys.argv[1:]
tls = ssl.create_default_context(cafile=ca)
box = imaplib.IMAP4("localhost", int(imap_port))
box.starttls(tls)
box.login("ana", password)
original = None
for _ in range(100):
    box.select("INBOX")
    _, found = box.search(None, "SUBJECT", '"%s"' % subject)
    if found[0]:
        _, data = box.fetch(found[0].split()[-1], "(RFC822)")
        original = email.message_from_bytes(data[0][1], policy=email.policy.default)
        break
    time.sleep(0.1)
assert original is not None, "the reminder never arrived"
assert original["Auto-Submitted"] == "auto-generated"
box.logout()

body = original.get_body(("plain",)).get_content()
intro = "On %s %s wrote:\n" % (original["Date"], original["From"])
quote = "".join("> " + line + "\n" for line in body.splitlines())
m = email.message.EmailMessage()
m["From"] = sender
m["To"] = original["Reply-To"] if how != "stripped" else "farm@farm.test"
m["Subject"] = "Re: " + original["Subject"]
m["Date"] = email.utils.localtime()
m["Message-ID"] = email.utils.make_msgid(domain="phone.example.test")
m["In-Reply-To"] = original["Message-ID"]
m["References"] = original["Message-ID"]
if how == "below":
    m.set_content(intro + quote + "\n" + text + "\n")
elif how == "html":
    m.set_content("<div>%s</div><div class=gmail_quote><div>%s</div><blockquote>%s</blockquote></div>" % (text, intro, body), subtype="html")
elif how == "away":
    m["Auto-Submitted"] = "auto-replied"
    m.set_content(text + "\n")
else:
    m.set_content(text + "\n\n" + intro + quote)
with smtplib.SMTP("localhost", int(smtp_port)) as s:
    s.starttls(context=tls)
    s.login("ana", password)
    s.send_message(m)
print(m["Message-ID"].strip("<>"))
