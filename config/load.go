// Package config is in charge of the farm file: it is read whole, checked
// whole, and every problem is told at once with its line and the mend.
//
// It never half-applies a file, never decides what is due, and keeps no
// secret: the file names where secrets are kept.
//
// Which keys there are stands once, in file.go and in config/links;
// config/settings reads them with their lines, defaults and environment
// (STUBBLED_*), and config/values turns every value with its unit into the types
// of the trade: inches, acres, lb, days and degrees C. What is left to config is
// what the values say together. A Farm that comes out is complete and never
// changes.
package config

import (
	"strings"
	"stubbled/config/settings"
	"stubbled/config/values"
	"stubbled/scheduler/herd"
)

// Load reads a farm file and the records that it names. The error is Problems,
// all of them at once and in the order of the file; the farm is nil then.
func Load(path string, options ...Option) (*Farm, error) {
	data, err := readBounded(path)
	if err != nil {
		return nil, settings.Problems{{File: path, Text: fileTrouble(err)}}
	}
	return LoadText(path, data, options...)
}

// LoadText is Load with a text that stood in the farm file before, whatever
// stands there now. The records that it names are read where they lie.
func LoadText(path string, text []byte, options ...Option) (*Farm, error) {
	return newSource(path, options).load(text)
}

// load reads the bytes and makes a farm of them.
func (s *source) load(data []byte) (*Farm, error) {
	r := farmFile.Read(s.Source, data)
	if r.Root != nil {
		l := loader{Reading: r, from: s, farm: &Farm{File: s.File, text: data, rules: map[string]int{}}, calls: roll{Report: &r.Report}}
		var f file
		l.Fill(l.Root, &f)
		l.take(&f)
		if len(l.Problems) == 0 {
			return l.whole(), nil
		}
	}
	return nil, r.Problems.InOrder(s.File)
}

// whole is the farm, with what is known only once it is read whole.
func (l *loader) whole() *Farm {
	l.farm.Warnings = l.Warnings.InOrder(l.File)
	l.farm.settings = l.InForce()
	l.farm.Digest = digest(l.farm)
	return l.farm
}

// take makes the farm of what was read, in the order in which one thing leans
// on another.
func (l *loader) take(f *file) {
	farm := l.farm
	farm.Name, farm.Was, farm.Zone = f.Farm.Name, f.Farm.Was, f.Farm.Timezone
	farm.Units, farm.Morning, farm.Cap = f.Farm.Units, f.Farm.Morning, f.Farm.Cap
	farm.Tell, farm.Carriers, farm.Backup, farm.Board = f.Tell, f.Carriers, f.Backup, f.Board
	farm.Backup.Dir = l.Source.Beside(farm.Backup.Dir)
	l.plan(f)
	l.paddocks(f.Paddocks)
	l.herds(f.Herds)
	if l.Root.Get("hay") != nil {
		farm.Hay = herd.Hay{OnHand: float64(f.Hay.OnHand) * f.Hay.Bale, BaleLb: f.Hay.Bale, Fed: f.Hay.Fed, Stored: f.Hay.Stored}
	}
	l.calls.check()
	l.fallUse(f.FallUse)
	l.contacts(f.Contacts)
	l.rungs(f.Ladder)
	farm.Weather = f.Weather.Read(l.Reading)
}

// loader makes a farm of a farm file that was read.
type loader struct {
	*settings.Reading
	from  *source
	farm  *Farm
	calls roll // what paddocks and herds answer to

	planned *float64 // the frost counted back from, in days after Aug 1; nil where there is none
}

// paddockMeant suggests the id that a herd or a fall use may name: that of a
// paddock with this name, the only one whose name begins so, or a near one.
func (l *loader) paddockMeant(text string) string {
	var ids, begin []string
	for _, p := range l.farm.Paddocks {
		if start := values.Fold(text); len(start) > 2 && strings.HasPrefix(values.Fold(p.Name), start) {
			begin = append(begin, p.ID)
		}
		if values.Fold(p.Name) == values.Fold(text) {
			return values.DidYouMean(p.ID)
		}
		ids = append(ids, p.ID)
	}
	if len(begin) == 1 {
		return values.DidYouMean(begin[0])
	}
	return values.OrOneOf(text, ids)
}

// fresh reports whether nobody else has what should be one's own, and tells who has.
func (l *loader) fresh(at *settings.Entry, key string, seen map[string]*settings.Entry, taken string) bool {
	if was, dup := seen[key]; dup {
		l.Say(at, taken, at.Text, was.Line)
		return false
	}
	seen[key] = at
	return true
}

const idTaken = "%q is taken (line %d); every id is used once"
