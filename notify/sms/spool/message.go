package spool

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"stubbled/notify/gsm"
)

// maxFile bounds a spool file; the longest text that smsd joins together is
// 255 parts of 153 characters (3GPP TS 23.040 section 9.2.3.24.1).
const maxFile = 128 << 10

// A message is a file of the spool: headers, an empty line, the text. The
// format is described in smstools' fileformat.html.
type message struct {
	headers map[string]string
	text    string
	chars   int // of the text as smsd counts them for its Length header
}

// header gives a header's value, empty where it is missing.
func (m message) header(name string) string { return m.headers[name] }

// short reports whether the file ends before the text does: smsd writes into
// the folder in place, without a lock.
func (m message) short() bool {
	want, err := strconv.Atoi(m.header("Length"))
	return err == nil && m.chars < want
}

// parse reads a spool file. Headers are case-sensitive, as smsd has them; of
// two of one name the first stays.
func parse(file []byte) (message, error) {
	m := message{headers: map[string]string{}}
	rest := file
	for {
		line, after, found := bytes.Cut(rest, []byte("\n"))
		if line = bytes.TrimSuffix(line, []byte("\r")); len(line) == 0 && found {
			rest = after
			break
		}
		if !found {
			return m, errors.New("the file ends within its headers")
		}
		name, value, ok := bytes.Cut(line, []byte(":"))
		if !ok || len(name) > 40 || bytes.ContainsAny(name, " \t\x00") {
			return m, fmt.Errorf("no header line: %.20q", line)
		}
		if _, twice := m.headers[string(name)]; !twice {
			m.headers[string(name)] = strings.TrimSpace(toUTF8(value))
		}
		rest = after
	}
	var err error
	m.text, m.chars, err = decode(rest, m.header("Alphabet"))
	return m, err
}

// errBinary is a message that holds no text: a picture message's notice, a
// setting from the network.
var errBinary = errors.New("it is no text but binary data")

// decode reads a body. Of an alphabet's name smsd looks at three letters.
func decode(body []byte, alphabet string) (text string, chars int, err error) {
	switch key := strings.ToUpper(alphabet[:min(3, len(alphabet))]); key {
	case "BIN":
		return "", 0, errBinary
	case "GSM":
		return gsm.Decode(body), len(body), nil
	case "UCS", "CHI", "UNI":
		units := len(body) / 2
		whole, err := ucs2.NewDecoder().Bytes(body[:2*units])
		return string(whole), units, err
	case "UTF":
		text = strings.ToValidUTF8(string(body), "\uFFFD")
	case "", "ISO", "LAT", "ANS":
		text = toUTF8(body)
	default:
		return "", 0, fmt.Errorf("its alphabet is %.20q, which nobody here can read", alphabet)
	}
	return text, utf8.RuneCountInString(text), nil
}

// toUTF8 reads ISO 8859-15, smsd's own alphabet, or UTF-8 where it is that.
func toUTF8(b []byte) string {
	if utf8.Valid(b) {
		return string(b)
	}
	out, _ := charmap.ISO8859_15.NewDecoder().Bytes(b) // which knows every byte
	return string(out)
}

// ucs2 is what the networks call UTF-16.
var ucs2 = unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM)

// encode chooses how a text travels to smsd: ISO 8859-15 where it fits; UTF-8
// where the network's own alphabet has it all the same, so that smsd keeps it
// in 7 bits; UCS-2 otherwise. The generic currency sign goes in UCS-2, since
// smsd 3.1.21 makes a euro of it.
func encode(text string) (alphabet string, body []byte) {
	if !gsm.Has(text) || strings.ContainsRune(text, '¤') {
		wide, _ := ucs2.NewEncoder().Bytes([]byte(text)) // it has every character
		return "UCS", wide
	}
	latin, err := charmap.ISO8859_15.NewEncoder().Bytes([]byte(text))
	if err != nil || looksUTF8(latin) {
		return "UTF-8", []byte(text)
	}
	return "ISO", latin
}

// looksUTF8 reports whether two bytes of a text could be one character of
// UTF-8: smsd takes them for that, whatever stands around them.
func looksUTF8(latin []byte) bool {
	for i := 0; i+1 < len(latin); i++ {
		if latin[i] >= 0xC2 && latin[i+1] >= 0x80 && latin[i+1] < 0xC0 {
			return true
		}
	}
	return false
}
