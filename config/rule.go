package config

import (
	"cmp"

	"stubbled/config/settings"
	"stubbled/scheduler/figure"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/season"
)

// rule is a paddock's rule: its own figures, then the farm's, then those of its
// species.
func (l *loader) rule(own *settings.Entry, sp grass.Species) season.Rule {
	farm := l.Root.Get("rest")
	pick := func(key string) *settings.Entry {
		if own.Written(key) {
			return own.Get(key)
		}
		return farm.Get(key)
	}
	height := func(key string, usual figure.Figure) float64 {
		if h, ok := settings.Value[float64](l.Reading, pick(key)); ok {
			return h
		}
		return usual.Value
	}
	r := season.Rule{
		Leave:   height("leave", sp.Leave),
		AtFrost: height("at_frost", sp.Target),
		Min:     height("lowest", sp.Min),
		Begin:   height("begin", sp.Begin),
	}
	r.RestDays, _ = settings.Value[int](l.Reading, pick("days"))
	r.Confidence, _ = settings.Value[float64](l.Reading, pick("confidence"))
	r.EndsAt, _ = settings.Value[frost.Threshold](l.Reading, pick("ends_at"))
	r.Spring, _ = settings.Value[season.MonthDay](l.Reading, pick("spring"))
	return r
}

// judgeRule warns of figures that can hardly be meant. Only what the file says
// is judged, not what is known of the species.
func (l *loader) judgeRule(e, own *settings.Entry, sp grass.Species, r season.Rule) {
	at := func(key string) *settings.Entry {
		for _, from := range []*settings.Entry{own, l.Root.Get("rest")} {
			if w := from.Get(key); w.Said() {
				return w
			}
		}
		return nil
	}
	l.outside(e, at, sp, r)
	leave, frostHeight := at("leave"), at("at_frost")
	where := cmp.Or(frostHeight, leave)
	if where == nil {
		return
	}
	name := e.Get("id").Word()
	if r.Leave >= r.AtFrost {
		l.Warn(where, "paddock %s leaves %.3g in and wants %.3g in at frost: rest would have nothing to do", name, r.Leave, r.AtFrost)
	}
	if leave != nil && r.Leave < r.Min {
		l.Warn(leave, "paddock %s leaves %.3g in, under the %.3g in that spare the growing point of %s", name, r.Leave, r.Min, sp.Name)
	}
	if frostHeight != nil && sp.MaxLeaf.Known() && r.AtFrost > sp.MaxLeaf.Value {
		l.Warn(frostHeight, "paddock %s wants %.3g in at frost, and %s hardly grows above %.3g in", name, r.AtFrost, sp.Name, sp.MaxLeaf.Value)
	} else if frostHeight != nil && own.Get("at_frost") == nil && r.AtFrost > 1.2*sp.Target.Value {
		l.Warn(frostHeight, "paddock %s takes the farm's %.3g in at frost, and %.3g in is usual for %s; give it its own, such as rest: {leave: %.3gin, at_frost: %.3gin}",
			name, r.AtFrost, sp.Target.Value, sp.Name, sp.Leave.Value, sp.Target.Value)
	}
}

// outside warns of figures of the farm's own that no source has for a grass.
func (l *loader) outside(e *settings.Entry, at func(string) *settings.Entry, sp grass.Species, r season.Rule) {
	for _, own := range []struct {
		key, unit string
		value     float64
		usual     figure.Figure
	}{
		{"days", "days", float64(r.RestDays), season.UsualRest}, {"leave", "in", r.Leave, sp.Leave}, {"at_frost", "in", r.AtFrost, sp.Target},
		{"lowest", "in", r.Min, sp.Min}, {"begin", "in", r.Begin, sp.Begin},
	} {
		if w := at(own.key); w != nil && own.usual.Spread() && (own.value < own.usual.Low || own.value > own.usual.High) {
			l.Warn(w, "paddock %s has %.3g %s for %s, and sources run %g-%g; for heights 'stubbled figures %s' shows them",
				e.Get("id").Word(), own.value, own.unit, own.key, own.usual.Low, own.usual.High, sp.Name)
		}
	}
}
