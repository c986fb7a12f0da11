package config

import (
	"stubbled/config/settings"
	"stubbled/config/values"
)

// loader makes a farm of a farm file that was read.
type loader struct {
	*settings.Reading
	from  *source
	farm  *Farm
	calls roll // what paddocks and herds answer to

	planned *float64 // the frost counted back from, in days after Aug 1; nil where there is none
}

// paddockMeant suggests the id that a herd or a fall use may name: that of a
// paddock with this name, or a near one.
func (l *loader) paddockMeant(text string) string {
	var ids []string
	for _, p := range l.farm.Paddocks {
		if values.Fold(p.Name) == values.Fold(text) {
			return values.DidYouMean(p.ID)
		}
		ids = append(ids, p.ID)
	}
	return values.OrOneOf(text, ids)
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
