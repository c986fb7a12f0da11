package ladder

// The words of the alarm list: what of the machine fails. AlarmFacts.Alarm is one
// of them, and every one has its own words, with the mend.
const (
	AlarmSMSDown     = "sms-down"           // texts do not go out
	AlarmMailDown    = "mail-down"          // mail does not go out
	AlarmRepliesDown = "replies-down"       // what people send does not come in
	AlarmWeatherDown = "weather-down"       // no forecast or station data
	AlarmThermometer = "thermometer-silent" // the farm's own log says nothing
	AlarmClock       = "clock"              // the clock jumped or runs behind; reminders wait
	AlarmDisk        = "disk"               // full or read-only
	AlarmDatabase    = "database"           // damaged
	AlarmStuck       = "stuck"              // the daemon cannot do its work, for another reason
	AlarmLost        = "writes-lost"        // what was written last before the power went may be gone
	AlarmBackup      = "backup"             // the last one failed or is old
	AlarmFarmFile    = "farm-file"          // it cannot be read at all
	AlarmNobodyLeft  = "nobody-left"        // everybody opted out or cannot be reached
	AlarmNobodyFor   = "nobody-for-paddock" // a rung of a paddock reached nobody
	AlarmUnknownSent = "may-not-have-gone"  // the outcome of a late rung is unknown
	AlarmFrostRecord = "frost-record"       // the station record cannot be read
	AlarmStranger    = "mail-not-authentic" // mail in a contact's name that is not proved theirs
	AlarmCap         = "daily-cap"          // reminders held back by the daily cap
)

// Alarms lists every word of the alarm list.
func Alarms() []string {
	return []string{
		AlarmSMSDown, AlarmMailDown, AlarmRepliesDown, AlarmWeatherDown, AlarmThermometer, AlarmClock,
		AlarmDisk, AlarmDatabase, AlarmStuck, AlarmLost, AlarmBackup, AlarmFarmFile, AlarmNobodyLeft, AlarmNobodyFor,
		AlarmUnknownSent, AlarmFrostRecord, AlarmStranger, AlarmCap,
	}
}
