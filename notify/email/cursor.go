package email

import (
	"fmt"
	"time"
)

// A cursor is how far a mailbox has been read: everything up to and including
// the UID, in the numbering that the validity stands for (RFC 3501 2.3.1.1).
type cursor struct {
	validity uint32
	uid      uint32
	at       time.Time // when it was true; tells how far back to look if the numbering changes
}

// String is the cursor as it is stored.
func (c cursor) String() string {
	return fmt.Sprintf("1 %d %d %d", c.validity, c.uid, c.at.Unix())
}

// parseCursor reads a stored cursor; an empty or foreign one is the zero
// cursor, which means: look back.
func parseCursor(s string) cursor {
	var (
		c           cursor
		version, at int64
	)
	n, err := fmt.Sscanf(s, "%d %d %d %d", &version, &c.validity, &c.uid, &at)
	if err != nil || n != 4 || version != 1 || at < 0 {
		return cursor{}
	}
	c.at = time.Unix(at, 0)
	return c
}

// How far back a mailbox is read anew when there is no usable cursor. What was
// heard before is known by its ID, so that reading twice does no harm; the
// bounds keep an old mailbox from being read whole.
const (
	lookBack    = 7 * 24 * time.Hour
	lookBackMax = 30 * 24 * time.Hour
)

// since is the day from which to read anew.
func (c cursor) since(now time.Time) time.Time {
	back := lookBack
	if !c.at.IsZero() && c.at.Before(now) {
		back = min(now.Sub(c.at)+48*time.Hour, lookBackMax) // SEARCH SINCE knows days only, in the server's zone
	}
	return now.Add(-back)
}
