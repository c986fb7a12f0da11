package language

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A phrase is what is said, in pieces: plain words, fields, and words that
// follow the number of a field.
type phrase []piece

type piece struct {
	text  string   // plain words
	field string   // what to say here
	forms []string // or the words to say by its number, a form for each plural; # is the number
}

// phrases files the rows of a file of phrases: 'It shuts in {days} {days:day|days}.'
func phrases(to map[string]phrase, l *Language) func(Row) error {
	return func(r Row) error {
		if _, twice := to[r.Name]; twice {
			return fmt.Errorf("stands twice")
		}
		p, err := l.phrase(r)
		to[r.Name] = p
		return err
	}
}

func (l *Language) phrase(r Row) (phrase, error) {
	var p phrase
	rest := strings.ReplaceAll(r.Text, `\n`, "\n")
	for rest != "" {
		plain, behind, found := strings.Cut(rest, "{")
		if plain != "" {
			p = append(p, piece{text: plain})
		}
		if !found {
			break
		}
		field, after, closed := strings.Cut(behind, "}")
		if !closed {
			return nil, fmt.Errorf("%q is not closed", "{"+field)
		}
		name, forms, counts := strings.Cut(field, ":")
		one := piece{field: name}
		if counts {
			one.forms = strings.Split(forms, "|")
			if len(one.forms) != len(l.plural) {
				return nil, fmt.Errorf("%q has %d forms, the language %d", field, len(one.forms), len(l.plural))
			}
		}
		p, rest = append(p, one), after
	}
	return p, nil
}

// Has reports whether there is a phrase of a name: for names made from words
// that come from outside.
func (l *Language) Has(name string) bool {
	_, ok := l.said[name]
	return ok
}

// Say is a phrase with its fields, given in pairs of name and value. A value is
// a string, or a whole number.
func (l *Language) Say(name string, fields ...any) string {
	return l.fill(l.said, name, fields)
}

// Write is Say of what stands on paper and on the board; a language without such
// a phrase has the default one's.
func (l *Language) Write(name string, fields ...any) string {
	if _, ok := l.page[name]; !ok {
		return All()[0].fill(All()[0].page, name, fields)
	}
	return l.fill(l.page, name, fields)
}

// fill fills the fields of a phrase.
func (l *Language) fill(from map[string]phrase, name string, fields []any) string {
	var b strings.Builder
	p, ok := from[name]
	if !ok {
		return "{" + name + "}"
	}
	for _, one := range p {
		if one.field == "" {
			b.WriteString(one.text)
			continue
		}
		switch x := value(fields, one.field).(type) {
		case string:
			b.WriteString(x)
		case int:
			if one.forms != nil {
				b.WriteString(strings.ReplaceAll(one.forms[l.formOf(x)], "#", l.Number(float64(x), 0)))
				continue
			}
			b.WriteString(l.Number(float64(x), 0))
		default: // seen by whoever reads it: the tests hold phrases against what they are given
			b.WriteString("{" + one.field + "}")
		}
	}
	return b.String()
}

// OfStock is the language as it speaks to a farm whose animals are not all cattle.
// What people may text stays as it is.
func (l *Language) OfStock() *Language {
	if l.cattle == "" {
		return l
	}
	other := *l
	other.said = make(map[string]phrase, len(l.said))
	for name, p := range l.said {
		if name != l.cattle {
			p = slices.Clone(p)
			for i := range p {
				p[i].text = strings.ReplaceAll(strings.ReplaceAll(p[i].text, l.cattle, l.stock), upper(l.cattle), upper(l.stock))
			}
		}
		other.said[name] = p
	}
	return &other
}

// upper is a word as it begins a sentence.
func upper(word string) string {
	r, n := utf8.DecodeRuneInString(word)
	return string(unicode.ToUpper(r)) + word[n:]
}

// value is that of a field; nil where it was not given.
func value(fields []any, name string) any {
	for i := 0; i+1 < len(fields); i += 2 {
		if fields[i] == name {
			return fields[i+1]
		}
	}
	return nil
}

// Fields lists what each phrase names: 'days', and 'days:' where a word follows
// its number.
func (l *Language) Fields() map[string][]string { return fieldsOf(l.said) }

// PageFields is Fields of what stands on paper and on the board.
func (l *Language) PageFields() map[string][]string { return fieldsOf(l.page) }

func fieldsOf(said map[string]phrase) map[string][]string {
	all := make(map[string][]string, len(said))
	for name, p := range said {
		all[name] = nil
		for _, one := range p {
			field := one.field
			if one.forms != nil {
				field += ":"
			}
			if field != "" && !slices.Contains(all[name], field) {
				all[name] = append(all[name], field)
			}
		}
	}
	return all
}

// A form of words is for the numbers listed: 1, or ..1 for all that end in 1.
type form struct{ is, not []string }

// formsOf reads 'plural: 1 | ..2 ..3 ..4 not ..12 ..13 ..14 | other'.
func formsOf(text string) []form {
	var list []form
	for one := range strings.SplitSeq(text, "|") {
		is, not, _ := strings.Cut(one, " not ")
		list = append(list, form{strings.Fields(is), strings.Fields(not)})
	}
	return list
}

// formOf is the place of the form that a number takes; the last is for others.
func (l *Language) formOf(n int) int {
	s := strconv.Itoa(n)
	has := func(list []string) bool {
		return slices.ContainsFunc(list, func(x string) bool {
			ending, open := strings.CutPrefix(x, "..")
			return s == x || open && strings.HasSuffix(s, ending)
		})
	}
	for i, f := range l.plural {
		if has(f.is) && !has(f.not) {
			return i
		}
	}
	return len(l.plural) - 1
}

// marks reads how a number is written: '1,234.5'.
func (l *Language) marks(sample string) error {
	group, point, ok := strings.Cut(strings.TrimSuffix(strings.TrimPrefix(sample, "1"), "5"), "234")
	if !ok {
		return fmt.Errorf("want it like 1,234.5, got %q", sample)
	}
	l.group, l.point = group, point
	return nil
}

// Number is a number without needless digits.
func (l *Language) Number(x float64, decimals int) string {
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	whole, part, _ := strings.Cut(s, ".")
	sign := ""
	if strings.HasPrefix(whole, "-") {
		sign, whole = "-", whole[1:]
	}
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + l.group + whole[i:]
	}
	if part = strings.TrimRight(part, "0"); part != "" {
		part = l.point + part
	}
	if whole+part == "0" {
		sign = ""
	}
	return sign + whole + part
}
