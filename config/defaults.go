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

	"carriers.sms.via":                 "console",
	"carriers.sms.spool.dir":           "/var/spool/sms",
	"carriers.sms.spool.stuck_after":   "15 min",
	"carriers.sms.http.method":         "POST",
	"carriers.sms.http.encoding":       "form",
	"carriers.sms.http.timeout":        "20 s",
	"carriers.sms.http.rate":           "1 per second",
	"carriers.sms.http.poll.every":     "1 min",
	"carriers.sms.http.webhook.listen": "127.0.0.1:8825",
	"carriers.sms.http.webhook.path":   "/sms",
	"carriers.email.smtp.tls":          "starttls",
	"carriers.email.smtp.timeout":      "1 min",
	"carriers.email.imap.tls":          "tls",
	"carriers.email.imap.mailbox":      "INBOX",
	"carriers.email.imap.poll":         "5 min",
	"weather.every":                    "15 min",
	"weather.service.url":              "https://api.weather.gov",
	"backup.keep":                      "14 nights",
	"backup.at":                        "02:30",
}

// always are the sections that have their defaults even where the farm file
// doesn't write them; the defaults of the others count once they are written.
var always = map[string]bool{"farm": true, "frost": true, "rest": true, "carriers.sms": true, "weather": true, "backup": true}

// EnvPrefix begins the name of every environment variable that sets a setting:
// rest.days is STUBBLED_REST_DAYS.
const EnvPrefix = "STUBBLED_"

// otherEnv are variables of that prefix that are no settings.
var otherEnv = map[string]bool{"STUBBLED_FARM": true, "STUBBLED_DB": true, "STUBBLED_DATA": true}
