package config

// defaults are the values of settings that nobody wrote. Settings without one
// are optional or required. Heights are not here: where neither a paddock nor
// the farm gives one, the species' own figure counts.
var defaults = map[string]string{
	"farm.units":   "inches",
	"farm.morning": "06:30",
	"farm.cap":     "3 texts",

	"frost.threshold": "32F",
	"frost.plan_on":   "average",

	"rest.days":       "45 days", // common practice, usual 45-60
	"rest.confidence": "80%",
	"rest.ends_at":    "28F",
	"rest.spring":     "04-01",

	"carriers.sms.via": "console",

	// Where Debian's smsd keeps its own files, with the settings that come with
	// the program.
	"carriers.sms.spool.dir":         "/var/spool/stubbled-sms",
	"carriers.sms.spool.pid_file":    "/run/smstools/smsd.pid",
	"carriers.sms.spool.log_file":    "/var/log/smstools/smsd.log",
	"carriers.sms.spool.state_file":  "/var/log/smstools/GSM1.state",
	"carriers.sms.spool.region":      "US",
	"carriers.sms.spool.stuck_after": "5 min",
	"carriers.sms.spool.take_back":   "6 hours",
	"carriers.sms.spool.validity":    "24 hours",
	"carriers.sms.spool.poll":        "2 s",
	"carriers.sms.spool.keep":        "30 days",

	"carriers.sms.http.method":         "POST",
	"carriers.sms.http.encoding":       "form",
	"carriers.sms.http.timeout":        "20 s",
	"carriers.sms.http.rate":           "1 per second",
	"carriers.sms.http.region":         "US",
	"carriers.sms.http.poll.every":     "1 min",
	"carriers.sms.http.poll.look_back": "24 hours",
	"carriers.sms.http.poll.max_pages": "20",
	"carriers.sms.http.webhook.listen": "127.0.0.1:8825",
	"carriers.sms.http.webhook.beyond": "false",
	"carriers.sms.http.webhook.path":   "/sms",

	"carriers.email.smtp.tls":     "starttls",
	"carriers.email.smtp.timeout": "1 min",
	"carriers.email.imap.tls":     "tls",
	"carriers.email.imap.mailbox": "INBOX",
	"carriers.email.imap.poll":    "5 min",
	"carriers.email.imap.timeout": "1 min",

	"weather.day_first":        "false",
	"weather.every":            "30 s",
	"weather.silence":          "6 hours",
	"weather.service.url":      "https://api.weather.gov",
	"weather.service.observe":  "20 min",
	"weather.service.forecast": "1 hour",
	"weather.service.silence":  "6 hours",

	"backup.at": "02:30",
}

// always are the sections that have their defaults even where the farm file
// doesn't write them; the defaults of the others count once they are written.
var always = map[string]bool{"farm": true, "frost": true, "rest": true, "carriers.sms": true, "backup": true}

// EnvPrefix begins the name of every environment variable that sets a setting:
// rest.days is STUBBLED_REST_DAYS.
const EnvPrefix = "STUBBLED_"

// otherEnv are variables of that prefix that are no settings.
var otherEnv = map[string]bool{"STUBBLED_FARM": true, "STUBBLED_DB": true, "STUBBLED_DATA": true}
