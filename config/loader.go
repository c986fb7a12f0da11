package config

import (
	"stubbled/config/settings"
)

// loader makes a farm of a farm file that was read.
type loader struct {
	*settings.Reading
	from  *source
	farm  *Farm
	calls roll // what paddocks and herds answer to

	planned *float64 // the frost counted back from, in days after Aug 1; nil where there is none
}

// paddockIDs are what a herd or a fall use may name.
func (l *loader) paddockIDs() []string {
	var ids []string
	for _, p := range l.farm.Paddocks {
		ids = append(ids, p.ID)
	}
	return ids
}

// unique tells of an id that is taken, and reports whether it is fresh.
func (l *loader) unique(at *settings.Entry, id string, seen map[string]*settings.Entry) bool {
	if was, taken := seen[id]; taken {
		l.Say(at, "%q is taken (line %d); every id is used once", id, was.Line)
		return false
	}
	seen[id] = at
	return true
}
