// Package terms is in charge of what is agreed with a carrier or a weather source:
// where it is, what things are called there, how patient to be. The farm file says
// it, and each carrier goes by it; the keys of the farm file, with their ranges and
// defaults, are the tags here (see config/settings).
//
// It judges nothing, holds no secret, and imports nothing.
package terms

import "time"

// Field is a name with a value, in the order written.
type Field struct{ Name, Value string }

// Request is how a service of texts, or of calls, over HTTP is asked: all differ only
// in names. Fields hold templates over Message; in JSON a dot in the name of one leads
// into an object, and a last [] makes a list of one.
type Request struct {
	URL      string  `key:"url" as:"url" missing:"where texts are sent, such as url: https://sms.example.org/messages"`
	Method   string  `key:"method" as:"one of" in:"POST PUT" default:"POST"`
	Encoding string  `key:"encoding" as:"one of" in:"form json" default:"form"`
	Fields   []Field `key:"fields" read:"later" missing:"what is sent, such as fields: {to: \"{{.To}}\", text: \"{{.Text}}\"}"`
	Headers  []Field `key:"headers" read:"later"` // more headers, sent as they stand
}

// Message is what a field's template may name.
type Message struct {
	To     string // E.164
	Digits string // without its plus
	Text   string
	ID     string // our own id of the message
	// Language is the tag of whom it goes to: en, es. A voice needs it.
	Language string
}

// Auth is how a service knows us, the secret apart.
type Auth struct {
	Kind string `key:"kind" as:"one of" in:"none basic bearer header field" missing:"how the provider knows you: none, basic, bearer, header or field"`
	User string `key:"user"` // basic
	Name string `key:"name"` // of the header or field
}

// Answer is what a service answers, and how it is kept to. Paths are dotted, with
// numbers for places in a list; empty where it gives none.
type Answer struct {
	Success     []int             `key:"success" as:"number" in:"200..299"`
	IDPath      string            `key:"id_path"` // of its id for the message
	StatusPath  string            `key:"status_path"`
	ErrorPath   string            `key:"error_path"`                                                                                 // of its own code or word for a fault
	StatusMap   map[string]string `key:"status_map" as:"one of" in:"accepted delivered failed-temporary failed-permanent opted-out"` // its word, and what it is taken for
	Idempotency string            `key:"idempotency" as:"header"`                                                                    // header that carries our id; empty: a retry may be said twice
	Timeout     time.Duration     `key:"timeout" as:"span" in:"1 s..5 min" default:"20 s"`
	Every       time.Duration     `key:"rate" as:"rate" default:"1 per second"` // least time between two messages
	CheckURL    string            `key:"check_url" as:"url"`                    // answers a GET with 2xx where the password is right; empty: Poll's
	Region      string            `key:"region" as:"region" default:"US"`       // whose national numbers are read: US, GB ...
}

// Paths lead to what a message that came in, or news of one of ours, holds. A form's
// parameters are named as they are.
type Paths struct {
	List   string `key:"list_path"` // of the list; empty: the answer or body itself
	ID     string `key:"id_path"`
	From   string `key:"from_path"`
	Text   string `key:"text_path"`
	Sent   string `key:"sent_path"`
	Status string `key:"status_path"`
	// Ref leads to the service's id of a message of ours, Envelope to our own.
	Ref      string            `key:"ref_path"`
	Envelope string            `key:"envelope_path"`
	Error    string            `key:"error_path"`
	Only     map[string]string `key:"only"` // path to value: anything else is passed over (direction: inbound)
}

// Poll asks a service for what came in: most farms cannot be reached from outside.
type Poll struct {
	URL    string        `key:"url" as:"url" missing:"where the provider lists what came in"`
	Every  time.Duration `key:"every" as:"span" in:"10 s..1 day" default:"1 min"`
	Query  []Field       `key:"query" read:"later"` // templates over Since
	Cursor string        `key:"cursor"`             // query parameter that carries the last id seen; empty: none
	Paths
	Next      string        `key:"next_path"`                                                   // of the next page's address or mark
	NextParam string        `key:"next_param"`                                                  // query parameter of that mark; empty: Next leads to an address
	LookBack  time.Duration `key:"look_back" as:"span" in:"10 min..31 days" default:"24 hours"` // how far the first poll looks, and each one that goes by time
	MaxPages  int           `key:"max_pages" as:"number" in:"1..1000" default:"20"`
}

// Since is what a poll's query may name.
type Since struct {
	Cursor string    // the last id seen
	Since  time.Time // LookBack ago
}

// Webhook is where a service calls us.
type Webhook struct {
	Listen    string `key:"listen" as:"listen" default:"127.0.0.1:8825"`        // host:port
	Beyond    bool   `key:"beyond" as:"yes or no" read:"later" default:"false"` // other machines may reach Listen
	Path      string `key:"path" as:"web path" default:"/sms"`                  // of the address that it calls
	PublicURL string `key:"public_url" as:"public url"`                         // as it calls it; empty: Listen's and Path's
}

// Layout is how a service signs its calls. Empty is the commonest way: a header
// 't=<unix>,v1=<hex>' over '<t>.<body>'.
type Layout struct {
	Header     string `key:"header" as:"header"` // that carries the signature; empty where the scheme names its own
	Hash       string `key:"hash" as:"one of" in:"sha1 sha256"`
	Stamp      string `key:"stamp_header" as:"header"`             // of the time stamp; empty: it stands in Header
	StampField string `key:"stamp_field"`                          // its name in Header; empty: t
	SignField  string `key:"sign_field"`                           // the signature's name in Header; empty: v1
	Nonce      string `key:"nonce_header" as:"header"`             // that is part of what is signed; empty: none
	Signed     string `key:"signed" as:"signed"`                   // {timestamp}, {body}, {nonce}, {method}, {url}; empty: {timestamp}.{body}
	Encoding   string `key:"encoding" as:"one of" in:"hex base64"` // of the signature; empty: hex
}

// Spool is the spool of an SMS server that drives a modem: a folder with outgoing,
// sent, failed and incoming below it, and the server's own files, which tell how it
// and the modem are.
type Spool struct {
	Dir    string   `key:"dir" as:"path" default:"/var/spool/stubbled-sms"`
	Queues []string `key:"queues" read:"later"` // folders in which texts wait for the modem, below Dir or whole paths

	// Where Debian's smsd keeps its own files, with the settings that come with
	// the program; empty: not looked at.
	PIDFile   string `key:"pid_file" as:"path, none" default:"/run/smstools/smsd.pid"`
	LogFile   string `key:"log_file" as:"path, none" default:"/var/log/smstools/smsd.log"`
	StateFile string `key:"state_file" as:"path, none" default:"/var/log/smstools/GSM1.state"`

	Region string `key:"region" as:"region" default:"US"` // whose national numbers are read: US, GB ...

	Stale    time.Duration `key:"stuck_after" as:"span" in:"1 min..1 day" default:"5 min"`         // a text that waits longer says that the carrier is down, and so does an older state
	TakeBack time.Duration `key:"take_back" as:"span, never" in:"5 min..7 days" default:"6 hours"` // a text that waits longer is taken back unsent; negative: never
	Validity time.Duration `key:"validity" as:"span" in:"5 min..7 days" default:"24 hours"`        // how long the network keeps trying
	Poll     time.Duration `key:"poll" as:"span" in:"1 s..1 min" default:"2 s"`                    // between two looks at folders that the kernel cannot watch
	Keep     time.Duration `key:"keep" as:"span" in:"7 days..366 days" default:"30 days"`          // how long what is done is kept
}

// Thermometer is a log that a thermometer writes: comma, semicolon or tab separated,
// one reading a line, time and temperature in the columns that the header names, or
// first and second without one.
type Thermometer struct {
	File     string        `key:"log"`
	Place    string        `key:"place"`                                                   // whose temperature it is, as people say it
	Unit     string        `key:"unit" as:"degrees"`                                       // F or C; empty: as its header says
	Column   string        `key:"column"`                                                  // of the temperature; empty: found by the header
	DayFirst bool          `key:"day_first" as:"yes or no" default:"false"`                // 3/9/2026 is Sep 3
	Every    time.Duration `key:"every" as:"span" in:"1 s..1 day" default:"30 s"`          // how often it is looked at
	Silence  time.Duration `key:"silence" as:"span" in:"10 min..7 days" default:"6 hours"` // how long without a reading is a fault
}

// Point is a place in degrees.
type Point struct{ Lat, Lon float64 }

// Feed is a weather service over HTTP.
type Feed struct {
	URL     string `key:"url" as:"url" default:"https://api.weather.gov"`                                                         // base address
	Station string `key:"station" as:"station"`                                                                                   // where it observes; empty: the one nearest to the point
	Point   *Point `key:"point" as:"point"`                                                                                       // that it forecasts for; nil: where the station is
	Contact string `key:"contact" as:"email" missing:"a mail address the service may write to, such as contact: ana@example.org"` // whom the service may write to

	// How often each is asked for at most.
	Observe  time.Duration `key:"observe" as:"span" in:"5 min..1 day" default:"20 min"`
	Forecast time.Duration `key:"forecast" as:"span" in:"10 min..1 day" default:"1 hour"`
	// Silence is how long without an observation is a fault; a forecast may be
	// four times as old (an assumption).
	Silence time.Duration `key:"silence" as:"span" in:"1 hour..7 days" default:"6 hours"`
}
