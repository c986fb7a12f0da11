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
	switch {
	case carrier.Medium() == ladder.Mail:
		if !r.WordsOnly {
			if e.Files, err = enclose(r, o, e.Kind, facts, e.Date); err != nil {
				return err
			}
			for _, file := range e.Files {
				o.Pictures = append(o.Pictures, file.CID)
			}
		}
		e.Subject, e.Text, e.HTML = wording.Mail(o, e.Kind, facts)
	case carrier.Medium() == ladder.Call:
		e.Text = wording.Speech(o, e.Kind, facts)
	case e.Kind.Answer():
		e.Text = wording.Answer(o, e.Kind, facts[0]) // answers are never bundled
	case several(e.Notices):
		parts := make([]ladder.Part, len(e.Notices))
		for i, n := range e.Notices {
			parts[i] = ladder.Part{Kind: n.Kind, Facts: n.Facts}
		}
		e.Text = wording.Together(o, parts)
	default:
		n := wording.Fit(o, e.Kind, facts)
		e.Notices = e.Notices[:n]
		e.Text = wording.Text(o, e.Kind, facts[:n])
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
