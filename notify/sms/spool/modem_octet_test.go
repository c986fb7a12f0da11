package spool

import (
	"strings"

	"stubbled/notify/gsm"
)

// octets reads a PDU from the front; short is set where it ended too early.
type octets struct {
	b     []byte
	short bool
}

func (o *octets) next() byte {
	if len(o.b) == 0 {
		o.short = true
		return 0
	}
	v := o.b[0]
	o.b = o.b[1:]
	return v
}

func (o *octets) skip(n int) []byte {
	if n > len(o.b) {
		o.short = true
		n = len(o.b)
	}
	v := o.b[:n]
	o.b = o.b[n:]
	return v
}

func (o *octets) rest() []byte { return o.b }

// address reads an address field (TS 23.040 section 9.1.2.5): the number of
// digits, the type, the digits with their halves swapped.
func (o *octets) address() string {
	digits := int(o.next())
	kind := o.next()
	raw := o.skip((digits + 1) / 2)
	if kind>>4&0x07 == 5 {
		return gsm.Decode(unpack(raw, digits*4/7))
	}
	var s strings.Builder
	if kind>>4&0x07 == 1 {
		s.WriteByte('+')
	}
	for i := range digits {
		if i/2 >= len(raw) {
			break
		}
		half := raw[i/2] & 0x0F
		if i%2 == 1 {
			half = raw[i/2] >> 4
		}
		s.WriteByte("0123456789*#abc"[min(half, 14)])
	}
	return s.String()
}

// address writes an address field: international with a plus, national
// without, alphanumeric where it is no number.
func address(number string) []byte {
	digits, international := strings.CutPrefix(number, "+")
	kind := byte(0x81)
	if international {
		kind = 0x91
	}
	if strings.Trim(digits, "0123456789") != "" {
		septets, _ := septetsOf(number)
		data := pack(septets)
		return append([]byte{byte(len(septets)*7+3) / 4, 0xD0}, data...)
	}
	out := []byte{byte(len(digits)), kind}
	for i := 0; i < len(digits); i += 2 {
		high := byte(0x0F)
		if i+1 < len(digits) {
			high = digits[i+1] - '0'
		}
		out = append(out, high<<4|(digits[i]-'0'))
	}
	return out
}

// pack and unpack are the septets of TS 23.038 section 6.1.2.1.1.
func pack(septets []byte) []byte {
	out := make([]byte, (len(septets)*7+7)/8)
	for i, s := range septets {
		bit := i * 7
		out[bit/8] |= s << (bit % 8)
		if bit%8 > 1 {
			out[bit/8+1] |= s >> (8 - bit%8)
		}
	}
	return out
}

func unpack(data []byte, n int) []byte {
	out := make([]byte, 0, n)
	for i := range n {
		bit := i * 7
		if bit/8 >= len(data) {
			break
		}
		v := data[bit/8] >> (bit % 8)
		if bit%8 > 1 && bit/8+1 < len(data) {
			v |= data[bit/8+1] << (8 - bit%8)
		}
		out = append(out, v&0x7F)
	}
	return out
}
