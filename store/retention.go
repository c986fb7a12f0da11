package store

import (
	"context"
	"time"

	"github.com/golang-sql/civil"
)

// For how many days what is kept. Facts and the texts they were read from stay for
// good, and so does the key of everything that was ever to be said.
const (
	keepStrangers    = 30  // what somebody texted who is in no farm file
	keepPictures     = 90  // the pictures and files of a mail
	keepWords        = 400 // what was said, how and why: a whole year of the ladder and more
	keepForecasts    = 7
	keepObservations = 90 // one by one; after that the day's lowest, highest and rain
)

// forget drops what is older than that. What may still be said keeps all it has. A
// row is old by its date and by its place: one that was written by a clock that
// stood in 1970 is no older than those around it.
func (s *Store) forget(ctx context.Context, now time.Time) error {
	since := func(days int) []any { return []any{now.AddDate(0, 0, -days).Unix(), now.Unix()} }
	day := func(days int) []any { return []any{date(civil.DateOf(now).AddDays(-days))} }
	return s.writing(ctx, "forget what is old", now, func(t *Tx) error {
		for _, step := range []struct {
			q    string
			args []any
		}{
			{`DELETE FROM inbox WHERE contact = '' AND done_at IS NOT NULL AND received_at < ?1 AND ` + before("inbox", "received_at"), since(keepStrangers)},
			{`UPDATE messages SET files = NULL, html = '' WHERE frozen_at < ?1 AND files IS NOT NULL AND ` + before("messages", "frozen_at") + `
				AND NOT EXISTS (SELECT 1 FROM outbox o WHERE o.message = messages.id AND o.state IN ('queued', 'sending'))`, since(keepPictures)},
			{`UPDATE outbox SET message = NULL, repeats = NULL, facts = '{}' WHERE changed_at < ?1 AND facts <> '{}' AND state NOT IN ('queued', 'sending')
				AND ` + before("outbox", "planned_at"), since(keepWords)},
			{`UPDATE messages SET repeats = NULL WHERE repeats IS NOT NULL AND frozen_at < ?1 AND ` + before("messages", "frozen_at"), since(keepWords)},
			{`DELETE FROM attempts WHERE message IN (SELECT id FROM messages m WHERE ` + unused + `)`, since(keepWords)},
			{`DELETE FROM messages AS m WHERE ` + unused, since(keepWords)},
			{`DELETE FROM observations WHERE forecast = 1 AND day < ?`, day(keepForecasts)},
			{`UPDATE observations AS o SET min_c = (SELECT min(min_c) ` + sameDay + `), max_c = (SELECT max(coalesce(max_c, min_c)) ` + sameDay + `),
				rain_mm = (SELECT rain_mm ` + sameDay + ` AND rain_mm IS NOT NULL ORDER BY at DESC LIMIT 1)
				WHERE forecast = 0 AND day < ? AND at = (SELECT max(at) ` + sameDay + `) AND (SELECT count(*) ` + sameDay + `) > 1`, day(keepObservations)},
			{`DELETE FROM observations AS o WHERE forecast = 0 AND day < ? AND EXISTS (SELECT 1 ` + sameDay + ` AND at > o.at)`, day(keepObservations)},
		} {
			if _, err := t.db.Exec(step.q, step.args...); err != nil {
				return err
			}
		}
		s.air = airCache{}
		return nil
	})
}

// before are the rows of a table that stand before all those of the time kept,
// which is from ?1 to ?2.
func before(table, dated string) string {
	return `id < coalesce((SELECT id FROM ` + table + ` WHERE ` + dated + ` BETWEEN ?1 AND ?2 ORDER BY id LIMIT 1), 1 << 62)`
}

// unused are old messages m that no row names any more.
var unused = `m.frozen_at < ?1 AND m.` + before("messages", "frozen_at") + `
	AND NOT EXISTS (SELECT 1 FROM outbox WHERE message = m.id) AND NOT EXISTS (SELECT 1 FROM outbox WHERE repeats = m.id)
	AND NOT EXISTS (SELECT 1 FROM messages WHERE repeats = m.id)`

// sameDay are the observations of the source, place and day of another one o.
const sameDay = `FROM observations WHERE source = o.source AND place = o.place AND day = o.day AND forecast = 0`
