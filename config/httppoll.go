package config

import (
	"slices"
	"strings"
	"time"
)

func (l *loader) poll(e *entry) *Poll {
	p := &Poll{
		Paths: l.paths(e), Query: l.queryFields(e.get("query")), Cursor: wordOf(e.get("cursor")),
		NextPath: wordOf(e.get("next_path")), NextParam: wordOf(e.get("next_param")),
	}
	l.required(e, "url", "where the provider lists what came in")
	p.URL, _ = read(l, e.get("url"), parseURL)
	p.Every, _ = read(l, e.get("every"), span(10*time.Second, 24*time.Hour))
	p.LookBack, _ = read(l, e.get("look_back"), span(10*time.Minute, 31*24*time.Hour))
	p.MaxPages, _ = read(l, e.get("max_pages"), wholeIn(1, 1000))
	if p.NextParam != "" && !e.written("next_path") {
		l.say(e.get("next_param"), "carries the next page's mark, but nothing says where that stands; write next_path too")
	}
	if at := e.get("max_pages"); at != nil && at.from != fromDefault && !e.written("next_path") {
		l.say(at, "means nothing without next_path: there is one page")
	}
	since := slices.ContainsFunc(p.Query, func(f Field) bool { return strings.Contains(f.Value, ".Since") })
	if at := e.get("look_back"); at != nil && at.from != fromDefault && !since && !hasProblemUnder(l.problems, dotted(e.key, "query")) {
		l.say(at, `means nothing unless the query names it, such as query: {after: "{{.Since.Unix}}"}`)
	}
	return p
}
