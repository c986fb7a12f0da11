package daemon

import (
	"log/slog"

	"github.com/robfig/cron/v3"
)

// everyMinute is how often the daemon looks whether anything is due. Cron only
// wakes it: what is due comes from the store, so a beat that is missed, doubled
// or late changes nothing.
const everyMinute = "@every 1m"

// heartbeat calls beat every minute. A beat that is still running is not
// started again; one that panics is logged, and the next one runs. The order of
// the two wrappers matters: with Recover outside, a panic would keep the token
// of SkipIfStillRunning and no beat would ever run again.
func heartbeat(log *slog.Logger, beat func()) (*cron.Cron, error) {
	c := cron.New(cron.WithChain(cron.SkipIfStillRunning(cron.DiscardLogger), cron.Recover(cronLog{log})))
	_, err := c.AddFunc(everyMinute, beat)
	return c, err
}

// cronLog passes what cron has to say to the log.
type cronLog struct{ log *slog.Logger }

func (c cronLog) Info(string, ...any) {}
func (c cronLog) Error(err error, msg string, kv ...any) {
	c.log.Error("heartbeat: "+msg, append(kv, "err", err)...)
}
