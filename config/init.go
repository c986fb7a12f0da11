package config

import (
	"fmt"
	"strings"

	"stubbled/config/values"
)

// Answers is what is asked before a farm file is written. Values are written
// as in the farm file, with their units; empty ones take the default or leave
// the line out.
type Answers struct {
	Name     string // Quail Fork
	Timezone string // America/Chicago
	Units    string // inches or centimetres
	// Station is a record's file, seen from the farm file's folder. Without one
	// FrostDate counts (10-18), with its Spread (10 days).
	Station           string
	FrostDate, Spread string
	Rest              string // 45 days
	Paddocks          []PaddockAnswer
	Herds             []HerdAnswer
	People            []PersonAnswer
	Dir               string // folder that the file will lie in
}

// PaddockAnswer is one paddock: Creek, 22 acres, eastern gamagrass.
type PaddockAnswer struct{ Name, Area, Grass string }

// HerdAnswer is one herd: cows, 38, cow with calf, where they stand.
type HerdAnswer struct{ Name, Head, Kind, Paddock string }

// PersonAnswer is one contact: Ana, manager, a phone, a language, an address.
type PersonAnswer struct{ Name, Role, Phone, Language, Email string }

// ParsePaddock reads `Creek:22 acres:eastern gamagrass`.
func ParsePaddock(text string) (PaddockAnswer, error) {
	p := parts(text)
	if len(p) != 3 {
		return PaddockAnswer{}, fmt.Errorf("paddock %q: want name:area:grass, such as %q", values.Clip(text), "Creek:22 acres:eastern gamagrass")
	}
	return PaddockAnswer{p[0], p[1], p[2]}, nil
}

// ParseHerd reads `cows:38:cow with calf:Creek`; the paddock may be left out.
func ParseHerd(text string) (HerdAnswer, error) {
	p := parts(text)
	if len(p) != 3 && len(p) != 4 {
		return HerdAnswer{}, fmt.Errorf("herd %q: want name:head:kind:paddock, such as %q", values.Clip(text), "cows:38:cow with calf:Creek")
	}
	return HerdAnswer{p[0], p[1], p[2], append(p, "")[3]}, nil
}

// ParsePerson reads `Ana:manager:+15555550142:en:ana@example.org`; language and
// address may be left out.
func ParsePerson(text string) (PersonAnswer, error) {
	p := parts(text)
	if len(p) < 3 || len(p) > 5 {
		return PersonAnswer{}, fmt.Errorf("person %q: want name:role:phone:language:email, such as %q", values.Clip(text), "Ana:manager:+15555550142:en:ana@example.org")
	}
	p = append(p, "", "")
	return PersonAnswer{p[0], p[1], p[2], p[3], p[4]}, nil
}

func parts(text string) []string {
	p := strings.Split(text, ":")
	for i := range p {
		p[i] = strings.TrimSpace(p[i])
	}
	return p
}

// Init writes a commented farm file from the answers and loads it once, so
// what comes out is known to be good. The error is Problems with the keys of
// the file as places.
func Init(a Answers) ([]byte, error) {
	data := a.write()
	l := newLoader("answers", []Option{WithoutEnvironment()})
	l.dir = a.Dir
	if _, err := l.load(data); err != nil {
		return nil, withoutLines(err)
	}
	return data, nil
}

// withoutLines drops the lines of a file that nobody has seen.
func withoutLines(err error) error {
	ps, ok := err.(Problems)
	if !ok {
		return err
	}
	for i := range ps {
		if ps[i].File == "answers" {
			ps[i].Line = 0
		}
	}
	return ps
}
