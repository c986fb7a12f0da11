package provider

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"stubbled/notify"
	"stubbled/notify/sms"
	"stubbled/notify/terms"
)

// maxText bounds a text that came in, in characters: ten parts and a margin.
const maxText = 4000

// An item is one entry of a list: a text, or news of a message of ours.
type item struct {
	id   string // the service's own; empty where it gives none
	at   time.Time
	got  notify.Received
	skip bool // nothing for us
}

// list finds the entries in an answer or a body.
func list(tree any, path string) ([]any, error) {
	switch v := at(tree, path).(type) {
	case []any:
		return v, nil
	case map[string]any:
		return []any{v}, nil
	case nil:
		if names(tree, path) { // null: an empty list
			return nil, nil
		}
		return nil, fmt.Errorf("the answer has nothing at %q: see the list's path in the farm file", path)
	}
	return nil, errors.New("the answer holds no list of messages")
}

// read makes a text, or news of one of ours, of an entry.
func (p *Provider) read(entry any, paths terms.Paths) item {
	for path, want := range paths.Only {
		if word(entry, path) != want {
			return item{skip: true}
		}
	}
	it := item{id: cut(word(entry, paths.ID), 200), at: stamp(word(entry, paths.Sent))}
	if status := word(entry, paths.Status); status != "" {
		p.news(&it, entry, paths, status)
		return it
	}
	it.got = notify.Received{
		From: sms.Normal(cut(word(entry, paths.From), 40), p.o.Region),
		Text: bound(word(entry, paths.Text), maxText),
		Sent: it.at,
	}
	if it.got.From == "" {
		it.skip = true
		return it
	}
	it.got.ID = "text/" + it.id
	if it.id == "" {
		it.got.ID = "text/" + digest(it.got.From, it.at.Format(time.RFC3339Nano), it.got.Text)
	}
	return it
}

// news is what became of a message of ours; what is on its way still, and
// words that nobody explained, are passed over.
func (p *Provider) news(it *item, entry any, paths terms.Paths, status string) {
	rep := notify.Report{Ref: cut(word(entry, paths.Ref), 128), EnvelopeID: cut(word(entry, paths.Envelope), 128)}
	fault := word(entry, paths.Error)
	switch p.meaning(status, fault) {
	case delivered:
		rep.Delivered = true
	case failedPermanent, failedTemporary, optedOut: // it will not arrive: the service has given up
		rep.Permanent = true
		rep.Detail = "the service could not deliver it (" + cut(status+" "+fault, 80) + ")"
	default:
		it.skip = true
		return
	}
	if rep.Ref == "" && rep.EnvelopeID == "" {
		it.skip = true
		return
	}
	it.got = notify.Received{ID: "news/" + digest(rep.Ref, rep.EnvelopeID, status, fault), Report: &rep}
}

func digest(parts ...string) string {
	h := sha256.New()
	for _, p := range parts {
		fmt.Fprintf(h, "%d:%s", len(p), p)
	}
	return hex.EncodeToString(h.Sum(nil)[:12])
}

// stamp reads the ways in which services write a time: RFC 3339, RFC 5322,
// or seconds or milliseconds since 1970; zero where it is none of them.
func stamp(text string) time.Time {
	for _, layout := range []string{time.RFC3339Nano, time.RFC1123Z, time.RFC1123, "2006-01-02T15:04:05Z0700", "2006-01-02 15:04:05Z07:00"} {
		if t, err := time.Parse(layout, text); err == nil {
			return t.UTC()
		}
	}
	n, err := strconv.ParseFloat(text, 64)
	switch {
	case err != nil || !(n >= 1e8 && n <= 1e14): // NaN neither
		return time.Time{}
	case n > 1e11:
		return time.UnixMilli(int64(n)).UTC()
	}
	return time.Unix(int64(n), 0).UTC()
}

// decode reads one JSON value; numbers stay as they are written, since ids are
// often longer than a float holds.
func decode(data []byte) (any, error) {
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	var v any
	if err := d.Decode(&v); err != nil {
		return nil, fmt.Errorf("it is no JSON: %w", err)
	}
	return v, nil
}

// at follows a dotted path; nil where it leads nowhere. A part that is a
// number counts from 0 in a list.
func at(v any, path string) any {
	if path == "" {
		return v
	}
	for part := range strings.SplitSeq(path, ".") {
		switch node := v.(type) {
		case map[string]any:
			v = node[part]
		case []any:
			i, err := strconv.Atoi(part)
			if err != nil || i < 0 || i >= len(node) {
				return nil
			}
			v = node[i]
		default:
			return nil
		}
	}
	return v
}

// word follows a path to a single value; empty where there is none, and where
// no path is named.
func word(v any, path string) string {
	if path == "" {
		return ""
	}
	switch node := at(v, path).(type) {
	case string:
		return node
	case json.Number:
		return node.String()
	case bool:
		return strconv.FormatBool(node)
	}
	return ""
}

// names reports whether a path leads to something, be it null.
func names(v any, path string) bool {
	parent, last := "", path
	if i := strings.LastIndexByte(path, '.'); i >= 0 {
		parent, last = path[:i], path[i+1:]
	}
	node, ok := at(v, parent).(map[string]any)
	if !ok {
		return false
	}
	_, ok = node[last]
	return ok
}
