package links

import (
	"path/filepath"
	"slices"
	"time"

	"stubbled/config/settings"
	"stubbled/config/values"
)

// SpoolFolders is the spool of an SMS server that drives a modem: a folder with
// outgoing, sent, failed and incoming below it, and the server's own files,
// which tell how it and the modem are.
type SpoolFolders struct {
	Dir    string   `key:"dir" as:"path" default:"/var/spool/stubbled-sms"`
	Queues []string `key:"queues" read:"later"` // folders in which texts wait for the modem, below Dir or whole paths

	// Where Debian's smsd keeps its own files, with the settings that come with
	// the program; empty: not looked at.
	PIDFile   string `key:"pid_file" as:"path, none" default:"/run/smstools/smsd.pid"`
	LogFile   string `key:"log_file" as:"path, none" default:"/var/log/smstools/smsd.log"`
	StateFile string `key:"state_file" as:"path, none" default:"/var/log/smstools/GSM1.state"`

	Region string `key:"region" as:"region" default:"US"` // whose national numbers are read: US, GB ...

	StuckAfter time.Duration `key:"stuck_after" as:"span" in:"1 min..1 day" default:"5 min"`         // a text that waits longer says that the carrier is down
	TakeBack   time.Duration `key:"take_back" as:"span, never" in:"5 min..7 days" default:"6 hours"` // a text that waits longer is taken back unsent; negative: never
	Validity   time.Duration `key:"validity" as:"span" in:"5 min..7 days" default:"24 hours"`        // how long the network keeps trying
	Poll       time.Duration `key:"poll" as:"span" in:"1 s..1 min" default:"2 s"`                    // between two looks at folders that the kernel cannot watch
	Keep       time.Duration `key:"keep" as:"span" in:"7 days..366 days" default:"30 days"`          // how long what is done is kept
}

func (s *SpoolFolders) Judge(r *settings.Reading, e *settings.Entry) {
	s.Queues = queues(r, e.Get("queues"))
	if s.TakeBack > 0 && s.StuckAfter > 0 && s.TakeBack <= s.StuckAfter {
		at := e.Get("take_back")
		if !at.Said() {
			at = e.Get("stuck_after")
		}
		r.Say(at, "take_back (%s) must be longer than stuck_after (%s): a text would be taken back before anybody is told that it waits",
			values.InWords(s.TakeBack), values.InWords(s.StuckAfter))
	}
}

// ownFolders are those of the spool that are no queues.
var ownFolders = []string{"outgoing", "incoming", "sent", "failed", "done"}

func queues(r *settings.Reading, e *settings.Entry) []string {
	var out []string
	for _, item := range e.List() {
		name := item.Text
		switch {
		case slices.Contains(ownFolders, name):
			r.Say(item, "%q is no queue; want the folder that smsd moves texts to until the modem is free, such as checked", name)
		case !filepath.IsAbs(name) && name != filepath.Base(name), name == "..", name == ".":
			r.Say(item, "want a folder's name such as checked, or its whole path, got %q", values.Clip(name))
		case slices.Contains(out, name):
			r.Say(item, "%q is listed twice; keep one", values.Clip(name))
		default:
			out = append(out, name)
		}
	}
	if len(out) == 0 {
		return []string{"checked"}
	}
	return out
}
