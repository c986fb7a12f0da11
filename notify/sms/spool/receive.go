package spool

import (
	"cmp"
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
	defer s.bell.takeDown()
	told, trying, rang := "not yet", time.Duration(0), true
	for ctx.Err() == nil {
		watched := s.watched() // before the look: what comes in between them rings
		found, err := s.pass(ctx, accept)
		if ctx.Err() != nil {
			break
		}
		if key := gist(err); key != told {
			told = key
			report(err)
		}
		if watched && found && err == nil && !rang {
			rang = s.bell.wait(ctx, late)
			s.bell.deaf = !rang && ctx.Err() == nil
			continue
		}
		if err == nil {
			trying = 0
		} else if !rang || trying == 0 { // a ring is no try of its own
			trying = min(2*max(trying, s.o.Poll), time.Minute)
		}
		usual := s.o.Poll
		if watched {
			usual = s.quiet
		}
		rang = s.bell.wait(ctx, cmp.Or(trying, usual))
	}
	return ctx.Err()
}

// watched reports whether the kernel tells what comes in, and logs where it does
// not any more.
func (s *Spool) watched() bool {
	err := errDeaf
	if !s.bell.deaf {
		err = s.bell.hang(s.path("incoming"), s.path("sent"), s.path("failed"))
	}
	why := fmt.Sprint(err)
	if err != nil && why != s.bell.why {
		s.o.Log.Warn("the spool's folders cannot be watched, and are looked at again and again", "every", s.o.Poll, "err", err)
	}
	s.bell.why = why
	return err == nil
}

var errDeaf = errors.New("a file came in of which the kernel had not told: is the spool on a network's disk?")

// pass looks at every folder once: texts and delivery reports that came in,
// what smsd made of our messages, and how smsd is. It can be run again at any
// time. found says that there was a text.
func (s *Spool) pass(ctx context.Context, accept notify.Accept) (found bool, err error) {
	if err := s.ready(); err != nil {
		return false, err
	}
	var errs []error
	for _, look := range []func() ([]item, error){s.results, s.incoming, s.takeBack} {
		items, err := look()
		found = found || slices.ContainsFunc(items, func(it item) bool { return it.got != nil && it.got.Report == nil })
		errs = append(errs, err)
		if err := s.settle(ctx, items, accept); err != nil {
			return found, errors.Join(append(errs, err)...)
		}
	}
	s.purge()
	return found, errors.Join(append(errs, s.health())...)
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
	if err := s.archive(it.file, it.to); err != nil && !errors.Is(err, os.ErrNotExist) {
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
