package scheduler

import (
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// lessons adds what finished seasons say and where the herd eats.
func (s *Scheduler) lessons(in *ladder.Input, sight season.Sight) {
}
