package spool

import (
	"context"
	"errors"
	"fmt"
	"os"
	"slices"
	"time"

	"stubbled/notify"
)

// batch is how many messages are accepted together.
const batch = 50

// Receive hears until ctx ends. It needs no cursor: what was accepted is moved
// away. Faults of smsd, its modem or the folders are told when they begin,
// when they change and (nil) when they are over.
func (s *Spool) Receive(ctx context.Context, _ string, accept notify.Accept, report func(error)) error {
	told, wait := "not yet", time.Duration(0)
	for notify.Wait(ctx, wait) == nil {
		err := s.pass(ctx, accept)
		if ctx.Err() != nil {
			break
		}
		if err != nil {
			wait = min(2*max(wait, s.o.Poll), time.Minute)
		} else {
			wait = s.o.Poll
		}
		if key := gist(err); key != told {
			told = key
			report(err)
		}
	}
	return ctx.Err()
}

// pass looks at every folder once: texts and delivery reports that came in,
// what smsd made of our messages, and how smsd is. It can be run again at any
// time.
func (s *Spool) pass(ctx context.Context, accept notify.Accept) error {
	var errs []error
	if err := s.ready(); err != nil {
		return err
	}
	for _, look := range []func() ([]item, error){s.results, s.incoming, s.takeBack} {
		items, err := look()
		errs = append(errs, err)
		if err := s.settle(ctx, items, accept); err != nil {
			return errors.Join(append(errs, err)...)
		}
	}
	s.purge()
	return errors.Join(append(errs, s.health())...)
}

// An item is one file that was read: what is to be accepted of it, and where
// it goes afterwards.
type item struct {
	file string
	got  *notify.Received // nil: nothing to accept
	to   string           // folder under done
	then func()           // once it is accepted
}

// settle has the items accepted, then moves their files away.
func (s *Spool) settle(ctx context.Context, items []item, accept notify.Accept) error {
	for some := range slices.Chunk(items, batch) {
		var got []notify.Received
		for _, it := range some {
			if it.got != nil && !s.stuck[it.file] {
				got = append(got, *it.got)
			}
		}
		if len(got) > 0 {
			if err := accept(ctx, got, ""); err != nil {
				return fmt.Errorf("what came in could not be recorded, and stays in the spool: %w", err)
			}
		}
		var errs []error
		for _, it := range some {
			errs = append(errs, s.away(it))
		}
		if err := errors.Join(errs...); err != nil {
			return err
		}
	}
	return nil
}

// away moves an accepted file to done. One that cannot be moved is remembered,
// so that it is not accepted over and over.
func (s *Spool) away(it item) error {
	if it.then != nil {
		it.then()
	}
	err := s.archive(it.file, it.to)
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		s.stuck[it.file] = true
		return mend(err)
	}
	delete(s.stuck, it.file)
	return nil
}

// gist tells one trouble from another, however long it has lasted.
func gist(err error) string {
	var t trouble
	if errors.As(err, &t) {
		return string(t)
	}
	return fmt.Sprint(err)
}
