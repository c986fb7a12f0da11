package links

import (
	"path/filepath"
	"slices"

	"stubbled/config/settings"
	"stubbled/config/values"
	"stubbled/notify/terms"
)

// SpoolFolders is the spool of an SMS server that drives a modem.
type SpoolFolders struct{ terms.Spool }

func (s *SpoolFolders) Judge(r *settings.Reading, e *settings.Entry) {
	s.Queues = queues(r, e.Get("queues"))
	if s.TakeBack > 0 && s.Stale > 0 && s.TakeBack <= s.Stale {
		at := e.Get("take_back")
		if !at.Said() {
			at = e.Get("stuck_after")
		}
		r.Say(at, "take_back (%s) must be longer than stuck_after (%s): a text would be taken back before anybody is told that it waits",
			values.InWords(s.TakeBack), values.InWords(s.Stale))
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
