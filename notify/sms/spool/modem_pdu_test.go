package spool

import (
	"encoding/hex"
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode/utf16"

	"stubbled/notify/gsm"
)

// A Submit is one message part that the modem was told to send.
type Submit struct {
	To        string // E.164 with its plus where the number is international
	Text      string
	Reference byte // of the message, given by the modem
	Report    bool // a status report was asked for
	UCS2      bool
	// Concat, Total and Part tell a part of a long message; Total is 0 for a
	// short one.
	Concat, Total, Part int
}

// decodeSubmit reads an SMS-SUBMIT with the service centre before it, as 3GPP
// TS 23.040 section 9.2.2.2 and TS 27.005 have it.
func decodeSubmit(line string) (Submit, error) {
	raw, err := hex.DecodeString(strings.TrimSpace(line))
	if err != nil {
		return Submit{}, fmt.Errorf("a PDU that is not hexadecimal: %w", err)
	}
	r := &octets{b: raw}
	r.skip(int(r.next())) // service centre
	first := r.next()
	if first&0x03 != 0x01 {
		return Submit{}, fmt.Errorf("first octet %#x is no SMS-SUBMIT", first)
	}
	r.next() // reference, chosen by the modem
	s := Submit{To: r.address(), Report: first&0x20 != 0}
	r.next() // protocol
	coding := r.next()
	switch first >> 3 & 0x03 { // validity period format
	case 2:
		r.skip(1)
	case 1, 3:
		r.skip(7)
	}
	length := int(r.next())
	if r.short {
		return Submit{}, errors.New("the PDU ends before its text")
	}
	s.UCS2 = coding&0x0C == 0x08
	return s, s.userData(r.rest(), length, first&0x40 != 0)
}

// userData fills in the text and the place in a long message.
func (s *Submit) userData(data []byte, length int, header bool) error {
	head := 0
	if header {
		if len(data) == 0 || len(data) < int(data[0])+1 {
			return errors.New("the user data header is longer than the user data")
		}
		head = int(data[0]) + 1
		s.concat(data[1:head])
	}
	if s.UCS2 {
		if len(data) != length {
			return fmt.Errorf("%d octets of user data announced, %d came", length, len(data))
		}
		s.Text = fromUCS2(data[head:])
		return nil
	}
	if len(data) != (length*7+7)/8 {
		return fmt.Errorf("%d septets of user data announced, %d octets came", length, len(data))
	}
	s.Text = gsm.Decode(unpack(data, length)[(head*8+6)/7:])
	return nil
}

func (s *Submit) concat(elements []byte) {
	for len(elements) >= 2 && len(elements) >= int(elements[1])+2 {
		kind, size := elements[0], int(elements[1])
		value := elements[2 : 2+size]
		switch {
		case kind == 0x00 && size == 3:
			s.Concat, s.Total, s.Part = int(value[0]), int(value[1]), int(value[2])
		case kind == 0x08 && size == 4:
			s.Concat, s.Total, s.Part = int(value[0])<<8|int(value[1]), int(value[2]), int(value[3])
		}
		elements = elements[2+size:]
	}
}

// encodeDeliver makes an SMS-DELIVER with the service centre before it
// (TS 23.040 section 9.2.2.1). It returns the hexadecimal PDU and its length
// without the service centre, as AT+CMGR tells it.
func encodeDeliver(from, text string, at time.Time, header []byte) (string, int) {
	first := byte(0x04) // no more messages wait
	var head []byte
	if len(header) > 0 {
		first |= 0x40
		head = append([]byte{byte(len(header))}, header...)
	}
	tpdu := append([]byte{first}, address(from)...)
	if septets, ok := septetsOf(text); ok {
		lead := (len(head)*8 + 6) / 7
		data := pack(append(make([]byte, lead), septets...))
		copy(data, head)
		tpdu = append(tpdu, 0x00, 0x00)
		tpdu = append(tpdu, stamp(at)...)
		tpdu = append(tpdu, byte(lead+len(septets)))
		tpdu = append(tpdu, data...)
	} else {
		data := append(head, toUCS2(text)...)
		tpdu = append(tpdu, 0x00, 0x08)
		tpdu = append(tpdu, stamp(at)...)
		tpdu = append(tpdu, byte(len(data)))
		tpdu = append(tpdu, data...)
	}
	return withCentre(tpdu)
}

// encodeReport makes an SMS-STATUS-REPORT (TS 23.040 section 9.2.2.3).
func encodeReport(reference byte, to string, sent, discharged time.Time, status byte) (string, int) {
	tpdu := append([]byte{0x06, reference}, address(to)...)
	tpdu = append(tpdu, stamp(sent)...)
	tpdu = append(tpdu, stamp(discharged)...)
	return withCentre(append(tpdu, status))
}

func withCentre(tpdu []byte) (string, int) {
	centre := address(serviceCentre)[1:] // octets, not digits
	full := append([]byte{byte(len(centre))}, centre...)
	return strings.ToUpper(hex.EncodeToString(append(full, tpdu...))), len(tpdu)
}

// stamp is a service centre time stamp (TS 23.040 section 9.2.3.11): swapped
// digits, the zone in quarters of an hour.
func stamp(t time.Time) []byte {
	_, offset := t.Zone()
	quarters := offset / 900
	sign := byte(0)
	if quarters < 0 {
		quarters, sign = -quarters, 0x08
	}
	var out []byte
	for _, v := range []int{t.Year() % 100, int(t.Month()), t.Day(), t.Hour(), t.Minute(), t.Second(), quarters} {
		out = append(out, byte(v%10)<<4|byte(v/10))
	}
	out[6] |= sign
	return out
}

func toUCS2(s string) []byte {
	var out []byte
	for _, u := range utf16.Encode([]rune(s)) {
		out = append(out, byte(u>>8), byte(u))
	}
	return out
}

func fromUCS2(b []byte) string {
	var units []uint16
	for i := 0; i+1 < len(b); i += 2 {
		units = append(units, uint16(b[i])<<8|uint16(b[i+1]))
	}
	return string(utf16.Decode(units))
}
