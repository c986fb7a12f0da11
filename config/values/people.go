package values

import (
	"fmt"
	"strings"

	"github.com/nyaruka/phonenumbers"

	"stubbled/notify/language"
)

const longestPerson = 40 // Septets

// parsePerson reads a name that can stand before a colon and in a text.
func parsePerson(text string) (string, error) {
	name := strings.Join(strings.Fields(text), " ")
	switch n, err := Septets(name); {
	case err != nil:
		return "", err
	case Fold(name) == "":
		return "", fmt.Errorf("%q has no letter", Clip(text))
	case strings.ContainsAny(name, ":/[]"):
		return "", fmt.Errorf("%q holds one of : / [ ] which stand between names; leave it out", Clip(text))
	case n > longestPerson:
		return "", fmt.Errorf("%q takes %d characters of a text; want at most %d", Clip(text), n, longestPerson)
	}
	return name, nil
}

// parsePhone reads a number in its international form, which can exist.
func parsePhone(text string) (string, error) {
	bare := strings.TrimSpace(text)
	if !strings.HasPrefix(bare, "+") || strings.Trim(bare, "+0123456789 ()-.") != "" {
		return "", fmt.Errorf(`want the number with + and the country code, in quotes, such as "+15555550142", got %q%s`, Clip(text), DidYouMean(WithCountry(bare)))
	}
	n, err := phonenumbers.Parse(bare, "ZZ")
	if err != nil || !phonenumbers.IsPossibleNumber(n) {
		return "", fmt.Errorf(`no phone can have the number %q; want one such as "+15555550142"`, Clip(text))
	}
	return phonenumbers.Format(n, phonenumbers.E164), nil
}

// InTable reports whether the numbering tables know a number. Real numbers can
// be newer than the tables.
func InTable(phone string) bool {
	n, err := phonenumbers.Parse(phone, "ZZ")
	return err == nil && phonenumbers.IsValidNumber(n)
}

// Costs says why texts and calls to a number cost far more than others; empty for
// an ordinary one. The codes are those of ITU-T E.164: 870 and 881 are satellites,
// 882 and 883 networks of no country, and 979 premium rates of all.
func Costs(phone string) string {
	n, err := phonenumbers.Parse(phone, "ZZ")
	if err != nil {
		return ""
	}
	switch n.GetCountryCode() {
	case 870, 881, 882, 883:
		return "is a satellite or worldwide number: each text and call may cost dollars, and many services cannot reach it"
	}
	switch phonenumbers.GetNumberType(n) {
	case phonenumbers.PREMIUM_RATE:
		return "is a premium-rate number: each text and call may cost dollars, and nobody's phone has one"
	case phonenumbers.SHARED_COST:
		return "is a shared-cost number: texts rarely reach it, and may cost more"
	}
	return ""
}

// WithCountry is the international form of an American number that lacks it;
// empty where that isn't clear.
func WithCountry(text string) string {
	digits := strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, text)
	switch {
	case len(digits) == 10:
		return "+1" + digits
	case len(digits) == 11 && digits[0] == '1':
		return "+" + digits
	}
	return ""
}

func parseLanguage(text string) (string, error) {
	want := strings.Join(language.Tags(), " or ")
	switch l := language.Lookup(text); {
	case l == nil:
		return "", fmt.Errorf("want %s, got %q", want, Clip(text))
	case !strings.EqualFold(strings.TrimSpace(text), l.Tag):
		return "", fmt.Errorf("want %s, got %q; did you mean %q?", want, text, l.Tag)
	default:
		return l.Tag, nil
	}
}
