package provider

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
)

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
