package carriers

import (
	"stubbled/notify/sms/spool"
)

// modem is the spool of the SMS server that drives a modem in this machine.
func (l *Links) modem(o Options) {
	farm := o.Farm()
	s := spool.New(spool.Options{Spool: farm.Carriers.SMS.Spool.Spool, Zone: farm.Zone, Log: o.Log}, o.Now)
	l.Carriers = append(l.Carriers, s)
	l.Receivers = append(l.Receivers, s)
}
