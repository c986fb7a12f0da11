package spool

import "stubbled/notify/gsm"

const escape = 0x1B

// Alphabet is every character that a text message can carry in 7 bits, in the
// order of the standard; septets is what each is sent as, one a byte.
var Alphabet, septets = func() (alphabet string, septets map[rune][]byte) {
	septets = map[rune][]byte{}
	for _, lead := range [][]byte{nil, {escape}} {
		for b := range byte(0x80) {
			code := append(lead[:len(lead):len(lead)], b)
			r := []rune(gsm.Decode(code))[0]
			if _, known := septets[r]; b != escape && !known {
				alphabet, septets[r] = alphabet+string(r), code
			}
		}
	}
	return alphabet, septets
}()

// septetsOf reports false where the alphabet lacks a character.
func septetsOf(s string) (out []byte, ok bool) {
	for _, r := range s {
		code, ok := septets[r]
		if !ok {
			return nil, false
		}
		out = append(out, code...)
	}
	return out, true
}
