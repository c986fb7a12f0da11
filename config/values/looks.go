package values

import (
	"fmt"
	"net"
	"net/mail"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"github.com/nyaruka/phonenumbers"
)

// looks reads text, brought to one form, that must look like something.
func looks(want string, form func(string) string, like func(string) bool) func(string) (string, error) {
	return func(text string) (string, error) {
		v := form(text)
		if !like(v) {
			return "", fmt.Errorf("want %s, got %q", want, Clip(text))
		}
		return v, nil
	}
}

func upper(text string) string { return strings.ToUpper(strings.TrimSpace(text)) }

// Text that is known by its looks.
var (
	// ParseHeader reads the name of a header.
	ParseHeader = looks("the name of a header such as Idempotency-Key", strings.Clone, regexp.MustCompile(`^[A-Za-z0-9-]{1,64}$`).MatchString)

	station = looks("a weather station's identifier such as KQFK", upper, regexp.MustCompile(`^[A-Z0-9]{3,8}$`).MatchString)
	// wholePath is a file or folder that is the machine's, not the farm's.
	wholePath = looks("the whole path, such as /var/spool/stubbled-sms", filepath.Clean, filepath.IsAbs)
	// region is a country by its two letters (ISO 3166-1).
	region = looks("the two letters of a country whose national numbers are read, such as US or CA", upper,
		func(r string) bool { return phonenumbers.GetSupportedRegions()[r] })
	webPath = looks("a path such as /sms", strings.Clone, func(p string) bool { return strings.HasPrefix(p, "/") && !strings.ContainsAny(p, "?# ") })
	host    = looks("a server's name such as smtp.example.org, without port or address", strings.Clone,
		func(h string) bool {
			return !strings.ContainsAny(h, " /@\\") && (!strings.Contains(h, ":") || net.ParseIP(h) != nil)
		})
	listen = looks("host and port such as 127.0.0.1:8825", strings.ToLower, func(at string) bool {
		_, port, err := net.SplitHostPort(at)
		n, numErr := strconv.Atoi(port)
		return err == nil && numErr == nil && n >= 1 && n <= 65535
	})
	role = looks("manager, owner, helper, or a word of your own", func(text string) string { return strings.ToLower(strings.Join(strings.Fields(text), " ")) },
		func(r string) bool { return Fold(r) != "" && len(r) <= longestPerson })
	email = looks("a mail address such as ana@example.org", strings.TrimSpace, func(text string) bool {
		a, err := mail.ParseAddress(text)
		return err == nil && a.Name == "" && a.Address == text && strings.Contains(a.Address[strings.LastIndexByte(a.Address, '@')+1:], ".") && len(a.Address) <= 254
	})
)
