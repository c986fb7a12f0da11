package settings

import (
	"bytes"
	"cmp"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"

	"stubbled/config/values"
)

// The first pass walks the YAML with its lines and lets nothing through that isn't
// known.

// say tells what is wrong, of which there is no entry.
func (r *Reading) say(line int, key, format string, args ...any) *Entry {
	r.Problems = append(r.Problems, Problem{File: r.File, Line: line, Key: key, Text: fmt.Sprintf(format, args...)})
	return nil
}

var yamlLine = regexp.MustCompile(`^line (\d+): `)

// document parses the bytes and walks them. It gives nil where there is no
// document to walk.
func (r *Reading) document(data []byte) *Entry {
	if line := notUTF8(data); line > 0 {
		return r.say(line, "", "holds a letter that is not in UTF-8; save the file as UTF-8 (in the editor: Save As, encoding UTF-8)")
	}
	var doc yaml.Node
	dec := yaml.NewDecoder(strings.NewReader(string(data)))
	if err := dec.Decode(&doc); err != nil {
		r.syntax(err)
		return nil
	}
	var more yaml.Node
	if err := dec.Decode(&more); err == nil {
		return r.say(more.Line, "", "a second document begins here; a %s is one document, take out the --- line", r.format.Name)
	}
	if doc.Kind != yaml.DocumentNode || len(doc.Content) != 1 {
		return r.say(1, "", "empty; want %s", r.format.Sections)
	}
	return r.walk(doc.Content[0], r.format.shape, "")
}

// notUTF8 is the first line that is not in UTF-8; 0 where all are, or where the
// file says that it is in another encoding.
func notUTF8(data []byte) int {
	if utf8.Valid(data) || bytes.HasPrefix(data, []byte("\xff\xfe")) || bytes.HasPrefix(data, []byte("\xfe\xff")) {
		return 0
	}
	n := 0
	for line := range bytes.Lines(data) {
		if n++; !utf8.Valid(line) {
			break
		}
	}
	return n
}

// syntax tells what the YAML parser stumbled on, with its line.
func (r *Reading) syntax(err error) {
	text := strings.TrimPrefix(err.Error(), "yaml: ")
	if text == "EOF" {
		r.say(1, "", "empty; want %s", r.format.Sections)
		return
	}
	line := 0
	if m := yamlLine.FindStringSubmatch(text); m != nil {
		line, _ = strconv.Atoi(m[1])
		text = strings.TrimPrefix(text, m[0])
	}
	mend := "check the indentation, quotes and brackets here and on the line above"
	if strings.Contains(text, "tab") || strings.Contains(text, "cannot start any token") {
		mend = "indent with spaces, never tabs, and quote text that begins with a sign"
	}
	r.say(line, "", "not readable as YAML: %s; %s", text, mend)
}

// walk checks one node against its shape. What doesn't fit is told and left out.
func (r *Reading) walk(n *yaml.Node, sh *shape, key string) *Entry {
	if n.Kind == yaml.AliasNode || n.Anchor != "" {
		return r.say(n.Line, key, "anchors and aliases (& and *) are not read here; write the value out")
	}
	if n.Kind == yaml.ScalarNode && n.Tag == "!!null" {
		return r.say(n.Line, key, "is empty; give it a value or take the line out")
	}
	if sh.off && n.Kind == yaml.ScalarNode && strings.EqualFold(n.Value, "off") {
		return nil
	}
	e := &Entry{Key: key, file: r.File, Line: n.Line, shape: sh}
	switch sh.form {
	case object:
		return r.object(n, sh, e)
	case list:
		return r.list(n, sh, e)
	case pairs:
		return r.pairs(n, e)
	}
	return r.scalar(n, sh, e)
}

func (r *Reading) wrong(n *yaml.Node, sh *shape, key string) *Entry {
	got := "text"
	switch n.Kind {
	case yaml.MappingNode:
		got = "keys with values"
	case yaml.SequenceNode:
		got = "a list"
	case yaml.ScalarNode:
		got = strconv.Quote(values.Clip(n.Value))
	}
	return r.say(n.Line, key, "want %s, got %s", wanted(sh.form), got)
}

func (r *Reading) object(n *yaml.Node, sh *shape, e *Entry) *Entry {
	if n.Kind != yaml.MappingNode {
		return r.wrong(n, sh, e.Key)
	}
	e.under = make(map[string]*Entry, len(n.Content)/2)
	seen := map[string]seenKey{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		name, under, meant := r.key(k, sh, e.Key, seen)
		if under == nil {
			if _, ok := e.under[meant]; meant != "" && !ok {
				e.under[meant] = nil // so that it isn't told again as missing
			}
			continue
		}
		if child := r.walk(v, under, dotted(e.Key, name)); child != nil {
			if !one(child.shape.form) {
				child.Line = k.Line
			}
			e.under[name] = child
		} else {
			e.under[name] = nil // written, and told already
		}
	}
	return e
}

// seenKey is a key as it was first written.
type seenKey struct {
	written string
	line    int
}

// key checks one key of an object: known, written once, and not in another
// case. For a key that is refused it gives the known key that was meant, where
// that is clear.
func (r *Reading) key(k *yaml.Node, sh *shape, parent string, seen map[string]seenKey) (name string, under *shape, meant string) {
	if !r.plainKey(k, parent) {
		return "", nil, ""
	}
	name = k.Value
	at := dotted(parent, values.Clip(name))
	folded := strings.ToLower(name)
	if was, dup := seen[folded]; dup {
		if was.written == name {
			r.say(k.Line, at, "written twice, first on line %d; keep one", was.line)
		} else {
			r.say(k.Line, at, "differs from %q on line %d only in upper and lower case; keep one", was.written, was.line)
		}
		return "", nil, ""
	}
	seen[folded] = seenKey{name, k.Line}
	if under, ok := sh.under[name]; ok {
		return name, under, ""
	}
	if _, ok := sh.under[folded]; ok {
		r.say(k.Line, at, "keys are lower case; write %q", folded)
		return "", nil, folded
	}
	if meant, instead, ok := secretKey(name, sh); ok {
		r.say(k.Line, at, "secrets don't belong in the %s; write %s", r.format.Name, instead)
		return "", nil, meant
	}
	r.say(k.Line, at, "no such key%s", values.OrNearest(name, sh.keys))
	return "", nil, values.Nearest(name, sh.keys)
}

// plainKey reports whether a key is one word, and tells where it isn't.
func (r *Reading) plainKey(k *yaml.Node, parent string) bool {
	switch {
	case k.Tag == "!!merge":
		r.say(k.Line, parent, "merge keys (<<) are not read here; write the values out")
		return false
	case k.Kind != yaml.ScalarNode || k.Anchor != "" || hasControl(k.Value):
		r.say(k.Line, parent, "a key must be a plain word")
		return false
	}
	return true
}

func (r *Reading) list(n *yaml.Node, sh *shape, e *Entry) *Entry {
	if n.Kind != yaml.SequenceNode {
		return r.wrong(n, sh, e.Key)
	}
	for i, c := range n.Content {
		if item := r.walk(c, sh.item, fmt.Sprintf("%s[%d]", e.Key, i)); item != nil {
			e.items = append(e.items, item)
		}
	}
	return e
}

func (r *Reading) pairs(n *yaml.Node, e *Entry) *Entry {
	if n.Kind != yaml.MappingNode {
		return r.wrong(n, aPairs, e.Key)
	}
	seen := map[string]int{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		if !r.plainKey(k, e.Key) {
			continue
		}
		at := dotted(e.Key, values.Clip(k.Value))
		if line, dup := seen[k.Value]; dup {
			r.say(k.Line, at, "written twice, first on line %d; keep one", line)
			continue
		}
		seen[k.Value] = k.Line
		if child := r.walk(v, aWord, at); child != nil {
			e.Pairs = append(e.Pairs, Pair{k.Value, child})
		}
	}
	return e
}

func (r *Reading) scalar(n *yaml.Node, sh *shape, e *Entry) *Entry {
	if n.Kind != yaml.ScalarNode {
		return r.wrong(n, sh, e.Key)
	}
	switch quoted := n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle|yaml.LiteralStyle|yaml.FoldedStyle) != 0; {
	case n.Tag == "!!binary" || n.Style&yaml.TaggedStyle != 0:
		return r.say(n.Line, e.Key, "tags (!) are not read here; write the value itself")
	case sh.form == values.Word && n.Tag != "!!str":
		return r.say(n.Line, e.Key, "want text, got the %s %s; put it in quotes: %q", cmp.Or(tagWords[n.Tag], "value"), values.Clip(n.Value), r.format.Quoted(e.Key, values.Clip(n.Value)))
	case sh.form == values.Count && (quoted || !values.IsCount(n.Value)):
		return r.say(n.Line, e.Key, "want a whole number such as 38, got %q", values.Clip(n.Value))
	case sh.form != values.Count && strings.TrimSpace(n.Value) == "":
		return r.say(n.Line, e.Key, "is empty; give it a value or take the line out")
	case hasControl(n.Value):
		return r.say(n.Line, e.Key, "holds a line break or control character; write it on one line")
	}
	e.Text = n.Value
	return e
}

// tagWords are what people call what YAML takes a value for.
var tagWords = map[string]string{"!!int": "number", "!!float": "number", "!!bool": "truth value", "!!timestamp": "date"}

func hasControl(text string) bool {
	return strings.ContainsFunc(text, func(r rune) bool { return r < ' ' || r == 0x7f || r >= 0x80 && r < 0xa0 || r == 0x2028 || r == 0x2029 })
}

func dotted(parent, key string) string {
	if parent == "" {
		return key
	}
	return parent + "." + key
}
