package scheduler

import (
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/notify/reply"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// mostPassedOn is how many texts of numbers that are not on file are passed on a
// day: a number that nobody knows may not fill anybody's phone.
const mostPassedOn = 3

// stranger hears a text of a number that is not on file. It gets no answer and no
// information, and nothing of it is written down; an emergency is passed on word
// for word to those in charge.
func (s *Scheduler) stranger(tx *store.Tx, in store.InRow) error {
	fresh, err := tx.Heard(in.Row)
	if err != nil || !fresh || in.StopOnly || !s.tellsEmergency(in.Text, tx.Now()) {
		return err
	}
	return s.passOn(tx, in)
}

// tellsEmergency reports whether a text tells of an emergency, or may, in any
// language of the contacts: nobody asks a stranger back.
func (s *Scheduler) tellsEmergency(text string, now time.Time) bool {
	day := civil.DateOf(now.In(s.farm.Zone))
	return slices.ContainsFunc(s.farm.Contacts, func(c ladder.Contact) bool {
		heard := s.reader.Read(text, reply.Who{Language: c.Language}, reply.Asked{}, day)
		if heard.Ask != nil {
			for _, c := range heard.Ask.Choices {
				heard.Facts = append(heard.Facts, c.Facts...)
			}
		}
		return slices.ContainsFunc(heard.Facts, func(f diary.Fact) bool { return f.Kind == diary.Emergency })
	})
}

// passNote tells the managers what somebody else told that changes no sum.
func (h *hearing) passNote(f diary.Fact) error {
	if f.Kind != diary.Note || h.earlier() {
		return nil
	}
	for _, c := range h.farm.Contacts {
		if !c.Manager() || c.Name == h.from.Name {
			continue
		}
		medium, err := mediumTo(h.tx, c)
		if err != nil {
			return err
		}
		n := ladder.Notice{
			Key: ladder.NoteKey(f.Day, f.ID, c.Name), To: c.Name, Medium: medium, Kind: ladder.PassedOn, NotBefore: h.tx.Now(), GoodUntil: h.tx.Now().Add(24 * time.Hour),
			Facts: &ladder.PassedFacts{Head: ladder.Head{Farm: h.farm.Name, Day: h.day}, Who: h.from.Name, Words: clip(h.in.Text), Note: true},
		}
		if _, err := h.tx.Answer(n); err != nil {
			return err
		}
	}
	return nil
}

// passOn queues a stranger's words to everybody in charge, within the day's count.
func (s *Scheduler) passOn(tx *store.Tx, in store.InRow) error {
	day := civil.DateOf(tx.Now().In(s.farm.Zone))
	for _, c := range ladder.InCharge(s.farm.Contacts) {
		medium, err := mediumTo(tx, c)
		if err != nil {
			return err
		}
		n := ladder.Notice{
			To: c.Name, Medium: medium, Kind: ladder.PassedOn, NotBefore: tx.Now(), GoodUntil: tx.Now().Add(24 * time.Hour),
			Facts: &ladder.PassedFacts{Head: ladder.Head{Farm: s.farm.Name, Day: day}, Who: in.From, Words: clip(in.Text)},
		}
		for i := range mostPassedOn {
			n.Key = ladder.PassedKey(day, i+1, c.Name)
			fresh, err := tx.Answer(n)
			if err != nil {
				return err
			}
			if fresh {
				break
			}
		}
	}
	return nil
}

// mediumTo is how what others told reaches a contact: by mail where a phone takes no texts.
func mediumTo(tx *store.Tx, c ladder.Contact) (ladder.Medium, error) {
	texts, err := takesTexts(tx, c)
	if err != nil || texts {
		return ladder.Text, err
	}
	return ladder.Mail, nil
}
