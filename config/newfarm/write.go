package newfarm

import (
	"bytes"
	"cmp"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"text/template"
	"unicode"

	_ "embed" // the text of a new farm file

	"stubbled/config"
	"stubbled/config/settings"
	"stubbled/config/values"
)

//go:embed farm.yaml.tmpl
var farmFile string

// Write makes a commented farm file of the answers and loads it once, so what
// comes out is known to be good. The error is Problems with the keys of the
// file as places.
func Write(a Answers) ([]byte, error) {
	data := a.text()
	if _, err := config.LoadText("answers", data, config.WithoutEnvironment(), config.In(a.Dir)); err != nil {
		return nil, withoutLines(err)
	}
	return data, nil
}

// withoutLines drops the lines of a file that nobody has seen.
func withoutLines(err error) error {
	ps, ok := err.(settings.Problems)
	if !ok {
		return err
	}
	for i := range ps {
		if ps[i].File == "answers" {
			ps[i].Line = 0
		}
	}
	return ps
}

// text is the file's text.
func (a Answers) text() []byte {
	ids, paddocks, herds := map[string]string{}, map[string]bool{}, map[string]bool{}
	for _, k := range a.Paddocks {
		paddocks[values.Fold(k.Name)] = true
	}
	t := template.Must(template.New("farm").Funcs(template.FuncMap{
		"secret": func(key, name string) string {
			if a.Service {
				return key + "_credential: " + name
			}
			return key + "_file: " + name
		},
		"comment": comment, "text": scalar, "amount": amountText, "number": bare,
		"paddock": func(name string) string {
			ids[name] = idFor(name, paddocks)
			return ids[name]
		},
		"herd": func(name string) string { return idFor(name, herds) },
		"at":   func(name string) string { return cmp.Or(ids[name], name) },
	}).Parse(farmFile))
	var b bytes.Buffer
	if err := t.Execute(&b, a); err != nil {
		panic(err) // the template is in the binary, and a test writes by it
	}
	return b.Bytes()
}

// idFor makes an id of a name: short, lower case, and nobody else's.
func idFor(name string, used map[string]bool) string {
	var b strings.Builder
	for _, r := range values.Fold(name) {
		if b.Len() < values.LongestAlias && (r >= 'a' && r <= 'z' || r >= '0' && r <= '9') {
			b.WriteRune(r)
		}
	}
	id := b.String()
	if id == "" || values.IsNumber(id) || values.Commands()[id] {
		id = "p" + id
	}
	try, own := id, values.Fold(name)
	for n := 2; used[try] && try != own || used["id "+try]; n++ {
		try = fmt.Sprintf("%.9s_%d", id, n)
	}
	used["id "+try], used[values.Fold(try)] = true, true
	return try
}

var plainScalar = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9]*([ /_][A-Za-z0-9]+)*$`)

// scalar writes text so that YAML reads the same text back.
func scalar(text string) string {
	switch strings.ToLower(text) {
	case "true", "false", "yes", "no", "on", "off", "null", "y", "n":
		return `"` + text + `"`
	}
	if plainScalar.MatchString(text) {
		return text
	}
	return strconv.Quote(strings.ToValidUTF8(text, "\uFFFD")) // every escape of it is one of YAML's
}

var plainAmount = regexp.MustCompile(`^[0-9]{1,6}(\.[0-9]{1,3})?( ?[a-z]+|%|-[0-9]{1,2})$`)

// amountText is a quantity or a day, plain where YAML takes it as it stands.
func amountText(text string) string {
	if plainAmount.MatchString(text) {
		return text
	}
	return scalar(text)
}

// bare writes a number as it is, and anything else as text for the check to
// refuse.
func bare(text string) string {
	if values.IsCount(text) {
		return text
	}
	return scalar(text)
}

// comment is text that stays within one comment line.
func comment(text string) string {
	return values.Clip(strings.Join(strings.Fields(strings.Map(func(r rune) rune {
		if unicode.IsPrint(r) && r != 0xFFFD {
			return r
		}
		return ' '
	}, text)), " "))
}
