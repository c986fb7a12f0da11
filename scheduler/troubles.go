package scheduler

import (
	"maps"
	"slices"
	"strings"
	"sync"
	"time"

	"stubbled/scheduler/ladder"
)

// troubles is what of the machine fails now, as told by those who noticed.
type troubles struct {
	mu sync.Mutex
	by map[string]ladder.Trouble
}

// Fails says that a part of the machine fails, or with an empty detail that it
// is well again. what is a word of the alarm list; medium is the one that fails
// with it, if any. It is told once for each time it begins.
func (s *Scheduler) Fails(what string, medium ladder.Medium, detail string, now time.Time) {
	t := &s.troubles
	t.mu.Lock()
	defer t.mu.Unlock()
	if detail == "" {
		delete(t.by, what)
		return
	}
	if t.by == nil {
		t.by = map[string]ladder.Trouble{}
	}
	old, known := t.by[what]
	since := now
	if known && !old.Since.After(now) { // or it was dated by a clock that ran wild
		since = old.Since
	}
	t.by[what] = ladder.Trouble{What: what, Since: since, Medium: medium, Detail: detail}
}

// Troubles lists what fails now, by name.
func (s *Scheduler) Troubles() []ladder.Trouble {
	t := &s.troubles
	t.mu.Lock()
	defer t.mu.Unlock()
	return slices.SortedFunc(maps.Values(t.by), func(a, b ladder.Trouble) int { return strings.Compare(a.What, b.What) })
}
