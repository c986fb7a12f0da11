package store

import (
	"context"
	"errors"
	"slices"
	"strings"
	"time"

	"stubbled/scheduler/ladder"
	"stubbled/store/disk"
)

// Claim takes the next messages that are due, urgent first, then answers, then
// the longest due. Notices of one kind due to one contact make one message;
// answers are never bundled. Suppression and cap are checked, the words put in
// the envelopes by word, and the attempts written, all in one transaction; word
// must not talk to anybody. A message that waited for a retry comes back with
// the same ID to the byte. It gives none where nothing is due. The attempts before,
// where some are given, are settled with it.
func (s *Store) Claim(ctx context.Context, now time.Time, f ClaimFor, word func(*Envelope) error) (all []*Message, err error) {
	if len(f.Ended) == 0 { // mostly nothing is due, and looking costs less than a transaction
		var some bool
		err := s.db.Near(ctx, "look what is due", func(q disk.Querier) error {
			return q.Row(`SELECT EXISTS (SELECT 1 FROM outbox WHERE `+isDue+`)`, f.at(now)...).Scan(&some)
		})
		if err != nil || !some {
			return nil, err
		}
	}
	err = s.writing(ctx, "claim", now, func(t *Tx) error {
		for _, e := range f.Ended {
			if err := t.settle(e.Attempt, e.Outcome); err != nil {
				return err
			}
		}
		c := claimer{t, f, word}
		for all, err = c.next(); errors.Is(err, errChanged); {
			all, err = c.next() // what changes is reworded or fails: each message or row once
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	return all, nil
}

// next takes the first of what is due, as many as are claimed together. errChanged says
// to look again: what was due became something else before any was taken.
func (c claimer) next() (all []*Message, err error) {
	due, err := c.due()
	if err == nil {
		due, err = c.joined(due)
	}
	if err != nil {
		return nil, err
	}
	for _, g := range due {
		m, err := c.take(g)
		switch {
		case errors.Is(err, errChanged) && len(all) > 0:
			return all, nil
		case err != nil:
			return nil, err
		case m != nil:
			all = append(all, m)
		}
		if len(all) >= max(1, c.Most) {
			break
		}
	}
	return all, nil
}

// isDue is what could be said, by what at gives. An answer is due at once, whatever
// the clock showed that dated it.
const isDue = `state = 'queued' AND medium = ?1 AND (answer = 1 OR not_before <= ?2 AND NOT ?4) AND (good_until IS NULL OR good_until >= ?2)
	AND (coalesce(message, repeats) IS NULL OR (SELECT coalesce(next_at, 0) FROM messages m WHERE m.id = coalesce(outbox.message, outbox.repeats)) NOT BETWEEN ?2 + 1 AND ?2 + ?3)`

func (f ClaimFor) at(now time.Time) []any {
	return []any{f.Medium, now.Unix(), int(longestWait.Seconds()), f.AnswersOnly}
}

// due lists what could be said, the most pressing first: messages whose retry
// has come, answers one by one, everything else by contact and kind. What may have
// arrived already lets what has not been tried go before it.
func (c claimer) due() ([]group, error) {
	return disk.All(c.db, func(r disk.Scanner) (g group, err error) {
		var single, since int64
		err = r.Scan(&g.contact, &g.kind, &single, &g.message, &g.repeats, &g.urgent, &since, &g.rows)
		return g, err
	}, `SELECT contact, CASE WHEN coalesce(message, repeats) IS NULL THEN kind ELSE (SELECT kind FROM messages m WHERE m.id = coalesce(outbox.message, outbox.repeats)) END AS said, CASE WHEN message IS NULL AND answer = 1 THEN id ELSE 0 END AS single,
			coalesce(message, 0) AS m, coalesce(repeats, 0) AS r, max(urgent) AS u, min(not_before) AS since, json_group_array(id)
		FROM outbox WHERE `+isDue+`
		GROUP BY contact, said, single, m, r
		ORDER BY u DESC, answer DESC, r <> 0, since, min(id)`, c.at(c.now)...)
}

// joined puts a contact's work of a day into fewer texts where it would not leave room
// for the day's one repeat: what has to come off in one, what is to be walked or kept
// shut in another, and all in one where that is still too much.
func (c claimer) joined(due []group) ([]group, error) {
	if c.Medium != ladder.Text || c.Cap <= 0 || c.AnswersOnly {
		return due, nil
	}
	for _, contact := range contactsOf(due) {
		of := func(g group) bool { return g.contact == contact && g.fresh() && g.kind.Joins() != "" }
		if tally(due, of) < 2 {
			continue
		}
		today, err := c.textsToday(contact)
		if err != nil {
			return nil, err
		}
		all := func(g group) bool { return g.contact == contact && g.fresh() }
		for _, family := range []func(ladder.Kind) string{ladder.Kind.Joins, func(ladder.Kind) string { return "all" }} {
			if today+tally(due, all) >= c.Cap {
				due = join(due, of, family)
			}
		}
	}
	return due, nil
}

// fresh reports whether a group is news that can wait for others: no answer, no alarm,
// nothing that was worded before.
func (g group) fresh() bool {
	return g.message == 0 && g.repeats == 0 && !g.urgent && !g.kind.Answer()
}

func contactsOf(due []group) (all []string) {
	for _, g := range due {
		if !slices.Contains(all, g.contact) {
			all = append(all, g.contact)
		}
	}
	return all
}

func tally(due []group, of func(group) bool) (n int) {
	for _, g := range due {
		if of(g) {
			n++
		}
	}
	return n
}

// join makes one group of those of a family, where the first of them stands. Its kind
// is one that may pass the cap where any may.
func join(due []group, of func(group) bool, family func(ladder.Kind) string) (out []group) {
	at := map[string]int{}
	for _, g := range due {
		name := ""
		if of(g) {
			name = family(g.kind)
		}
		i, known := at[name]
		if name == "" || !known {
			at[name] = len(out)
			out = append(out, g)
			continue
		}
		into := &out[i]
		into.rows = strings.TrimSuffix(into.rows, "]") + "," + strings.TrimPrefix(g.rows, "[")
		if g.kind.Reserved() && !into.kind.Reserved() {
			into.kind = g.kind
		}
	}
	return out
}

// textsToday counts what was handed over to a contact since the day began, answers and
// alarms aside.
func (c claimer) textsToday(contact string) (n int, err error) {
	kinds, err := disk.All(c.db, disk.One[ladder.Kind], `SELECT m.kind FROM messages m WHERE m.contact = ? AND m.medium = ? AND m.urgent = 0
		AND m.id IN (SELECT message FROM attempts WHERE started_at >= ?)`, contact, c.Medium, c.DayStart.Unix())
	for _, k := range kinds {
		if !k.Answer() {
			n++
		}
	}
	return n, err
}

// longestWait is longer than any carrier puts a message off: what waits longer was
// put off by a clock that ran wild, and is due.
const longestWait = 25 * time.Hour

// take makes the group a message under way; nil where something holds it back.
func (c claimer) take(g group) (*Message, error) {
	address := c.Address(g.contact)
	why, err := c.heldBack(g, address)
	if err != nil {
		return nil, err
	}
	if why != "" {
		return nil, c.note(g, why)
	}
	quiet := c.Quiet != nil && !g.kind.Answer() && c.Quiet(g.contact, c.now)
	if quiet && !g.urgent {
		return nil, nil
	}
	if g.message != 0 {
		return c.again(g, address)
	}
	return c.render(g, address, quiet)
}

// heldBack says why an address gets nothing now, if so.
func (c claimer) heldBack(g group, address string) (string, error) {
	if address == "" {
		return WhyNoAddress, nil
	}
	since, stopped, err := c.Suppressed(address)
	if err != nil {
		return "", err
	}
	if stopped {
		confirmed := 1
		if g.kind == ladder.AnswerStop { // the one confirmation of an opt-out goes out
			err = c.db.Row(`SELECT count(*) FROM messages WHERE address = ? COLLATE NOCASE AND kind = ? AND frozen_at >= ? AND id <> ?`,
				address, g.kind, since.Unix(), g.message).Scan(&confirmed)
		}
		if confirmed > 0 || err != nil {
			return WhyStopped, err
		}
	}
	if c.Cap <= 0 || g.kind.Reserved() {
		return "", nil
	}
	n, err := c.countToday(g)
	if n >= c.Cap {
		return WhyCap, err
	}
	return "", err
}

// countToday counts the messages outside the reserve that were handed over
// for a contact since the day began.
func (c claimer) countToday(g group) (n int, err error) {
	kinds, err := disk.All(c.db, disk.One[ladder.Kind], `SELECT m.kind FROM messages m WHERE m.contact = ? AND m.medium = ? AND m.id <> ?
		AND m.id IN (SELECT message FROM attempts WHERE started_at >= ?)`, g.contact, c.Medium, g.message, c.DayStart.Unix())
	for _, k := range kinds {
		if !k.Reserved() {
			n++
		}
	}
	return n, err
}

// note writes down once what holds a group back.
func (c claimer) note(g group, why string) error {
	const rows = `why <> ? AND id IN (SELECT value FROM json_each(?))`
	var n int
	err := c.db.Row(`SELECT count(*) FROM outbox WHERE `+rows, why, g.rows).Scan(&n)
	if err != nil || n == 0 {
		return err
	}
	_, err = c.change(`why = ?`, rows, why, why, g.rows)
	return err
}
