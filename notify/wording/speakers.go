package wording

import (
	"maps"

	"stubbled/scheduler/ladder"
)

// A speaker is what is said of a bundle of one kind.
type speaker struct {
	say func(voice, []ladder.Facts) []part
	// long reports whether even one notice may take two segments; nil: never.
	long func(ladder.Facts) bool
}

// speakers has one for every kind; each stands beside its words.
var speakers map[ladder.Kind]speaker

func init() { // a literal would be a cycle: an answer speaks through others
	speakers = map[ladder.Kind]speaker{}
	for _, some := range []map[ladder.Kind]speaker{
		rungSpeakers, fallSpeakers, droughtSpeakers, coldSpeakers, farmSpeakers, statusSpeakers, verdictSpeakers, recordedSpeakers, askSpeakers, springSpeakers,
	} {
		maps.Copy(speakers, some)
	}
}

// says is a speaker for facts of one type.
func says[T ladder.Facts](say func(voice, []T) []part) speaker {
	return speaker{say: func(v voice, fs []ladder.Facts) []part { return say(v, as[T](fs)) }}
}

// saysLong is one that may take two segments.
func saysLong[T ladder.Facts](say func(voice, []T) []part, long func(T) bool) speaker {
	s := says(say)
	s.long = func(f ladder.Facts) bool { return long(f.(T)) }
	return s
}

func inFull[T ladder.Facts](T) bool { return true }

// as is a bundle in the type of its kind.
func as[T ladder.Facts](fs []ladder.Facts) []T {
	out := make([]T, len(fs))
	for i, f := range fs {
		out[i] = f.(T)
	}
	return out
}

// paddocks is what a bundle says of its paddocks.
func paddocks[T ladder.Facts](fs []T) []*ladder.PaddockFacts {
	out := make([]*ladder.PaddockFacts, len(fs))
	for i, f := range fs {
		out[i] = ladder.OnPaddock(f)
	}
	return out
}

// places are the paddocks of a bundle by their names.
func places[T ladder.Facts](fs []T) []ladder.Place {
	out := make([]ladder.Place, len(fs))
	for i, f := range fs {
		out[i] = f.About().Place
	}
	return out
}

// gathered joins a list of each notice of a bundle.
func gathered[T, E any](fs []T, of func(T) []E) []E {
	var all []E
	for _, f := range fs {
		all = append(all, of(f)...)
	}
	return all
}
