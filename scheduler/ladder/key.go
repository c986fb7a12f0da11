package ladder

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/golang-sql/civil"
)

// A Key is what makes a notice the one it is, unique for ever. Nothing is said
// again while its key stays the same. It is stored as text, and the text of
// what an older version said must stay readable. Parts never hold a slash: ids
// and names are checked by the farm file.
type Key struct {
	// Of is the paddock, the farm, or what of the machine or of a person it is
	// about: one of the words below.
	Of string
	// Day is the cutoff, or the day, year or moment that it is about; of a frost
	// of the farm its kind.
	Day     string
	Cause   Cause
	Rung    string
	Repeat  string // tells one saying from another: 0, late3, later12
	Contact string
	Medium  Medium
	Again   bool // an unanswered one, said once more
	// What is the trouble, who opted out, the phone, the digest of the file.
	What string
}

// What a key is of, where it is of no paddock.
const (
	ofFarm      = "farm"
	ofAlarm     = "alarm"
	ofEnrolment = "enrol"
	ofFarmFile  = "farm-file"
	ofOptOut    = "opted-out"
	ofTakenBack = "taken-back"
	ofAnswer    = "answer"
)

// A Cause is why a notice is due: a word, the fact that opened it, or both.
type Cause struct {
	Kind string
	Fact int64 // its id; 0 where there is none
}

// AnswerKey is the key of the answer to an inbox row.
func AnswerKey(row int64) Key { return Key{Of: ofAnswer, Cause: Cause{Fact: row}} }

// WaitsKey is the key of what is said while an inbox row waits for the right time.
func WaitsKey(row int64) Key { return Key{Of: ofAnswer, Cause: Cause{"waits", row}} }

// PassedKey is the key of the n-th text of a day that is passed on to a contact.
func PassedKey(day civil.Date, n int, to string) Key {
	return Key{Of: ofFarm, Day: day.String(), Cause: Cause{"passed", int64(n)}, Contact: to}
}

// NoteKey is the key of a fact of a day that is passed on to a contact.
func NoteKey(day civil.Date, id int64, to string) Key {
	return Key{Of: ofFarm, Day: day.String(), Cause: Cause{"note", id}, Contact: to}
}

// String is the key as it is stored.
func (k Key) String() string {
	switch cause, medium := k.Cause.String(), string(k.Medium); {
	case k == (Key{Of: k.Of}):
		return k.Of
	case k.Rung != "" && k.Again:
		return join(k.Of, k.Day, cause, k.Rung, k.Repeat, k.Contact, medium, "again")
	case k.Rung != "":
		return join(k.Of, k.Day, cause, k.Rung, k.Repeat, k.Contact, medium)
	case k.Of == ofAlarm && k.Contact == "":
		return join(k.Of, k.What, k.Day)
	case k.Of == ofAlarm:
		return join(k.Of, k.What, k.Day, k.Contact, medium)
	case k.Of == ofEnrolment:
		return join(k.Of, k.Contact, k.What)
	case k.Of == ofFarmFile:
		return join(k.Of, k.What, k.Contact)
	case k.Of == ofOptOut:
		return join(k.Of, k.What, k.Day, k.Contact)
	case k.Of == ofTakenBack:
		return join(k.Of, cause, k.Contact)
	case k.Of == ofAnswer:
		return join(k.Of, cause)
	case k.Day != "":
		return join(k.Of, k.Day, cause, k.Contact)
	}
	return k.Of
}

// ParseKey reads a key as it was stored. One of a shape that is not known here
// is kept whole.
func ParseKey(text string) Key {
	var p [8]string
	n := copy(p[:], strings.SplitN(text, "/", len(p)+1))
	k := Key{Of: p[0]}
	switch {
	case n >= 7:
		k = Key{Of: p[0], Day: p[1], Cause: parseCause(p[2]), Rung: p[3], Repeat: p[4], Contact: p[5], Medium: Medium(p[6]), Again: n == 8}
	case k.Of == ofAlarm:
		k.What, k.Day, k.Contact, k.Medium = p[1], p[2], p[3], Medium(p[4])
	case k.Of == ofEnrolment:
		k.Contact, k.What = p[1], p[2]
	case k.Of == ofFarmFile:
		k.What, k.Contact = p[1], p[2]
	case k.Of == ofOptOut:
		k.What, k.Day, k.Contact = p[1], p[2], p[3]
	case k.Of == ofTakenBack:
		k.Cause, k.Contact = parseCause(p[1]), p[2]
	case k.Of == ofAnswer:
		k.Cause = parseCause(p[1])
	case n == 4:
		k.Day, k.Cause, k.Contact = p[1], parseCause(p[2]), p[3]
	}
	if k.String() != text {
		return Key{Of: text}
	}
	return k
}

// Scan reads a key out of the database.
func (k *Key) Scan(src any) error {
	text, ok := src.(string)
	if !ok {
		return fmt.Errorf("a key is text, got %T", src)
	}
	*k = ParseKey(text)
	return nil
}

func (c Cause) String() string {
	if c.Fact == 0 {
		return c.Kind
	}
	return c.Kind + num(c.Fact)
}

// parseCause reads a cause: a fact's id follows nothing but a word, so that the
// day at the end of a date is none.
func parseCause(text string) Cause {
	kind := strings.TrimRight(text, "0123456789")
	id, err := strconv.ParseInt(text[len(kind):], 10, 64)
	if err != nil || text[len(kind)] == '0' || strings.Trim(kind, "abcdefghijklmnopqrstuvwxyz ") != "" {
		return Cause{Kind: text}
	}
	return Cause{kind, id}
}

func join(parts ...string) string { return strings.Join(parts, "/") }

func num(n int64) string { return strconv.FormatInt(n, 10) }
