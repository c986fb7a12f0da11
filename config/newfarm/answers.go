// Package newfarm is in charge of the first farm file: what is asked before it
// is written, and the commented text that the answers make.
//
// It never writes a file that config would not load, and judges no answer
// itself.
package newfarm

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
	From, Place       string // where the record is fetched each night, and its place's name
	FrostDate, Spread string
	Rest              string // 45 days
	Paddocks          []Paddock
	Herds             []Herd
	People            []Person
	Texts             Texts
	Mail              Mail
	Service           bool   // secrets are the service manager's credentials, not files
	Dir               string // folder that the file will lie in
}

// Paddock is one paddock: Creek, 22 acres, eastern gamagrass, and the plants in it
// that can poison: johnsongrass, wild cherry.
type Paddock struct{ Name, Area, Grass, Plants string }

// Herd is one herd: cows, 38, cow with calf, where they stand.
type Herd struct{ Name, Head, Kind, Paddock string }

// Person is one contact: Ana, manager, a phone, a language, an address.
type Person struct{ Name, Role, Phone, Language, Email string }

// ParsePaddock reads `Creek:22 acres:eastern gamagrass:johnsongrass`; the plants that
// can poison may be left out.
func ParsePaddock(text string) (Paddock, error) {
	p, err := parts(text, 3, 4, "paddock %q: want name:area:grass:plants that can poison, such as %q", "Creek:22 acres:eastern gamagrass")
	return Paddock{p[0], p[1], p[2], p[3]}, err
}

// ParseHerd reads `cows:38:cow with calf:Creek`; the paddock may be left out.
func ParseHerd(text string) (Herd, error) {
	p, err := parts(text, 3, 4, "herd %q: want name:head:kind:paddock, such as %q", "cows:38:cow with calf:Creek")
	return Herd{p[0], p[1], p[2], p[3]}, err
}

// ParsePerson reads `Ana:manager:+15555550142:en:ana@example.org`; language and
// address may be left out.
func ParsePerson(text string) (Person, error) {
	p, err := parts(text, 3, 5, "person %q: want name:role:phone:language:email, such as %q", "Ana:manager:+15555550142:en:ana@example.org")
	return Person{p[0], p[1], p[2], p[3], p[4]}, err
}

// parts are what colons part; what is left out is empty.
func parts(text string, least, most int, want, like string) (p [5]string, err error) {
	found := strings.Split(text, ":")
	if len(found) < least || len(found) > most {
		return p, fmt.Errorf(want, values.Clip(text), like)
	}
	for i := range found {
		p[i] = strings.TrimSpace(found[i])
	}
	return p, nil
}

// Rows are paddocks, herds and people as they are typed, a text each.
type Rows struct{ Paddocks, Herds, People []string }

// Take takes rows as answers. The error is of the first that is wrong.
func (a *Answers) Take(rows Rows) (err error) {
	if a.Paddocks, err = all(rows.Paddocks, ParsePaddock); err != nil {
		return err
	}
	if a.Herds, err = all(rows.Herds, ParseHerd); err != nil {
		return err
	}
	a.People, err = all(rows.People, ParsePerson)
	return err
}

func all[T any](rows []string, parse func(string) (T, error)) (list []T, err error) {
	for _, text := range rows {
		one, err := parse(text)
		if err != nil {
			return nil, err
		}
		list = append(list, one)
	}
	return list, nil
}
