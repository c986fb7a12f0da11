package values

import (
	"fmt"
	"net"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"stubbled/notify/terms"
)

// oneOf reads one of a few words, brought to the form in which they are known.
func oneOf(form func(string) string, known []string) func(string) (string, error) {
	return func(text string) (string, error) {
		if v := form(strings.TrimSpace(text)); slices.Contains(known, v) {
			return v, nil
		}
		return "", fmt.Errorf("want %s, got %q%s", strings.Join(known[:len(known)-1], ", ")+" or "+known[len(known)-1], Clip(text), OrOneOf(text, known))
	}
}

// parseURL reads an address without secrets in it. Plain http is for this
// machine only.
func parseURL(text string) (string, error) {
	u, err := url.Parse(text)
	if err != nil || u.Host == "" || u.Scheme != "https" && u.Scheme != "http" {
		return "", fmt.Errorf("want an address such as https://sms.example.org/messages, got %q", Clip(text))
	}
	if u.User != nil {
		return "", fmt.Errorf("holds a user or password; secrets don't belong in the farm file: write auth: {kind: basic, user: ..., secret_file: ...}")
	}
	for name := range u.Query() {
		if SecretName(name) {
			return "", fmt.Errorf("holds %q; secrets don't belong in the farm file: write auth with secret_file or secret_credential", name)
		}
	}
	if u.Scheme == "http" && !Loopback(u.Hostname()) {
		return "", fmt.Errorf("want https, since plain http would show every text and password on the way, got %q", Clip(text))
	}
	return text, nil
}

var rate = regexp.MustCompile(`^([0-9]{1,4}) per (?:([0-9]{1,4}) ?)?(s|second|seconds|min|minute|minutes|h|hour|hours)$`)

// parseRate reads how many messages may go in a time, and gives the least time
// between two.
func parseRate(text string) (time.Duration, error) {
	part := rate.FindStringSubmatch(strings.TrimSpace(text))
	if part == nil {
		return 0, fmt.Errorf(`want a rate such as "1 per second" or "1 per 5 s", got %q`, Clip(text))
	}
	n, _ := strconv.Atoi(part[1])
	per := 1
	if part[2] != "" {
		per, _ = strconv.Atoi(part[2])
	}
	if n == 0 || per == 0 {
		return 0, fmt.Errorf("a rate of %q would never send; want one such as \"1 per second\"", text)
	}
	unit := time.Duration(spans.units[part[3]] * float64(time.Second))
	return time.Duration(per) * unit / time.Duration(n), nil
}

// Loopback reports whether a host is this machine itself.
func Loopback(host string) bool {
	if strings.EqualFold(host, "localhost") {
		return true
	}
	ip := net.ParseIP(host)
	return ip != nil && ip.IsLoopback()
}

// signedNames are what a signed text may name.
var signedNames = []string{"{timestamp}", "{body}", "{nonce}", "{method}", "{url}"}

var inBraces = regexp.MustCompile(`\{[^{}]*\}?`)

func parseSigned(text string) (string, error) {
	for _, name := range inBraces.FindAllString(text, -1) {
		if !slices.Contains(signedNames, name) {
			return "", fmt.Errorf("want %s in what is signed, got %q%s", strings.Join(signedNames, ", "), Clip(name), OrOneOf(name, signedNames))
		}
	}
	if strings.Count(text, "{body}") != 1 || !strings.Contains(text, "{timestamp}") {
		return "", fmt.Errorf(`want {body} once and {timestamp} in what is signed, such as "{timestamp}.{body}", got %q`, Clip(text))
	}
	return text, nil
}

// parsePublicURL reads an address that others call. What stands behind a
// question mark comes with each call.
func parsePublicURL(text string) (string, error) {
	address, err := parseURL(text)
	if err == nil && strings.ContainsAny(text, "?#") {
		return "", fmt.Errorf("want the address without ? and what is behind it, got %q", Clip(text))
	}
	return address, err
}

// secretKeys are what a secret is called by those who would write it here.
var secretKeys = []string{"password", "passwd", "pass", "pwd", "secret", "token", "auth_token", "api_key", "apikey", "key", "bearer"}

// SecretName reports whether a key is what a secret is called.
func SecretName(key string) bool {
	k := strings.ReplaceAll(strings.ToLower(key), "-", "_")
	return slices.ContainsFunc(secretKeys, func(bad string) bool { return k == bad || strings.HasSuffix(k, "_"+bad) })
}

// orElse takes a word of its own for a value that stands for it.
func orElse[T any](word string, stands T, parse func(string) (T, error)) func(string) (T, error) {
	return func(text string) (T, error) {
		if strings.EqualFold(strings.TrimSpace(text), word) {
			return stands, nil
		}
		v, err := parse(text)
		if err != nil {
			want, got, _ := strings.Cut(err.Error(), ", got ")
			return v, fmt.Errorf("%s, or %s, got %s", want, word, got)
		}
		return v, nil
	}
}

func parseUnit(text string) (string, error) {
	switch unit := strings.ToUpper(strings.TrimSpace(text)); unit {
	case "F", "C":
		return unit, nil
	case "FAHRENHEIT", "CELSIUS":
		return "", fmt.Errorf("want F or C, got %q; did you mean %q?", text, unit[:1])
	}
	return "", fmt.Errorf("want F or C, got %q", Clip(text))
}

func parsePoint(text string) (terms.Point, error) {
	a, b, ok := strings.Cut(text, ",")
	lat, errA := strconv.ParseFloat(strings.TrimSpace(a), 64)
	lon, errB := strconv.ParseFloat(strings.TrimSpace(b), 64)
	if !ok || errA != nil || errB != nil || !(lat >= -90 && lat <= 90) || !(lon >= -180 && lon <= 180) {
		return terms.Point{}, fmt.Errorf(`want latitude and longitude in degrees, such as "40.00, -100.00", got %q`, Clip(text))
	}
	return terms.Point{Lat: lat, Lon: lon}, nil
}
