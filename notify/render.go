package notify

import (
	"stubbled/notify/wording"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// mailNamer is a carrier whose mails bear a name by which an answer finds back.
type mailNamer interface {
	MessageID(id, address string) string
}

// render makes the words of one message, in the contact's language now. They
// never change again.
func render(r Rules, carrier Carrier, b store.Batch) (store.Frozen, error) {
	c, _ := r.Contact(b.To)
	o := wording.Options{Lang: c.Language, Centimetres: r.Centimetres}
	facts := make([]ladder.Facts, len(b.Notices))
	for i, n := range b.Notices {
		facts[i] = n.Facts
	}
	var f store.Frozen
	if b.Medium == ladder.Mail {
		if !r.WordsOnly {
			var err error
			if f.Files, err = enclose(o, r.Farm, b.Kind, facts, b.Now); err != nil {
				return f, err
			}
			for _, file := range f.Files {
				o.Pictures = append(o.Pictures, file.CID)
			}
		}
		f.Subject, f.Text, f.HTML = wording.Mail(o, b.Kind, facts)
		if b.Answers != nil {
			f.InReplyTo = b.Answers.MailID
		}
	} else {
		f.Text = wording.Text(o, b.Kind, facts)
		if b.Kind.Answer() {
			f.Text = wording.Answer(o, b.Kind, facts[0]) // answers are never bundled
		}
	}
	if m, ok := carrier.(mailNamer); ok {
		f.MessageID = m.MessageID(b.ID, b.Address)
	}
	if b.MayRepeat {
		f.Text = wording.MayRepeat(o, f.Text)
		if f.Subject != "" { // what every mail reader shows, whatever it makes of the rest
			f.Subject = wording.MayRepeat(o, f.Subject)
		}
	}
	return f, nil
}

// envelope is a claimed message as carriers get it.
func envelope(m *store.Message) Envelope {
	e := Envelope{
		ID: m.ID, MessageID: m.MessageID, Address: m.Address, ToName: m.To, Kind: m.Kind, Subject: m.Subject,
		Text: m.Text, HTML: m.HTML, Date: m.Date, Answer: m.Answer, InReplyTo: m.InReplyTo,
		Urgent: m.Urgent, MayRepeat: m.MayRepeat, Notices: m.Notices,
	}
	for _, f := range m.Files {
		e.Files = append(e.Files, File{Name: f.Name, Type: f.Type, CID: f.CID, Data: f.Data})
	}
	return e
}
