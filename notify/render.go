package notify

import (
	"slices"

	"stubbled/notify/wording"
	"stubbled/scheduler/ladder"
)

// mailNamer is a carrier whose mails bear a name by which an answer finds back.
type mailNamer interface {
	MessageID(id, address string) string
}

// render puts the words in an envelope, in the contact's language now. They
// never change again.
func render(r Rules, carrier Carrier, e *Envelope) (err error) {
	c, _ := r.Contact(e.ToName)
	o := wording.Options{Lang: c.Language, Centimetres: r.Centimetres, Stock: r.Stock}
	facts := make([]ladder.Facts, len(e.Notices))
	for i, n := range e.Notices {
		facts[i] = n.Facts
	}
	by := carrier.Medium()
	if by == ladder.Mail && !r.WordsOnly {
		if e.Files, err = enclose(r, o, e.Kind, facts, e.Date); err != nil {
			return err
		}
		for _, file := range e.Files {
			o.Pictures = append(o.Pictures, file.CID)
		}
	}
	if by == ladder.Text && several(e.Notices) {
		e.Text = wording.Together(o, e.Notices)
	} else {
		if by == ladder.Text && !e.Kind.Answer() {
			facts = facts[:wording.Fit(o, e.Kind, facts)]
			e.Notices = e.Notices[:len(facts)]
		}
		e.Subject, e.Text, e.HTML = wording.Message(o, by, e.Kind, facts)
	}
	if m, ok := carrier.(mailNamer); ok {
		e.MessageID = m.MessageID(e.ID, e.Address)
	}
	if e.MayRepeat {
		e.Text = wording.MayRepeat(o, e.Text)
		if e.Subject != "" { // what every mail reader shows, whatever it makes of the rest
			e.Subject = wording.MayRepeat(o, e.Subject)
		}
	}
	return nil
}

// several reports whether a message is a day's work of several kinds.
func several(all []ladder.Notice) bool {
	return slices.ContainsFunc(all, func(n ladder.Notice) bool { return n.Kind != all[0].Kind })
}
