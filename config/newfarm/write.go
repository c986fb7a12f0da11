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
	_, err := config.LoadText("answers", data, config.WithoutEnvironment(), config.In(a.Dir))
	wrong, _ := err.(settings.Problems)
	for i := range wrong {
		if wrong[i].File == "answers" {
			wrong[i].Line = 0 // of a file that nobody has seen
		}
	}
	if err != nil {
		return nil, err
	}
	return data, nil
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
		"plants":  plants,
		"comment": comment, "text": scalar, "amount": textUnless(plainAmount.MatchString), "number": textUnless(values.IsCount),
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

var between = regexp.MustCompile(`(?i)\s*(?:,|;|/|&|\band\b|\bor\b)\s*`)

// plants are plants as they are typed, 'johnsongrass and cherry', as a list of YAML.
func plants(text string) string {
	var list []string
	for _, p := range between.Split(text, -1) {
		if f := values.Fold(p); f != "" && f != "none" && f != "no" {
			list = append(list, scalar(p))
		}
	}
	return strings.Join(list, ", ")
}

var plainAmount = regexp.MustCompile(`^[0-9]{1,6}(\.[0-9]{1,3})?( ?[a-z]+|%|-[0-9]{1,2})$`)

// textUnless writes what YAML takes as it stands so, and anything else as text for
// the check to refuse.
func textUnless(plain func(string) bool) func(string) string {
	return func(text string) string {
		if plain(text) {
			return text
		}
		return scalar(text)
	}
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
