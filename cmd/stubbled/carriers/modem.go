package carriers

import (
	"stubbled/config"
	"stubbled/notify/sms/spool"
)

// modem is the spool of the SMS server that drives a modem in this machine.
func (l *Links) modem(o Options) error {
	spooled := spoolOptions(o.Farm())
	spooled.Log = o.Log
	s, err := spool.New(spooled, o.Now)
	if err != nil {
		return err
	}
	l.Carriers = append(l.Carriers, s)
	l.Receivers = append(l.Receivers, s)
	return nil
}

// spoolOptions is the spool as the farm file describes it.
func spoolOptions(farm *config.Farm) spool.Options {
	c := farm.Carriers.SMS.Spool
	return spool.Options{
		Dir: c.Dir, Queues: c.Queues, PIDFile: c.PIDFile, LogFile: c.LogFile, StateFile: c.StateFile,
		Poll: c.Poll, Stale: c.StuckAfter, TakeBack: c.TakeBack, Keep: c.Keep, Validity: c.Validity,
		Zone: farm.Zone, Region: c.Region,
	}
}
